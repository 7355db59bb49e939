#pragma once
// What a plan asks too much of its nurses: a round that begins before the rest after a turn on call or a late
// shift is over, and weeks over full. A caution: who publishes decides. Pure.
#include "core/desk/views/WeekView.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace kitround::desk {

// Over a day of the week; both empty where there is nothing to mind.
struct DayMark {
    QString mark; // "short rest"
    QString tip;  // who, and how long it is
};
std::vector<DayMark> dayMarks(const WeekPicture &week, DateRange shown); // by day
// Said before the plan is published, a sentence each: rests first, then who is over full.
QStringList publishCautions(const WeekPicture &week);

} // namespace kitround::desk
