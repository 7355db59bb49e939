#include "core/rounds/search/Moves.h"

namespace kitround::rounds {
namespace {

constexpr std::size_t kNearest = 15; // partners looked at; further ones hardly ever pay

bool place(MoveTools &tools, std::int32_t job, std::int32_t duty) {
    const Inserter::Spot spot = tools.inserter.spotIn(job, duty);
    const std::int32_t day = tools.plan.problem().duties[static_cast<std::size_t>(duty)].day;
    return spot.position >= 0 && tools.plan.seriesAllows(job, day) &&
           tools.plan.insert(job, duty, static_cast<std::size_t>(spot.position));
}

} // namespace

bool exchange(MoveTools &tools, std::int32_t duty) {
    WorkingPlan &plan = tools.plan;
    const WeekProblem &p = plan.problem();
    bool any = false;
    const std::vector<std::int32_t> jobs = plan.route(duty).jobs;
    for (const std::int32_t job : jobs) {
        const std::vector<std::int32_t> &near = tools.near.of(job);
        for (std::size_t i = 0; i < near.size() && i < kNearest; ++i) {
            const std::int32_t other = near[i];
            if (plan.placement(job).duty != duty || !plan.isPlaced(other))
                continue;
            const std::int32_t otherDuty = plan.placement(other).duty;
            if (otherDuty == duty || p.jobs[static_cast<std::size_t>(job)].twoNurses ||
                p.jobs[static_cast<std::size_t>(other)].twoNurses || !plan.allows(job, otherDuty) ||
                !plan.allows(other, duty))
                continue;
            const double before = plan.cost();
            plan.remove(job);
            plan.remove(other);
            if (place(tools, job, otherDuty) && place(tools, other, duty))
                any = keepIfCheaper(plan, before) || any;
            else
                plan.rollBack();
        }
    }
    return any;
}

} // namespace kitround::rounds
