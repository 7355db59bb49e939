#include "core/rounds/problem/Riders.h"

#include "core/base/Index.h"

#include <algorithm>
#include <numeric>
#include <unordered_map>

namespace kitround::rounds {

RiderMatcher::RiderMatcher(const WeekProblem &problem) : p_(problem) {
    order_.resize(problem.riders.size());
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    std::ranges::stable_sort(order_, {}, [&](std::size_t r) { return problem.riders[r].latestDay; });
    jobsOf_.resize(problem.riders.size());
    if (problem.riders.empty())
        return;
    std::unordered_map<PatientId, std::vector<std::int32_t>> jobsAt;
    for (std::size_t j = 0; j < problem.jobs.size(); ++j)
        jobsAt[problem.jobs[j].patient].push_back(static_cast<std::int32_t>(j));
    for (std::size_t r = 0; r < problem.riders.size(); ++r)
        if (const auto found = jobsAt.find(problem.riders[r].patient); found != jobsAt.end())
            jobsOf_[r] = found->second;
}

void RiderMatcher::assign(const std::vector<Placement> &placements, std::vector<std::int32_t> &riderJob) {
    riderJob.assign(p_.riders.size(), -1);
    used_.assign(p_.duties.size(), 0);
    for (const std::size_t r : order_) {
        const Rider &rider = p_.riders[r];
        std::int32_t bestDay = 0;
        for (const std::int32_t j : jobsOf_[r]) {
            const Placement &placement = placements[at(j)];
            if (!placement.isPlaced() || !mayRide(rider, p_.jobs[at(j)]))
                continue;
            const Duty &duty = p_.duties[at(placement.duty)];
            if (duty.day < rider.earliestDay || duty.day > rider.latestDay)
                continue;
            if (used_[at(placement.duty)] + rider.spaceMl > p_.nurses[at(duty.nurse)].carSpaceMl)
                continue;
            if (riderJob[r] >= 0 && bestDay <= duty.day)
                continue;
            riderJob[r] = j;
            bestDay = duty.day;
        }
        if (riderJob[r] >= 0)
            used_[at(placements[at(riderJob[r])].duty)] += rider.spaceMl;
    }
}

double RiderMatcher::cost(const std::vector<std::int32_t> &riderJob) {
    double cost = 0;
    byCourier_.clear();
    for (std::size_t r = 0; r < p_.riders.size(); ++r) {
        if (riderJob[r] >= 0)
            continue;
        if (p_.riders[r].courierPossible)
            byCourier_.push_back(p_.riders[r].patient);
        else
            cost += p_.weights.undelivered;
    }
    std::ranges::sort(byCourier_);
    const auto repeated = std::ranges::unique(byCourier_);
    return cost + p_.weights.courierRun * static_cast<double>(byCourier_.size() - repeated.size());
}

} // namespace kitround::rounds
