#include "core/rounds/search/Moves.h"

namespace kitround::rounds {

bool relocate(MoveTools &tools, std::int32_t duty) {
    WorkingPlan &plan = tools.plan;
    bool any = false;
    const std::vector<std::int32_t> jobs = plan.route(duty).jobs;
    for (const std::int32_t job : jobs) {
        const double before = plan.cost();
        plan.remove(job);
        const Insertion best = tools.inserter.best(job);
        if (best.isFound())
            tools.inserter.apply(job, best);
        any = keepIfCheaper(plan, before) || any;
    }
    return any;
}

} // namespace kitround::rounds
