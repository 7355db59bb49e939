#pragma once
// The classic moves, tried until none of them makes the plan cheaper, so that nobody who looks at it finds a
// better place for a visit at a glance: one visit elsewhere (relocate), two in each other's rounds
// (exchange), a run of two or three elsewhere, either way round (or-opt: Or 1976), the ends of two rounds
// exchanged (2-opt*: Potvin and Rousseau, Journal of the Operational Research Society 46(12), 1995), two
// whole days exchanged, and the days of a series chosen anew. All go across nurses and days. What hangs on
// another visit or takes two nurses moves by itself or with its partner only.
//
// Annealing finds more; this is what it ends with.
#include "core/rounds/search/Nearness.h"
#include "core/rounds/search/Recreate.h"

#include <functional>

namespace kitround::rounds {

class Descent {
public:
    Descent(WorkingPlan &plan, Inserter &inserter, Recreate &recreate, const Nearness &near);

    // Gives the cost it ends with; the plan is marked there. `isOver` is asked between moves. Precondition:
    // the plan is marked and costs `cost`.
    double run(double cost, const std::function<bool()> &isOver);

private:
    static constexpr std::size_t kNear = 10; // neighbours of a visit that it may come to stand by
    static constexpr std::size_t kLongestRun = 3;

    void moveVisit(std::int32_t job);
    void chooseDays(std::int32_t series);
    void exchange(std::int32_t a, std::int32_t b);
    void moveRun(std::int32_t first, std::size_t length, std::int32_t behind);
    void exchangeEnds(std::int32_t a, std::size_t fromA, std::int32_t b, std::size_t fromB);
    bool lessAtTheJoints(std::int32_t a, std::size_t fromA, std::int32_t b, std::size_t fromB) const;
    bool keepIfCheaper();
    bool putAt(std::int32_t job, std::int32_t duty, std::size_t position);
    bool mayGoTo(std::int32_t job, std::int32_t duty) const;
    bool standsAlone(std::int32_t job) const { return plan_.isPlaced(job) && !plan_.isBound(job); }
    std::size_t positionOf(std::int32_t job) const;
    double travel(std::int32_t from, std::int32_t to) const; // its cost, between places

    WorkingPlan &plan_;
    Inserter &inserter_;
    Recreate &recreate_;
    const Nearness &near_;
    const WeekProblem &p_;
    double cost_ = 0;
    bool isBetter_ = false;
    std::vector<std::int32_t> run_, endA_, endB_; // scratch
};

} // namespace kitround::rounds
