#pragma once
// Puts visits without a place back: the first plan by regret among the hardest, later ones by cheapest place
// in an order drawn anew each time.
#include "core/base/Random.h"
#include "core/rounds/search/Insertion.h"

#include <array>
#include <stop_token>

namespace kitround::rounds {

class Recreate {
public:
    Recreate(WorkingPlan &plan, Inserter &inserter);

    // Hardest first (priority, then fewest duties); of the next kAtOnce the one that would lose most by
    // waiting (Potvin and Rousseau 1993, regret).
    void construct(const std::stop_token &stop);
    // Places `removed` and, of those left over before, as many as kOpenAtOnce.
    void repair(Random &random, const std::vector<std::int32_t> &removed);
    // Where the published plan has them, as far as it still can be kept.
    void keepPublished();

private:
    static constexpr std::size_t kAtOnce = 20;
    static constexpr std::size_t kOpenAtOnce = 6;
    // Chance to look past a duty: mostly small, now and then large, so that what greed never finds is tried
    // too.
    static constexpr std::array<double, 6> kBlinks{0, 0.02, 0.02, 0.05, 0.15, 0.4};
    WorkingPlan &plan_;
    Inserter &inserter_;
    const WeekProblem &p_;
    std::vector<std::int32_t> byHardness_;
    std::vector<std::int32_t> rank_;
    std::vector<std::int32_t> order_;
};

} // namespace kitround::rounds
