// Two visits of which one follows the other within minutes: places in two rounds, or in one, and their
// starts.
#include "core/rounds/search/Insertion.h"

#include "core/base/Index.h"

#include <algorithm>
#include <array>

namespace kitround::rounds {
namespace {

// Evenness and shorter waits can win back a little; beyond that a pair of places is hopeless.
constexpr double kSlack = 60;

} // namespace

bool Inserter::timeBoth(const Follow &pair, const Reach &a, const Reach &b, Minute startA, Minute startB,
                        double &cost) {
    const auto added = [&](std::int32_t duty, const RouteCost &is) {
        const RouteCost &was = plan_.route(duty).cost;
        return is.cost - was.cost + plan_.overtimeDelta(duty, is.paid - was.paid);
    };
    RouteCost one, other;
    if (a.duty != b.duty) {
        if (!timeAt(pair.first, a, startA, one) || !timeAt(pair.second, b, startB, other))
            return false;
        cost = added(a.duty, one) + added(b.duty, other);
        return true;
    }
    trial_ = plan_.route(a.duty).jobs;
    trial_.insert(trial_.begin() + static_cast<std::ptrdiff_t>(a.position), pair.first);
    trial_.insert(trial_.begin() + static_cast<std::ptrdiff_t>(b.position) + 1, pair.second);
    pins_[at(pair.first)] = startA;
    pins_[at(pair.second)] = startB;
    if (!plan_.timer().time(a.duty, trial_, pins_, starts_, one))
        return false;
    cost = added(a.duty, one);
    return true;
}

// Either round's waiting is convex in its start and bends only where she stops waiting.
void Inserter::tryStarts(const Follow &pair, const Reach &a, const Reach &b, double beside, Insertion &best) {
    const Minute from = std::max(a.from, b.from - pair.most);
    const Minute to = std::min(a.to, b.to - pair.least);
    if (from > to)
        return;
    const auto published = [&](std::int32_t job, Minute otherwise) {
        const Minute start = p_.jobs[at(job)].publishedStart;
        return start >= 0 ? start : otherwise;
    };
    std::array<Minute, 6> firsts{from,
                                 to,
                                 a.headReady,
                                 a.tailReady,
                                 published(pair.first, from),
                                 published(pair.second, from) - pair.least};
    for (Minute &t : firsts)
        t = std::clamp(t, from, to);
    std::ranges::sort(firsts);
    const auto distinct = std::ranges::unique(firsts);
    for (auto t = firsts.begin(); t != distinct.begin(); ++t) {
        const Minute least = std::max(b.from, *t + pair.least);
        const Minute most = std::min(b.to, *t + pair.most);
        std::array<Minute, 3> seconds{least, std::clamp(b.headReady, least, most),
                                      std::clamp(published(pair.second, least), least, most)};
        std::ranges::sort(seconds);
        const auto different = std::ranges::unique(seconds);
        for (auto u = seconds.begin(); u != different.begin(); ++u) {
            double cost = 0;
            if (!timeBoth(pair, a, b, *t, *u, cost) || cost + beside >= best.cost)
                continue;
            best = {cost + beside, a.duty, a.position, b.duty, b.position, *t, *u};
        }
    }
}

Insertion Inserter::bestFollowing(const Follow &pair, Blink blink) {
    pins_.assign(plan_.pins().begin(), plan_.pins().end());
    for (std::int32_t day = 0; day < p_.days; ++day)
        dayViews_[at(day)] = {true,
                              plan_.seriesAllows(pair.first, day) && plan_.seriesAllows(pair.second, day), 0};
    // What beside the rounds it costs to have a visit on a duty.
    const auto besideOf = [&](std::int32_t job, std::int32_t duty) {
        const Duty &d = p_.duties[at(duty)];
        double cost = plan_.fit(job, duty) - plan_.unplacedCost(job) + plan_.seriesCost(job, d.day) -
                      plan_.seriesCost(job, -1) + plan_.riderCost(job, duty) - plan_.riderCost(job, -1) +
                      plan_.secondNurseCost(job, duty);
        if (plan_.weekCosts())
            cost += plan_.unevenBase(p_.jobs[at(job)].points, 1) +
                    plan_.unevenPart(d.nurse, p_.jobs[at(job)].points, 1);
        return cost;
    };
    const auto places = [&](std::int32_t job, std::vector<Reach> &reaches, std::vector<double> &beside) {
        reaches.clear();
        reachable(job, plan_.dutiesFor(job), reaches);
        std::ranges::stable_sort(reaches, {}, &Reach::leastCost);
        beside.assign(p_.duties.size(), kImpossible);
        for (const Reach &reach : reaches)
            if (beside[at(reach.duty)] == kImpossible)
                beside[at(reach.duty)] = plan_.seriesAllowsNurse(job, p_.duties[at(reach.duty)].nurse)
                                             ? besideOf(job, reach.duty)
                                             : kImpossible;
    };
    places(pair.first, firsts_, besideFirst_);
    places(pair.second, seconds_, besideSecond_);
    Insertion best;
    best.cost = kImpossible;
    for (const Reach &a : firsts_) {
        if (blink.now())
            continue;
        const Duty &dutyA = p_.duties[at(a.duty)];
        for (const Reach &b : seconds_) {
            const Duty &dutyB = p_.duties[at(b.duty)];
            const bool isOneNurse = dutyA.nurse == dutyB.nurse;
            if (dutyA.day != dutyB.day || (isOneNurse && (pair.byAnother || b.position < a.position)))
                continue;
            const double beside = besideFirst_[at(a.duty)] + besideSecond_[at(b.duty)];
            if (a.leastCost + b.leastCost + beside >= best.cost + kSlack)
                continue;
            if (isOneNurse && static_cast<int>(plan_.route(a.duty).jobs.size()) + 2 > dutyA.mostVisits)
                continue;
            tryStarts(pair, a, b, beside, best);
        }
    }
    return best;
}

} // namespace kitround::rounds
