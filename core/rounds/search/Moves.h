#pragma once
// The moves of the local search. Each looks at one duty, filters by what can be told cheaply (who may take
// what, travel saved), makes what is left on the working plan, and keeps it only where the whole cost falls;
// otherwise the plan is as before. Precondition: nothing stands open since the last mark. Each has its own
// file.
#include "core/rounds/search/Insertion.h"
#include "core/rounds/search/Nearness.h"

namespace kitround::rounds {

struct MoveTools {
    WorkingPlan &plan;
    Inserter &inserter;
    const Nearness &near;
};

// Keeps what was done since the mark where it is cheaper than `before`, else takes it back.
inline bool keepIfCheaper(WorkingPlan &plan, double before) {
    constexpr double kHair = 1e-7; // below it, equal plans only add up differently
    if (plan.cost() < before - kHair) {
        plan.mark();
        return true;
    }
    plan.rollBack();
    return false;
}

bool relocate(MoveTools &tools, std::int32_t duty); // one visit to its best place on any nurse and day
bool exchange(MoveTools &tools, std::int32_t duty); // two visits change duties, each to its best place there
bool swapTails(MoveTools &tools,
               std::int32_t duty); // two rounds of a day change nurses from some visit on (2-opt*)
bool orOpt(MoveTools &tools, std::int32_t duty); // one to three visits elsewhere in the same round, or turned

} // namespace kitround::rounds
