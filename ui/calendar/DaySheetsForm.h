#pragma once
// Which day sheets are wanted: of a day or of all days, of a nurse or of everybody.
#include "core/base/Date.h"
#include "core/records/Ids.h"

#include <optional>
#include <vector>

class QWidget;

namespace kitround::ui {

class Session;

struct SheetsWanted {
    std::optional<Date> on;       // nothing: all the days that were offered
    std::optional<NurseId> nurse; // nothing: everybody
};
// Of these days, the first to begin with. Nothing where the person leaves it.
std::optional<SheetsWanted> askDaySheets(QWidget *window, Session &session, const std::vector<Date> &days);

} // namespace kitround::ui
