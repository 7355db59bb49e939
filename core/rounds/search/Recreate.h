#pragma once
// Puts visits without a place back: the first plan by regret among the hardest, later ones each at its
// cheapest place, in an order drawn anew each time and now and then looking past a duty (greedy insertion
// with blinks: Christiaens and Vanden Berghe 2020, section 5.2).
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
    // At its cheapest place, with its partner; of a series whose visits are open too, all of them. Stays out
    // where it costs more than it is worth.
    void place(std::int32_t job) { placeOne(job, {}); }
    // Where the published plan has them, as far as it still can be kept.
    void keepPublished();

private:
    static constexpr std::size_t kAtOnce = 20;
    static constexpr std::size_t kMostPlaces = 3'000'000; // visits at once x visits x duties
    static constexpr std::size_t kOpenAtOnce = 6;
    // Chance to look past a duty: mostly small, now and then large where the problem is small enough for that
    // to matter, so that what greed never finds is tried too.
    static constexpr std::array<double, 8> kBlinks{0, 0.01, 0.01, 0.01, 0.02, 0.02, 0.05, 0.3};

    enum class Order : std::uint8_t { Random, Hardness, Load, Length, Far, Near, Narrow, Early, Late };
    void sortBy(Order order);
    void placeOne(std::int32_t job, Blink blink);
    bool opensSeries(std::int32_t job) const;
    bool hasRules(std::int32_t job) const;

    WorkingPlan &plan_;
    Inserter &inserter_;
    const WeekProblem &p_;
    std::vector<std::int32_t> byHardness_;
    std::vector<std::int32_t> rank_;
    struct Trait { // of a job, for the orders
        Minute far = 0, width = 0, early = 0, late = 0;
    };
    std::vector<Trait> traits_;
    std::vector<Order> orders_; // those that tell jobs of this problem apart, as often as they are wanted
    std::vector<std::pair<std::int64_t, std::int32_t>> keyed_;
    std::vector<std::int32_t> order_;
};

} // namespace kitround::rounds
