#pragma once
// Two plans of the same week made into one: rounds of the second, in a neighbourhood where the two differ,
// take the place of rounds of the first (selective route exchange: Nagata and Kobayashi, Parallel Problem
// Solving from Nature XI, 2010). What then stands twice stays in its old round or goes with the new one;
// what stands nowhere is left for recreating. Visits bound to others (two nurses, one after another) are
// left to that too, each time.
#include "core/base/Random.h"
#include "core/rounds/search/Nearness.h"
#include "core/rounds/search/PlanKeeper.h"

namespace kitround::rounds {

class Crossing {
public:
    Crossing(const WeekProblem &problem, const Nearness &near);

    // `plan` holds the first parent and becomes the child; `open` is overwritten with the visits that lost
    // their place. False: the parents do not differ there.
    bool operator()(WorkingPlan &plan, const PlanKeeper &other, Random &random,
                    std::vector<std::int32_t> &open);

private:
    void chooseRounds(const WorkingPlan &plan, const PlanKeeper &other, Random &random);
    void matchRounds(const WorkingPlan &plan, const PlanKeeper &other);

    const WeekProblem &p_;
    const Nearness &near_;
    std::vector<std::int32_t> kindOf_; // by duty: the first of its shape
    std::vector<std::int32_t> mate_;   // by duty of the first parent: the round of the second that goes there
    std::vector<std::int32_t> dutyIn_; // by job: its duty in the second parent
    std::vector<std::int32_t> chosen_;
    std::vector<char> isChosen_;
};

} // namespace kitround::rounds
