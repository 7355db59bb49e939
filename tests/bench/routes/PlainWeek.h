#pragma once
// What the readers share in building a week: a problem without any of an agency's costs but travel, and
// places from a table of distances.
#include "core/rounds/problem/WeekProblem.h"

#include <functional>

namespace kitround::bench {

// The finest decimal grain, 10^4 to 1 ticks a unit, in which `longest` units still fit the planner's clock.
double grainFor(double longest);

// Distance 1 a unit and no other cost; leaving a visit out costs far more than any route.
// `distance(a, b)` in units; ticks are rounded up, so that what fits in ticks fits in units.
rounds::WeekProblem plainWeek(std::int32_t days, std::size_t places, double grain, double longest,
                              const std::function<double(std::size_t, std::size_t)> &distance);
rounds::Minute ticksUp(double units, double grain);
rounds::Minute ticksDown(double units, double grain);

// One more nurse who works the same on each day, from and to place 0.
void addVehicle(rounds::WeekProblem &week, rounds::Minute from, const std::vector<rounds::Minute> &toByDay,
                const std::vector<std::int32_t> &loadByDay);
// A visit at `place` on any day, without windows.
rounds::Job plainJob(const rounds::WeekProblem &week, std::size_t place, rounds::Minute length,
                     std::int32_t load);

} // namespace kitround::bench
