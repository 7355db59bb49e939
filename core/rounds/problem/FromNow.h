#pragma once
// What is given a new place today starts no sooner than the nurse can be told and drive there: now, the lead,
// and the way from where she is by then. What people were told already stays possible at its time, and a
// nurse who is on the road to it, or has to leave before she could be told otherwise, goes on as she was
// told.
#include "core/rounds/problem/CostModel.h"

namespace kitround::rounds {

// The job's times that day, none before `from`; where its hard times are all over, none is left: false.
bool keepNotBefore(std::vector<TimeWindow> &windows, Minute from, Minute clockEnd);

// `problem` as it goes on from its `nowDay` and `now`, for a search; the same where the days do not hold
// today. `told`: the problem with the places people were told; `standing`: the plan in hand. Same duties and
// jobs.
WeekProblem goingOnFromNow(WeekProblem problem, const WeekProblem &told, const WeekPlan &standing);

// When the job can start at the soonest on its duty, behind the stop before it in the plan, where two go by
// the later of them; 0 where it has a day to come, has begun, or all who go were told of this place.
// Precondition: it is placed.
Minute soonestStart(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job);

// Visits of today, of a draft mostly, that start before anybody can be there: nobody was told of them, nor
// did somebody agree on their time, and now it is too late to tell and drive.
std::vector<std::int32_t> outOfReach(const WeekProblem &problem, const WeekPlan &plan);

} // namespace kitround::rounds
