// Visits by two nurses at once: a place in either round and a common start.
#include "core/base/Index.h"
#include "core/rounds/problem/Fit.h"
#include "core/rounds/search/Insertion.h"

#include <algorithm>
#include <array>

namespace kitround::rounds {
namespace {

// Evenness and shorter waits can win back a little; beyond that a pair of places is hopeless.
constexpr double kSlackOfTwo = 60;

} // namespace

void Inserter::reachable(std::int32_t job, const std::vector<std::int32_t> &duties,
                         std::vector<Reach> &out) const {
    const Job &j = p_.jobs[at(job)];
    for (const std::int32_t dutyIndex : duties) {
        const Duty &duty = p_.duties[at(dutyIndex)];
        if (!plan_.hasRoom(dutyIndex, job) || !dayViews_[at(duty.day)].isAllowed)
            continue;
        const Route &r = plan_.route(dutyIndex);
        const TimeSegment own = plan_.segment(job, duty.day);
        const std::size_t n = r.jobs.size();
        for (std::size_t i = 0; i <= n; ++i) {
            const std::int32_t before = i == 0 ? duty.startPlace : p_.jobs[at(r.jobs[i - 1])].place;
            const std::int32_t after = i == n ? duty.endPlace : p_.jobs[at(r.jobs[i])].place;
            const Minute in = p_.travel.minutesBetween(at(before), at(j.place));
            const Minute away = p_.travel.minutesBetween(at(j.place), at(after));
            const Minute saved = n == 0 ? 0 : p_.travel.minutesBetween(at(before), at(after));
            Reach reach{dutyIndex, i, p_.weights.travelMinute * (in + away - saved), 0, 0, 0, 0};
            reach.from = std::max(own.early, r.head[i].earliestEnd() + in);
            reach.to = std::min(own.late, r.tail[i].late - away - j.length);
            reach.headReady = r.head[i].late + r.head[i].duration + in;
            reach.tailReady = r.tail[i].early - away - j.length;
            if (reach.from <= reach.to)
                out.push_back(reach);
        }
    }
}

bool Inserter::timeAt(std::int32_t job, const Reach &reach, Minute start, RouteCost &cost) {
    trial_ = plan_.route(reach.duty).jobs;
    trial_.insert(trial_.begin() + static_cast<std::ptrdiff_t>(reach.position), job);
    pins_[at(job)] = start;
    return plan_.timer().time(reach.duty, trial_, pins_, starts_, cost);
}

// At the best of the starts that both rounds have, where that is cheaper than `best`.
void Inserter::tryTwo(std::int32_t job, const Reach &a, const Reach &b, const BesideTwo &beside,
                      Insertion &best) {
    const Job &j = p_.jobs[at(job)];
    const Minute from = std::max(a.from, b.from);
    const Minute to = std::min(a.to, b.to);
    // Either round's waiting is convex in the common start and bends only here.
    std::array<Minute, 7> tries{from, to, a.headReady, a.tailReady, b.headReady, b.tailReady, from};
    if (j.publishedStart >= 0)
        tries[6] = j.publishedStart;
    for (Minute &t : tries)
        t = std::clamp(t, from, to);
    std::ranges::sort(tries);
    const auto distinct = std::ranges::unique(tries);
    for (auto t = tries.begin(); t != distinct.begin(); ++t) {
        const Minute start = *t;
        RouteCost costA, costB;
        if (!timeAt(job, a, start, costA) || !timeAt(job, b, start, costB))
            continue;
        const RouteCost &nowA = plan_.route(a.duty).cost;
        const RouteCost &nowB = plan_.route(b.duty).cost;
        double cost = costA.cost - nowA.cost + costB.cost - nowB.cost + beside.fit + beside.day;
        cost += plan_.overtimeDelta(a.duty, costA.paid - nowA.paid) +
                plan_.overtimeDelta(b.duty, costB.paid - nowB.paid);
        if (plan_.weekCosts())
            cost += beside.uneven + plan_.unevenPart(p_.duties[at(a.duty)].nurse, j.points, 2) +
                    plan_.unevenPart(p_.duties[at(b.duty)].nurse, j.points, 2);
        if (cost < best.cost)
            best = {cost, a.duty, a.position, b.duty, b.position, start};
    }
}

Insertion Inserter::bestOfTwo(std::int32_t job, Blink blink, double *second) {
    if (second)
        *second = kImpossible;
    for (std::int32_t day = 0; day < p_.days; ++day)
        dayViews_[at(day)] = {true, plan_.seriesAllows(job, day), 0};
    const double gapNow = plan_.seriesCost(job, -1);
    const double ridersNow = plan_.riderCost(job, -1);
    BesideTwo beside;
    beside.uneven = plan_.unevenBase(p_.jobs[at(job)].points, 2);
    pins_.assign(plan_.pins().begin(), plan_.pins().end());
    firsts_.clear();
    seconds_.clear();
    reachable(job, plan_.dutiesFor(job), firsts_);
    reachable(job, plan_.secondsFor(job), seconds_);
    const auto nurseOf = [&](const Reach &reach) { return p_.duties[at(reach.duty)].nurse; };
    std::erase_if(firsts_, [&](const Reach &a) { return !plan_.seriesAllowsNurse(job, nurseOf(a)); });
    std::erase_if(seconds_, [&](const Reach &b) { return !plan_.followsAllowNurse(job, nurseOf(b)); });
    std::erase_if(firsts_, [&](const Reach &) { return blink.now(); });
    // Each pair of places that has a common start, with the least it can cost.
    const auto forAll = [&](auto &&look) {
        for (const Reach &a : firsts_) {
            const std::int32_t day = p_.duties[at(a.duty)].day;
            beside.day = plan_.seriesCost(job, day) - gapNow + plan_.riderCost(job, a.duty) - ridersNow -
                         plan_.unplacedCost(job);
            for (const Reach &b : seconds_) {
                if (b.duty == a.duty || p_.duties[at(b.duty)].day != day ||
                    std::max(a.from, b.from) > std::min(a.to, b.to))
                    continue;
                beside.fit =
                    fitCost(p_, job, a.duty, b.duty).total() + plan_.secondNurseCost(job, a.duty, b.duty);
                look(a, b, a.leastCost + b.leastCost + beside.fit + beside.day);
            }
        }
    };
    // The likeliest first: what is far above it need not be timed at all.
    double least = kImpossible;
    Insertion likeliest{kImpossible, -1, 0, -1, 0, -1, -1}, best = likeliest;
    const Reach *likelyA = nullptr, *likelyB = nullptr;
    BesideTwo likely;
    forAll([&](const Reach &a, const Reach &b, double bound) {
        if (bound >= least)
            return;
        least = bound;
        likelyA = &a;
        likelyB = &b;
        likely = beside;
    });
    if (!likelyA)
        return {};
    tryTwo(job, *likelyA, *likelyB, likely, likeliest);
    forAll([&](const Reach &a, const Reach &b, double bound) {
        if (bound < std::min(likeliest.cost, best.cost) + kSlackOfTwo)
            tryTwo(job, a, b, beside, best);
    });
    if (best.isFound())
        return best;
    return likeliest.isFound() ? likeliest : Insertion{}; // it won back more than the slack
}

} // namespace kitround::rounds
