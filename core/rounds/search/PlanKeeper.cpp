#include "core/rounds/search/PlanKeeper.h"

#include "core/base/Index.h"
#include "core/rounds/problem/CostModel.h"

#include <numeric>

namespace kitround::rounds {

PlanKeeper::PlanKeeper(const WeekProblem &problem) : p_(problem) {
    rounds_.resize(p_.duties.size());
    placements_.resize(p_.jobs.size());
    pins_.assign(p_.jobs.size(), -1);
    noteAll();
}

void PlanKeeper::noteAll() {
    isChanged_.assign(p_.duties.size(), 1);
    changed_.resize(p_.duties.size());
    std::iota(changed_.begin(), changed_.end(), 0);
}

void PlanKeeper::note(const std::vector<std::int32_t> &duties) {
    for (const std::int32_t duty : duties)
        if (!isChanged_[at(duty)]) {
            isChanged_[at(duty)] = 1;
            changed_.push_back(duty);
        }
}

void PlanKeeper::keep(const WorkingPlan &plan) {
    for (const std::int32_t duty : changed_) {
        const Route &from = plan.route(duty);
        Round &to = rounds_[at(duty)];
        to.jobs = from.jobs;
        to.starts = from.starts;
        to.isPlain = from.isPlain;
        isChanged_[at(duty)] = 0;
    }
    changed_.clear();
    placements_ = plan.placements();
    pins_.assign(plan.pins().begin(), plan.pins().end());
}

void PlanKeeper::giveTo(WorkingPlan &plan) const {
    plan.rollBack();
    for (std::size_t j = 0; j < placements_.size(); ++j)
        plan.adoptPlacement(static_cast<std::int32_t>(j), placements_[j]);
    for (std::size_t d = 0; d < rounds_.size(); ++d)
        plan.adoptRound(static_cast<std::int32_t>(d), rounds_[d].jobs, rounds_[d].starts);
    plan.adopted();
}

WeekPlan PlanKeeper::plan(WorkingPlan &working) const {
    WeekPlan plan;
    plan.placements = placements_;
    std::vector<Minute> starts;
    RouteCost cost;
    for (std::size_t d = 0; d < rounds_.size(); ++d) {
        const Round &round = rounds_[d];
        if (round.isPlain)
            working.timer().time(static_cast<std::int32_t>(d), round.jobs, pins_, starts, cost);
        else
            starts = round.starts;
        for (std::size_t i = 0; i < round.jobs.size(); ++i)
            plan.placements[at(round.jobs[i])].start = starts[i];
    }
    RiderMatcher(p_).assign(placements_, plan.riderJob);
    plan.cost = evaluate(p_, plan).parts.total();
    return plan;
}

} // namespace kitround::rounds
