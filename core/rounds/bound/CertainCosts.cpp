#include "core/rounds/bound/CertainCosts.h"

#include "core/rounds/problem/Fit.h"
#include "core/rounds/problem/Shares.h"

#include <algorithm>

namespace kitround::rounds {

CertainCosts::CertainCosts(const WeekProblem &problem) : p_(problem) {
    for (const Series &series : p_.series)
        if (const double gaps = gapsOf(series); gaps > 0)
            series_.push_back({&series, gaps});
    addCouriers();
}

bool CertainCosts::mayStandOn(std::int32_t job, std::int32_t day) const {
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        if (p_.duties[d].day == day && mayStand(p_, job, static_cast<std::int32_t>(d), Role::First))
            return true;
    return false;
}

// The cheapest choice of as many days as there are visits, each of a day that some of them may have: by the
// number of visits so far and the day of the last one.
double CertainCosts::gapsOf(const Series &series) const {
    struct Day {
        std::int32_t on;
        bool isFixed;
    };
    std::vector<Day> days;
    for (const std::int32_t on : series.fixedDays)
        days.push_back({on, true});
    for (std::int32_t on = 0; on < p_.days; ++on)
        if (std::ranges::find(series.fixedDays, on) == series.fixedDays.end() &&
            std::ranges::any_of(series.jobs, [&](std::int32_t job) { return mayStandOn(job, on); }))
            days.push_back({on, false});
    std::ranges::stable_sort(days, {}, &Day::on);
    const std::size_t visits = series.jobs.size();
    // least[k * n + i]: k visits so far and day i the last that is taken, by a visit or fixed.
    const std::size_t n = days.size();
    std::vector<double> least((visits + 1) * n, kImpossible);
    double best = visits == 0 ? 0 : kImpossible;
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t taken = days[i].isFixed ? 0 : 1;
        bool fixedBefore = false; // a fixed day between may not be left out
        if (taken <= visits)
            least[taken * n + i] = 0;
        for (std::size_t j = 0; j < i; ++j)
            fixedBefore = fixedBefore || days[j].isFixed;
        if (fixedBefore && taken <= visits)
            least[taken * n + i] = kImpossible;
        for (std::size_t j = i; j-- > 0;) {
            const std::int32_t apart = days[i].on - days[j].on;
            const bool isAllowed = (days[i].isFixed && days[j].isFixed) || apart >= leastGapOf(series);
            const double gap = p_.weights.gapDay * std::max(0, apart - series.mostGap);
            for (std::size_t k = taken; isAllowed && k <= visits; ++k)
                least[k * n + i] = std::min(least[k * n + i], least[(k - taken) * n + j] + gap);
            if (days[j].isFixed)
                break;
        }
        bool isLast = true; // no fixed day after it
        for (std::size_t j = i + 1; j < n; ++j)
            isLast = isLast && !days[j].isFixed;
        if (isLast)
            best = std::min(best, least[visits * n + i]);
    }
    return best;
}

void CertainCosts::addCouriers() {
    std::vector<PatientId> byCourier;
    for (const Rider &rider : p_.riders) {
        bool isCarried = false;
        for (std::size_t j = 0; j < p_.jobs.size() && !isCarried; ++j) {
            if (p_.jobs[j].patient != rider.patient)
                continue;
            for (std::size_t d = 0; d < p_.duties.size() && !isCarried; ++d) {
                const Duty &duty = p_.duties[d];
                isCarried =
                    rider.earliestDay <= duty.day && duty.day <= rider.latestDay &&
                    p_.nurses[static_cast<std::size_t>(duty.nurse)].carSpaceMl >= rider.spaceMl &&
                    mayStand(p_, static_cast<std::int32_t>(j), static_cast<std::int32_t>(d), Role::First);
            }
        }
        if (isCarried)
            continue;
        if (!rider.courierPossible)
            couriers_ += p_.weights.undelivered;
        else if (std::ranges::find(byCourier, rider.patient) == byCourier.end())
            byCourier.push_back(rider.patient);
    }
    couriers_ += p_.weights.courierRun * static_cast<double>(byCourier.size());
}

double CertainCosts::at(std::span<const double> prices) const {
    double sum = couriers_;
    for (const SeriesCost &cost : series_) {
        double leftOut = kImpossible;
        for (const std::int32_t job : cost.series->jobs) {
            const auto j = static_cast<std::size_t>(job);
            leftOut = std::min(leftOut, p_.weights.unplaced[static_cast<std::size_t>(p_.jobs[j].priority)] -
                                            prices[j]);
        }
        sum += std::min(cost.whole, std::max(0.0, leftOut));
    }
    return sum;
}

} // namespace kitround::rounds
