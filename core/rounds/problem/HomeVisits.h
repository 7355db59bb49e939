#pragma once
// Visits to one patient that are not ordered to meet: two nurses on one day are one too many for a home where
// one could have done both, and at the same time they stand in each other's way.
#include "core/rounds/problem/WeekProblem.h"

#include <span>
#include <utility>
#include <vector>

namespace kitround::rounds {

// By job, the patient's other visits. Left out: phone visits, those of the same series, which never have a
// day in common, and two that are ordered to meet or to come one after the other on one day (Link, Follow in
// minutes).
class HomeVisits {
public:
    explicit HomeVisits(const WeekProblem &problem);
    std::span<const std::int32_t> besides(std::int32_t job) const {
        return besides_[static_cast<std::size_t>(job)];
    }

private:
    std::vector<std::vector<std::int32_t>> besides_;
};

// Both are placed, on one day, and no nurse is at both.
bool sendsSecondNurse(const WeekProblem &problem, const Placement &one, const Placement &other);
// Of these the pairs at one home at the same time, the earlier start first.
std::vector<std::pair<std::int32_t, std::int32_t>> overlapsAtHome(const WeekProblem &problem,
                                                                  const WeekPlan &plan);

} // namespace kitround::rounds
