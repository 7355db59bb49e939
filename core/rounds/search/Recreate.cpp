#include "core/rounds/search/Recreate.h"

#include "core/base/Index.h"
#include "core/rounds/problem/Fit.h"

#include <algorithm>
#include <numeric>

namespace kitround::rounds {

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
    traits_.resize(p_.jobs.size());
    for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        const std::vector<std::int32_t> &duties = plan_.dutiesFor(job);
        if (duties.empty())
            continue;
        const Duty &duty = p_.duties[at(duties.front())];
        const TimeSegment own = plan_.segment(job, duty.day);
        traits_[j].far = plan_.travelFrom(duty.startPlace)[p_.jobs[j].place];
        traits_[j].early = std::max(own.early, duty.from);
        traits_[j].late = std::min(own.late, duty.to);
        traits_[j].width = traits_[j].late - traits_[j].early;
    }
    const auto differ = [&](auto trait) {
        return std::ranges::any_of(traits_, [&](const Trait &t) { return t.*trait != traits_[0].*trait; });
    };
    const auto jobsDiffer = [&](auto what) {
        return std::ranges::any_of(p_.jobs, [&](const Job &job) { return job.*what != p_.jobs[0].*what; });
    };
    const auto want = [&](Order order, int times) { orders_.insert(orders_.end(), at(times), order); };
    want(Order::Random, 4);
    if (p_.jobs.empty())
        return;
    if (jobsDiffer(&Job::priority) || jobsDiffer(&Job::twoNurses))
        want(Order::Hardness, 4);
    if (jobsDiffer(&Job::load))
        want(Order::Load, 4);
    if (jobsDiffer(&Job::length))
        want(Order::Length, 2);
    want(Order::Far, 2);
    want(Order::Near, 1);
    if (differ(&Trait::width))
        want(Order::Narrow, 2);
    if (differ(&Trait::early))
        want(Order::Early, 2);
    if (differ(&Trait::late))
        want(Order::Late, 2);
}

// Drawn ties: the keys of equal jobs differ by the shuffled order they come in.
void Recreate::sortBy(Order order) {
    if (order == Order::Random)
        return;
    const auto key = [&](std::int32_t j) -> std::int64_t {
        const Job &job = p_.jobs[at(j)];
        const Trait &trait = traits_[at(j)];
        switch (order) {
        case Order::Hardness:
            return rank_[at(j)];
        case Order::Load:
            return -job.load;
        case Order::Length:
            return -job.length;
        case Order::Far:
            return -trait.far;
        case Order::Near:
            return trait.far;
        case Order::Narrow:
            return trait.width;
        case Order::Early:
            return trait.early;
        case Order::Late:
            return -trait.late;
        case Order::Random:
            break;
        }
        return 0;
    };
    keyed_.clear();
    for (const std::int32_t j : order_)
        keyed_.emplace_back(key(j), j);
    // Insertion sort: stable, no storage of its own, and few jobs.
    for (std::size_t i = 1; i < keyed_.size(); ++i) {
        const auto moving = keyed_[i];
        std::size_t k = i;
        for (; k > 0 && keyed_[k - 1].first > moving.first; --k)
            keyed_[k] = keyed_[k - 1];
        keyed_[k] = moving;
    }
    for (std::size_t i = 0; i < order_.size(); ++i)
        order_[i] = keyed_[i].second;
}

// Two or more visits of the job's series are to be placed, so that their days are chosen together.
bool Recreate::opensSeries(std::int32_t job) const {
    const std::int32_t series = p_.jobs[at(job)].series;
    if (series < 0 || plan_.hasLinks())
        return false;
    const std::vector<std::int32_t> &jobs = p_.series[at(series)].jobs;
    int open = 0;
    for (const std::int32_t other : jobs) {
        if (plan_.isBound(other))
            return false;
        open += plan_.isPlaced(other) ? 0 : 1;
    }
    return open > 1;
}

// A series whose days or nurse depend on one another: one visit alone would choose blindly.
bool Recreate::hasRules(std::int32_t job) const {
    const std::int32_t series = p_.jobs[at(job)].series;
    return series >= 0 && (!p_.series[at(series)].patterns.empty() || p_.series[at(series)].oneNurse);
}

void Recreate::placeOne(std::int32_t job, Blink blink) {
    if (plan_.isPlaced(job))
        return;
    if (opensSeries(job)) {
        inserter_.placeSeries(p_.jobs[at(job)].series, blink);
        return;
    }
    const Insertion where = inserter_.best(job, blink);
    if (where.isFound() && where.cost < 0)
        inserter_.apply(job, where);
}

void Recreate::construct(const std::stop_token &stop) {
    std::vector<std::int32_t> open;
    for (const std::int32_t job : byHardness_)
        if (!plan_.isPlaced(job))
            open.push_back(job);
    // Fewer at once where there are many places to look at, so that the first plan does not keep anybody
    // waiting.
    const std::size_t places = std::max<std::size_t>(1, p_.jobs.size() * p_.duties.size());
    const std::size_t atOnce = std::clamp(kMostPlaces / places, std::size_t{4}, kAtOnce);
    for (const std::int32_t job : open)
        if (hasRules(job) && !stop.stop_requested())
            placeOne(job, {});
    std::erase_if(open, [&](std::int32_t job) { return plan_.isPlaced(job); });
    while (!open.empty() && !stop.stop_requested()) {
        std::size_t chosen = open.size();
        Insertion where;
        double mostRegret = 0;
        for (std::size_t i = 0; i < std::min(atOnce, open.size());) {
            double second = 0;
            const bool isDone = plan_.isPlaced(open[i]); // came with its partner
            const Insertion best = isDone ? Insertion{} : inserter_.best(open[i], {}, &second);
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
    // Those without a place: all where few, of the ones open before a draw where many.
    order_ = removed;
    const std::vector<std::int32_t> &open = plan_.unplaced();
    const std::size_t others = open.size() - std::min(open.size(), removed.size());
    if (others > 0) {
        const double share = static_cast<double>(kOpenAtOnce) / static_cast<double>(others);
        for (const std::int32_t job : open)
            if (random.chance(share) && std::ranges::find(removed, job) == removed.end())
                order_.push_back(job);
    }
    random.shuffle(order_);
    sortBy(orders_[random.below(orders_.size())]);
    const Blink blink{&random, kBlinks[random.below(kBlinks.size())]};
    for (const std::int32_t job : order_)
        placeOne(job, blink);
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
        if (p_.jobs[at(job)].twoNurses || plan_.hasLinks() || plan_.pairOf(job))
            continue; // found by construct(), where keeping the published place is cheapest
        for (const std::int32_t duty : plan_.dutiesFor(job)) {
            if (!standsWherePublished(p_.jobs[at(job)], p_.duties[at(duty)]) ||
                !plan_.seriesAllows(job, p_.duties[at(duty)].day) ||
                !plan_.seriesAllowsNurse(job, p_.duties[at(duty)].nurse))
                continue;
            const Inserter::Spot spot = inserter_.spotIn(job, duty);
            if (spot.position >= 0)
                plan_.insert(job, duty, at(spot.position));
        }
    }
}

} // namespace kitround::rounds
