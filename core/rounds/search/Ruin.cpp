#include "core/rounds/search/Ruin.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

constexpr std::size_t at(std::int32_t i) {
    return static_cast<std::size_t>(i);
}

void take(WorkingPlan &plan, std::int32_t job, std::vector<std::int32_t> &removed) {
    if (!plan.isPlaced(job))
        return;
    plan.remove(job);
    removed.push_back(job);
}

} // namespace

void Ruin::operator()(WorkingPlan &plan, Random &random, int most, std::vector<std::int32_t> &removed) const {
    removed.clear();
    if (p_.jobs.empty())
        return;
    std::int32_t seed = static_cast<std::int32_t>(random.below(p_.jobs.size()));
    const std::uint64_t roll = random.below(100);
    if (!plan.unplaced().empty() && roll < 30) {
        // Make room for one that has no place: thin out a duty that could take it.
        seed = plan.unplaced()[random.below(plan.unplaced().size())];
        const std::vector<std::int32_t> &duties = plan.dutiesFor(seed);
        if (!duties.empty()) {
            const std::int32_t target = duties[random.below(duties.size())];
            if (random.chance(0.5))
                home(plan, seed, removed);
            duty(plan, target, removed);
            return;
        }
    }
    if (roll < 55)
        strings(plan, random, seed, most, removed);
    else if (roll < 75)
        around(plan, random, seed, most, removed);
    else if (roll < 90) {
        home(plan, seed, removed);
        around(plan, random, seed, std::max(1, most / 3), removed);
    } else if (!p_.duties.empty()) {
        duty(plan, static_cast<std::int32_t>(random.below(p_.duties.size())), removed);
    }
}

void Ruin::strings(WorkingPlan &plan, Random &random, std::int32_t seed, int most,
                   std::vector<std::int32_t> &removed) const {
    std::vector<std::int32_t> ruined;
    const auto wanted = static_cast<std::size_t>(random.between(1, std::max(1, most)));
    const auto cut = [&](std::int32_t job) {
        if (!plan.isPlaced(job) || removed.size() >= wanted)
            return;
        const std::int32_t d = plan.placement(job).duty;
        if (std::ranges::find(ruined, d) != ruined.end())
            return;
        ruined.push_back(d);
        const std::vector<std::int32_t> jobs = plan.route(d).jobs;
        const auto where = static_cast<std::int64_t>(std::ranges::find(jobs, job) - jobs.begin());
        const auto size = static_cast<std::int64_t>(jobs.size());
        const std::int64_t length =
            std::min<std::int64_t>(random.between(1, std::max<std::int64_t>(1, size)),
                                   static_cast<std::int64_t>(wanted - removed.size()));
        const std::int64_t first =
            random.between(std::max<std::int64_t>(0, where - length + 1), std::min(where, size - length));
        for (std::int64_t i = first; i < first + length; ++i)
            take(plan, jobs[static_cast<std::size_t>(i)], removed);
    };
    cut(seed);
    for (const std::int32_t job : near_.of(seed))
        cut(job);
}

void Ruin::around(WorkingPlan &plan, Random &random, std::int32_t seed, int most,
                  std::vector<std::int32_t> &removed) const {
    const auto wanted = removed.size() + static_cast<std::size_t>(random.between(1, std::max(1, most)));
    take(plan, seed, removed);
    for (const std::int32_t job : near_.of(seed)) {
        if (removed.size() >= wanted)
            return;
        if (random.chance(0.6))
            take(plan, job, removed);
    }
}

void Ruin::home(WorkingPlan &plan, std::int32_t seed, std::vector<std::int32_t> &removed) const {
    take(plan, seed, removed);
    const std::int32_t series = p_.jobs[at(seed)].series;
    if (series >= 0)
        for (const std::int32_t job : p_.series[at(series)].jobs)
            take(plan, job, removed);
}

void Ruin::duty(WorkingPlan &plan, std::int32_t target, std::vector<std::int32_t> &removed) const {
    const std::vector<std::int32_t> jobs = plan.route(target).jobs;
    for (const std::int32_t job : jobs)
        take(plan, job, removed);
}

} // namespace kitround::rounds
