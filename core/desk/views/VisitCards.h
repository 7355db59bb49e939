#pragma once
// What one visit's card says, the same in the week and in the day.
#include "core/desk/views/WeekBoard.h"

namespace kitround::desk {

// Without its place in a duty (start, end, travel): the boards add that.
VisitCard visitCard(const WeekPicture &week, std::int32_t job);
// With its times as the duty has them.
VisitCard placedCard(const WeekPicture &week, const rounds::DutyTimes::Stop &stop, std::int32_t duty);
// Done, missed, called off, or published for a day gone by and not recorded; no later than today: to see, not
// to plan. All of the days shown; then the cards of one nurse's day, in start order.
std::vector<const Visit *> visitsOver(const WeekPicture &week, DateRange shown);
std::vector<VisitCard> pastCards(const WeekPicture &week, const std::vector<const Visit *> &over,
                                 NurseId nurse, Date on);
// The hard rules that one visit breaks where it stands, in words; of the whole plan without a job. None of
// what has begun: nobody can mend that any more. Publishing waits for those of the plan.
QStringList brokenRules(const WeekPicture &week, std::int32_t job = -1);
NurseId nurseOfDuty(const WeekPicture &week, std::int32_t duty);
Date dayOfDuty(const WeekPicture &week, std::int32_t duty);
// -1 where the nurse has no duty on that day.
std::int32_t dutyOf(const WeekPicture &week, NurseId nurse, Date on);
QString nurseNameIn(const WeekPicture &week, NurseId nurse);
// The holiday's name, or nothing.
QString dayNote(Date on);
// "leave", "sick", ... where time off covers the day; else empty.
QString absenceOn(const Snapshot &agency, NurseId nurse, Date on);

} // namespace kitround::desk
