#pragma once
// Takes a few related visits out of the plan: strings from routes near a seed (the slack-induction idea of
// Christiaens and Vanden Berghe, Transportation Science 2020), neighbours of a seed, a patient's whole
// series, a whole duty, or visits that stand in the way of one that has no place.
#include "core/base/Random.h"
#include "core/rounds/search/Nearness.h"
#include "core/rounds/search/WorkingPlan.h"

namespace kitround::rounds {

class Ruin {
public:
    Ruin(const WeekProblem &problem, const Nearness &near) : p_(problem), near_(near) {}
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
    const Nearness &near_;
};

} // namespace kitround::rounds
