#include "core/rounds/search/Recreate.h"

#include "core/rounds/problem/Fit.h"

#include <algorithm>
#include <numeric>

namespace kitround::rounds {
namespace {

constexpr std::size_t at(std::int32_t i) {
    return static_cast<std::size_t>(i);
}

} // namespace

Recreate::Recreate(WorkingPlan &plan, Inserter &inserter)
    : plan_(plan), inserter_(inserter), p_(plan.problem()) {
    byHardness_.resize(p_.jobs.size());
    std::iota(byHardness_.begin(), byHardness_.end(), 0);
    std::ranges::stable_sort(byHardness_, {}, [&](std::int32_t j) {
        const Job &job = p_.jobs[at(j)];
        return std::tuple(!job.twoNurses, -static_cast<int>(job.priority), plan_.dutiesFor(j).size());
    });
    rank_.resize(p_.jobs.size());
    for (std::size_t i = 0; i < byHardness_.size(); ++i)
        rank_[at(byHardness_[i])] = static_cast<std::int32_t>(i);
}

void Recreate::construct(const std::stop_token &stop) {
    std::vector<std::int32_t> open;
    for (const std::int32_t job : byHardness_)
        if (!plan_.isPlaced(job))
            open.push_back(job);
    while (!open.empty() && !stop.stop_requested()) {
        std::size_t chosen = open.size();
        Insertion where;
        double mostRegret = 0;
        for (std::size_t i = 0; i < std::min(kAtOnce, open.size());) {
            double second = 0;
            const Insertion best = inserter_.best(open[i], nullptr, 0, &second);
            if (!best.isFound() || best.cost >= 0) {
                open.erase(open.begin() +
                           static_cast<std::ptrdiff_t>(i)); // later removals may make room again
                continue;
            }
            const double regret = std::min(second, 0.0) - best.cost;
            if (chosen >= open.size() || regret > mostRegret) {
                chosen = i;
                where = best;
                mostRegret = regret;
            }
            ++i;
        }
        if (chosen >= open.size())
            continue;
        inserter_.apply(open[chosen], where);
        open.erase(open.begin() + static_cast<std::ptrdiff_t>(chosen));
    }
}

void Recreate::repair(Random &random, const std::vector<std::int32_t> &removed) {
    order_ = removed;
    // Those without a place before: all where few, a draw where many.
    const std::vector<std::int32_t> &open = plan_.unplaced();
    const std::size_t others = open.size() - removed.size();
    if (others > 0) {
        const double share = static_cast<double>(kOpenAtOnce) / static_cast<double>(others);
        for (const std::int32_t job : open)
            if (std::ranges::find(removed, job) == removed.end() && random.chance(share))
                order_.push_back(job);
    }
    random.shuffle(order_);
    const std::uint64_t rule = random.below(10);
    if (rule < 4)
        std::ranges::stable_sort(order_, {}, [&](std::int32_t j) { return rank_[at(j)]; });
    else if (rule < 6)
        std::ranges::stable_sort(order_, {}, [&](std::int32_t j) { return -p_.jobs[at(j)].length; });
    const double blink = kBlinks[random.below(kBlinks.size())];
    for (const std::int32_t job : order_) {
        const Insertion where = inserter_.best(job, &random, blink);
        if (where.isFound() && where.cost < 0)
            inserter_.apply(job, where);
    }
}

void Recreate::keepPublished() {
    std::vector<std::int32_t> jobs;
    for (const std::int32_t job : byHardness_)
        if (p_.jobs[at(job)].publishedNurse >= 0 && !plan_.isPlaced(job))
            jobs.push_back(job);
    std::ranges::stable_sort(jobs, {}, [&](std::int32_t j) {
        return std::pair(p_.jobs[at(j)].publishedDay, p_.jobs[at(j)].publishedStart);
    });
    for (const std::int32_t job : jobs) {
        if (p_.jobs[at(job)].twoNurses)
            continue; // the pair is found by construct(), where keeping the published place is cheapest
        for (const std::int32_t duty : plan_.dutiesFor(job)) {
            if (!standsWherePublished(p_.jobs[at(job)], p_.duties[at(duty)]) ||
                !plan_.seriesAllows(job, p_.duties[at(duty)].day))
                continue;
            const Inserter::Spot spot = inserter_.spotIn(job, duty);
            if (spot.position >= 0)
                plan_.insert(job, duty, at(spot.position));
        }
    }
}

} // namespace kitround::rounds
