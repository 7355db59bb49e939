#pragma once
// Sums over a nurse's or a series' visits: fair shares of the points, overtime, days too far apart.
#include "core/rounds/problem/WeekProblem.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace kitround::rounds {

// Share of all points each nurse should carry: contract minutes of nurses with a duty that is not on call.
// Sums to 1; all zero where nobody has such a duty.
std::vector<double> fairShares(const WeekProblem &problem);

inline double unevenness(double points, double allPoints, double share) {
    return std::abs(points - allPoints * share);
}
// `paid`: in the plan, in that week of the problem.
inline Minute overtimeOf(const NurseInfo &nurse, std::size_t week, Minute paid) {
    const Minute before = week < nurse.alreadyWorked.size() ? nurse.alreadyWorked[week] : 0;
    return nurse.overtimeExempt ? 0 : std::max(0, before + paid - nurse.contractMinutes);
}
// Least days between two visits of a series: never twice a day.
inline std::int32_t leastGapOf(const Series &series) {
    return std::max(1, series.leastGap);
}
// Whether the days, bit d = day d, can still become one of the series' patterns.
inline bool fitsPattern(const Series &series, std::uint64_t days) {
    return series.patterns.empty() ||
           std::ranges::any_of(series.patterns, [&](std::uint64_t p) { return (days & ~p) == 0; });
}
// Days beyond mostGap, summed over neighbours. `days` in order, fixed ones included.
std::int32_t daysTooFar(const Series &series, std::span<const std::int32_t> days);

} // namespace kitround::rounds
