#pragma once
// What a mended plan asks of the nurses who get visits by it: their share of the week and their overtime,
// before it is taken. Pure.
#include "core/desk/views/WeekView.h"

#include <QString>

#include <vector>

namespace kitround::desk {

struct TakerLoad {
    NurseId nurse;
    QString text; // "Marsh, Owen gets 2 visits: 102 %, over full (before: 78 %, usual); 35 min overtime."
    bool isOverFull = false;
};
// A line for each nurse and week in which she gets visits she did not have; those over full first.
std::vector<TakerLoad> loadsOfTakers(const WeekPicture &before, const WeekPicture &after);

} // namespace kitround::desk
