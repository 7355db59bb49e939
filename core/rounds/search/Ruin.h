#pragma once
// Takes a few related visits out of the plan: strings from routes near a seed (the slack-induction idea of
// Christiaens and Vanden Berghe, Transportation Science 2020), neighbours of a seed, a patient's whole
// series, a whole duty, or visits that stand in the way of one that has no place.
#include "core/base/Random.h"
#include "core/rounds/search/WorkingPlan.h"

namespace kitround::rounds {

class Ruin {
public:
    explicit Ruin(const WeekProblem &problem);
    // Removes from 1 to about `most` visits; `removed` is overwritten.
    void operator()(WorkingPlan &plan, Random &random, int most, std::vector<std::int32_t> &removed) const;

private:
    void strings(WorkingPlan &plan, Random &random, std::int32_t seed, int most,
                 std::vector<std::int32_t> &removed) const;
    void around(WorkingPlan &plan, Random &random, std::int32_t seed, int most,
                std::vector<std::int32_t> &removed) const;
    void home(WorkingPlan &plan, std::int32_t seed, std::vector<std::int32_t> &removed) const;
    void duty(WorkingPlan &plan, std::int32_t duty, std::vector<std::int32_t> &removed) const;

    const WeekProblem &p_;
    std::vector<std::vector<std::int32_t>> near_; // by job, nearest first
};

} // namespace kitround::rounds
