#pragma once
// How a visit without a place may get one all the same: each way with the one thing that has to be changed
// for it, and where.
#include "core/desk/views/WeekBoard.h"
#include "core/desk/words/Reasons.h"

namespace kitround::desk {

// At most three, the cheapest first, and different kinds where there are some. Ways that ask for the same
// change are told once; those that nothing on record could open (a day on which the visit is not owed, the
// home is on hold, the agency is closed) are none.
std::vector<Suggestion> waysOutOf(const WeekPicture &week, std::int32_t job, CostSaid said = CostSaid::InTip);
// A place, its price in the tip. `start` -1: at no certain time.
Suggestion suggestionOf(const WeekPicture &week, std::int32_t duty, rounds::Minute start, double cost);
// Between two whole totals, as the head tells them: the button, its tip and the foot say the same figure.
QString addedToPlan(const WeekPicture &week, double cost);

} // namespace kitround::desk
