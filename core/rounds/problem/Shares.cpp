#include "core/rounds/problem/Shares.h"

namespace kitround::rounds {

std::vector<double> fairShares(const WeekProblem &problem) {
    std::vector<double> share(problem.nurses.size(), 0);
    for (const Duty &duty : problem.duties)
        if (!duty.isOnCall)
            share[static_cast<std::size_t>(duty.nurse)] =
                problem.nurses[static_cast<std::size_t>(duty.nurse)].contractMinutes;
    double sum = 0;
    for (const double s : share)
        sum += s;
    for (double &s : share)
        s = sum > 0 ? s / sum : 0;
    return share;
}

std::int32_t daysTooFar(const Series &series, std::span<const std::int32_t> days) {
    std::int32_t sum = 0;
    for (std::size_t i = 1; i < days.size(); ++i)
        sum += std::max(0, days[i] - days[i - 1] - series.mostGap);
    return sum;
}

} // namespace kitround::rounds
