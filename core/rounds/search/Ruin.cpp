#include "core/rounds/search/Ruin.h"

#include "core/base/Index.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

void take(WorkingPlan &plan, std::int32_t job, std::vector<std::int32_t> &removed) {
    if (!plan.isPlaced(job) || !plan.isInPlay(job))
        return;
    plan.removeLater(job);
    removed.push_back(job);
}

} // namespace

Ruin::Ruin(const WeekProblem &problem, const Nearness &near) : p_(problem), near_(near) {
    ruined_.assign(p_.duties.size(), 0);
    std::size_t inSeries = 0;
    for (const Series &series : p_.series)
        inSeries += series.jobs.size();
    if (!p_.series.empty())
        meanSeries_ = static_cast<double>(inSeries) / static_cast<double>(p_.series.size());
}

void Ruin::operator()(WorkingPlan &plan, Random &random, std::vector<std::int32_t> &removed) {
    removed.clear();
    ++round_;
    const std::int32_t seed = plan.jobsInPlay()[random.below(plan.jobsInPlay().size())];
    const std::uint64_t roll = random.below(100);
    if (!plan.unplaced().empty() && roll < 30) {
        // Make room for one that has no place: thin out a duty that could take it.
        const std::int32_t open = plan.unplaced()[random.below(plan.unplaced().size())];
        const std::vector<std::int32_t> &duties = plan.dutiesFor(open);
        if (!duties.empty()) {
            if (random.chance(0.5))
                home(plan, open, removed);
            duty(plan, duties[random.below(duties.size())], removed);
            plan.settle();
            return;
        }
    }
    if (meanSeries_ > 1 && roll >= 100 - kDutyShare && plan.isPlaced(seed)) {
        duty(plan, plan.placement(seed).duty, removed);
        const std::size_t taken = removed.size();
        for (std::size_t i = 0; i < taken; ++i)
            home(plan, removed[i], removed);
        plan.settle();
        return;
    }
    const bool wholeSeries = meanSeries_ > 1 && random.chance(0.5);
    const bool oneDay = !wholeSeries && p_.days > 1 && random.chance(kOneDayChance);
    strings(plan, random, seed, oneDay, wholeSeries ? std::max(3.0, kAverage / meanSeries_) : kAverage,
            removed);
    if (wholeSeries) {
        const std::size_t taken = removed.size();
        for (std::size_t i = 0; i < taken; ++i)
            home(plan, removed[i], removed);
    }
    plan.settle();
}

double Ruin::averageLength(const WorkingPlan &plan) const {
    const std::size_t placed = p_.jobs.size() - plan.unplaced().size();
    std::size_t used = 0;
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        used += plan.route(static_cast<std::int32_t>(d)).jobs.empty() ? 0U : 1U;
    return used == 0 ? 1 : static_cast<double>(placed) / static_cast<double>(used);
}

void Ruin::strings(WorkingPlan &plan, Random &random, std::int32_t seed, bool oneDay, double average,
                   std::vector<std::int32_t> &removed) {
    const double longest = std::min(kLongest, averageLength(plan));
    const double most = 4 * average / (1 + longest) - 1;
    int left = static_cast<int>(1 + random.uniform() * most);
    const std::int32_t day = oneDay && plan.isPlaced(seed) ? plan.dayOf(seed) : -1;
    const auto cutAt = [&](std::int32_t job) {
        if (!plan.isPlaced(job) || (day >= 0 && plan.dayOf(job) != day) ||
            ruined_[at(plan.placement(job).duty)] == round_)
            return;
        ruined_[at(plan.placement(job).duty)] = round_;
        cut(plan, random, job, longest, removed);
        --left;
    };
    cutAt(seed);
    for (const std::int32_t job : near_.of(seed)) {
        if (left <= 0)
            break;
        cutAt(job);
    }
}

void Ruin::cut(WorkingPlan &plan, Random &random, std::int32_t job, double longest,
               std::vector<std::int32_t> &removed) {
    jobs_ = plan.route(plan.placement(job).duty).jobs;
    const auto size = static_cast<std::int64_t>(jobs_.size());
    const auto where = static_cast<std::int64_t>(std::ranges::find(jobs_, job) - jobs_.begin());
    const double most = std::min(static_cast<double>(size), longest);
    const auto length = std::min(size, static_cast<std::int64_t>(1 + random.uniform() * most));
    std::int64_t stay = 0;
    if (length > 1 && length < size && random.chance(kSplitChance)) {
        stay = 1;
        while (length + stay < size && random.chance(kGrow))
            ++stay;
    }
    const std::int64_t span = length + stay;
    const std::int64_t first =
        random.between(std::max<std::int64_t>(0, where - span + 1), std::min(where, size - span));
    const std::int64_t stayFrom = stay > 0 ? first + random.between(0, length) : size;
    for (std::int64_t i = first; i < first + span; ++i)
        if (i < stayFrom || i >= stayFrom + stay)
            take(plan, jobs_[static_cast<std::size_t>(i)], removed);
}

void Ruin::home(WorkingPlan &plan, std::int32_t seed, std::vector<std::int32_t> &removed) const {
    const std::int32_t series = p_.jobs[at(seed)].series;
    if (series >= 0)
        for (const std::int32_t job : p_.series[at(series)].jobs)
            take(plan, job, removed);
}

void Ruin::duty(WorkingPlan &plan, std::int32_t target, std::vector<std::int32_t> &removed) {
    jobs_ = plan.route(target).jobs;
    for (const std::int32_t job : jobs_)
        take(plan, job, removed);
}

} // namespace kitround::rounds
