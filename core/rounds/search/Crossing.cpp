#include "core/rounds/search/Crossing.h"

#include "core/base/Index.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::rounds {

Crossing::Crossing(const WeekProblem &problem, const Nearness &near) : p_(problem), near_(near) {
    kindOf_.resize(p_.duties.size());
    std::map<decltype(p_.duties.front().shape()), std::int32_t> first;
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        kindOf_[d] = first.try_emplace(p_.duties[d].shape(), static_cast<std::int32_t>(d)).first->second;
    mate_.assign(p_.duties.size(), -1);
    dutyIn_.assign(p_.jobs.size(), -1);
    isChosen_.assign(p_.duties.size(), 0);
}

// Rounds with the most visits in common first, each with a round of its own kind.
void Crossing::matchRounds(const WorkingPlan &plan, const PlanKeeper &other) {
    std::ranges::fill(mate_, -1);
    std::ranges::fill(dutyIn_, -1);
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        for (const std::int32_t job : other.jobsOf(static_cast<std::int32_t>(d)))
            dutyIn_[at(job)] = static_cast<std::int32_t>(d);
    std::map<std::pair<std::int32_t, std::int32_t>, std::int32_t> common;
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        for (const std::int32_t job : plan.route(static_cast<std::int32_t>(d)).jobs)
            if (const std::int32_t there = dutyIn_[at(job)]; there >= 0 && kindOf_[at(there)] == kindOf_[d])
                ++common[{static_cast<std::int32_t>(d), there}];
    std::vector<std::tuple<std::int32_t, std::int32_t, std::int32_t>> order;
    for (const auto &[pair, count] : common)
        order.emplace_back(-count, pair.first, pair.second);
    std::ranges::sort(order);
    std::vector<char> isTaken(p_.duties.size(), 0);
    for (const auto &[count, here, there] : order)
        if (mate_[at(here)] < 0 && !isTaken[at(there)]) {
            mate_[at(here)] = there;
            isTaken[at(there)] = 1;
        }
    for (std::size_t d = 0; d < p_.duties.size(); ++d) { // those left over as they come
        if (mate_[d] >= 0)
            continue;
        for (std::size_t there = 0; there < p_.duties.size() && mate_[d] < 0; ++there)
            if (!isTaken[there] && kindOf_[there] == kindOf_[d]) {
                mate_[d] = static_cast<std::int32_t>(there);
                isTaken[there] = 1;
            }
    }
}

void Crossing::chooseRounds(const WorkingPlan &plan, const PlanKeeper &other, Random &random) {
    chosen_.clear();
    std::ranges::fill(isChosen_, char{0});
    std::size_t used = 0;
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        used += plan.route(static_cast<std::int32_t>(d)).jobs.empty() ? 0U : 1U;
    const std::size_t most = std::max<std::size_t>(1, used / 2);
    std::size_t left = 1 + random.below(most);
    const auto choose = [&](std::int32_t job) {
        if (left == 0 || !plan.isPlaced(job))
            return;
        const std::int32_t duty = plan.placement(job).duty;
        if (isChosen_[at(duty)] || plan.route(duty).jobs == other.jobsOf(mate_[at(duty)]))
            return;
        isChosen_[at(duty)] = 1;
        chosen_.push_back(duty);
        --left;
    };
    const auto seed = static_cast<std::int32_t>(random.below(p_.jobs.size()));
    choose(seed);
    for (const std::int32_t job : near_.of(seed))
        choose(job);
}

bool Crossing::operator()(WorkingPlan &plan, const PlanKeeper &other, Random &random,
                          std::vector<std::int32_t> &open) {
    open.clear();
    matchRounds(plan, other);
    chooseRounds(plan, other, random);
    if (chosen_.empty())
        return false;
    const bool newGoesFirst = random.chance(0.5);
    const auto take = [&](std::int32_t job) {
        plan.removeLater(job);
        open.push_back(job);
    };
    for (const std::int32_t duty : chosen_) {
        const std::vector<std::int32_t> leaving = plan.route(duty).jobs;
        for (const std::int32_t job : leaving)
            if (plan.isPlaced(job))
                take(job);
        if (!newGoesFirst)
            continue;
        for (const std::int32_t job : other.jobsOf(mate_[at(duty)]))
            if (plan.isPlaced(job) && !plan.isBound(job) && !isChosen_[at(plan.placement(job).duty)])
                take(job);
    }
    plan.settle();
    for (const std::int32_t duty : chosen_)
        for (const std::int32_t job : other.jobsOf(mate_[at(duty)])) {
            const Duty &to = p_.duties[at(duty)];
            if (plan.isPlaced(job) || plan.isBound(job) || !plan.allows(job, duty) ||
                !plan.hasRoom(duty, job) || !plan.seriesAllows(job, to.day) ||
                !plan.seriesAllowsNurse(job, to.nurse))
                continue;
            plan.insert(job, duty, plan.route(duty).jobs.size());
        }
    std::erase_if(open, [&](std::int32_t job) { return plan.isPlaced(job); });
    return true;
}

} // namespace kitround::rounds
