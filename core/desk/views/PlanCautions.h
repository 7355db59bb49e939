#pragma once
// What a plan asks too much of: of its nurses, where a round begins before the rest after a turn on call or a
// late shift is over, or a week is over full; of a home, where two nurses are there at once for visits that
// are not ordered to meet. A caution: who publishes decides. Pure.
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
// "two nurses at once: Marsh, Owen is there 11:00 to 12:19"; empty where the visit meets no other.
QString meetingText(const WeekPicture &week, const rounds::WeekPlan &plan, std::int32_t job);
// Said before the plan is published, a sentence each: rests first, then homes where two meet, then who is
// over full, then homes whose driving is a guess.
QStringList publishCautions(const WeekPicture &week);

} // namespace kitround::desk
