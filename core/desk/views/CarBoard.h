#pragma once
// What each nurse's car carries against its par, and what went from it to homes.
#include "core/desk/Desk.h"
#include "core/supply/CarStock.h"

#include <QString>

#include <vector>

namespace kitround::desk {

inline constexpr Days kCarUseDays = Days::of(28);

struct CarRow {
    supply::CarLine line;
    QString nurse, item, standing; // standing: "at par", "2 below par", "3 short-dated", "no par set"
    Eaches used;                   // handed over from the car's own stock within kCarUseDays
};
// By nurse, then item. Reads the cars' movements.
Result<std::vector<CarRow>> carRows(Desk &desk);

} // namespace kitround::desk
