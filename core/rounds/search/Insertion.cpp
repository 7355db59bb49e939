#include "core/rounds/search/Insertion.h"

#include "core/rounds/problem/Fit.h"

#include <algorithm>
#include <array>
#include <limits>

namespace kitround::rounds {
namespace {

constexpr std::size_t at(std::int32_t i) {
    return static_cast<std::size_t>(i);
}
constexpr double kInfinity = std::numeric_limits<double>::infinity();

} // namespace

Inserter::Inserter(WorkingPlan &plan) : plan_(plan), p_(plan.problem()) {
    spots_.resize(p_.jobs.size() * p_.duties.size());
    dayViews_.resize(at(p_.days));
    pins_.assign(p_.jobs.size(), -1);
}

// An untouched route has version 0 as the unlooked spot has; hence one more.
const Inserter::Spot &Inserter::boundIn(std::int32_t job, std::int32_t duty) {
    Spot &spot = spots_[at(job) * p_.duties.size() + at(duty)];
    const std::uint64_t version = plan_.route(duty).version + 1;
    if (spot.version != version) {
        fillPlaces(job, duty);
        spot = {version, false, kInfinity, 0, -1};
        for (const Bounded &place : places_)
            spot.routeCost = std::min(spot.routeCost, place.cost.cost - plan_.route(duty).cost.cost);
    }
    return spot;
}

const Inserter::Spot &Inserter::spotIn(std::int32_t job, std::int32_t duty) {
    Spot &spot = spots_[at(job) * p_.duties.size() + at(duty)];
    const std::uint64_t version = plan_.route(duty).version + 1;
    if (spot.version != version || !spot.isTimed) {
        spot = look(job, duty);
        spot.version = version;
        spot.isTimed = true;
    }
    return spot;
}

// Every place in the order that the segments allow, with what the route costs there at least.
void Inserter::fillPlaces(std::int32_t job, std::int32_t dutyIndex) {
    places_.clear();
    if (plan_.isFull(dutyIndex))
        return;
    const Route &r = plan_.route(dutyIndex);
    const Duty &duty = p_.duties[at(dutyIndex)];
    const Weights &w = p_.weights;
    const TimeSegment own = plan_.segment(job, duty.day);
    const Job &j = p_.jobs[at(job)];
    const std::size_t n = r.jobs.size();
    const Minute direct = r.direct + j.length;
    const Minute notes = r.notes + j.notes;
    // Near the contract a minute costs more than its travel; the sums of the week decide the rest later.
    minuteCost_ = plan_.overtimeDelta(duty.nurse, j.length + j.notes + 30) > 0 ? w.overtimeMinute : 0;
    const auto travelBetween = [&](std::int32_t a, std::int32_t b) {
        return p_.travel.minutesBetween(at(a), at(b));
    };
    for (std::size_t i = 0; i <= n; ++i) {
        const std::int32_t before = i == 0 ? duty.startPlace : p_.jobs[at(r.jobs[i - 1])].place;
        const std::int32_t after = i == n ? duty.endPlace : p_.jobs[at(r.jobs[i])].place;
        const Minute in = travelBetween(before, j.place);
        const Minute out = travelBetween(j.place, after);
        const TimeSegment whole = joined(joined(r.head[i], in, own), out, r.tail[i]);
        if (whole.warp > 0)
            continue;
        const Minute travel = r.travel + in + out - (n == 0 ? 0 : travelBetween(before, after));
        const Minute wait = std::max(0, whole.duration - travel - direct - duty.breakLength);
        const RouteCost cost{w.travelMinute * travel + w.waitMinute * wait, direct + notes + travel + wait};
        places_.push_back({cost.cost + minuteCost_ * cost.paid, static_cast<std::int32_t>(i), cost});
    }
}

Inserter::Spot Inserter::look(std::int32_t job, std::int32_t dutyIndex) {
    Spot best;
    best.routeCost = kInfinity;
    fillPlaces(job, dutyIndex);
    const Route &r = plan_.route(dutyIndex);
    const bool isExact = r.isPlain && plan_.timer().jobIsPlain(job, p_.duties[at(dutyIndex)].day);
    // Nearest to the bound first: mostly the first that is timed settles it.
    std::ranges::sort(places_, {}, [](const Bounded &b) { return std::pair(b.bound, b.position); });
    double least = kInfinity;
    for (Bounded &place : places_) {
        if (place.bound >= least)
            break;
        if (!isExact) {
            trial_ = r.jobs;
            trial_.insert(trial_.begin() + place.position, job);
            if (!plan_.timer().time(dutyIndex, trial_, plan_.pins(), starts_, place.cost))
                continue;
        }
        const double value = place.cost.cost + minuteCost_ * place.cost.paid;
        if (value < least) {
            least = value;
            best.routeCost = place.cost.cost - r.cost.cost;
            best.paid = place.cost.paid - r.cost.paid;
            best.position = place.position;
        }
    }
    return best;
}

Insertion Inserter::best(std::int32_t job, Random *random, double blink, double *second) {
    std::ranges::fill(dayViews_, DayView{false, false, 0});
    if (second)
        *second = kInfinity;
    return p_.jobs[at(job)].twoNurses ? bestOfTwo(job, random, blink, second)
                                      : bestOfOne(job, random, blink, second);
}

Insertion Inserter::bestOfOne(std::int32_t job, Random *random, double blink, double *second) {
    const double gapNow = plan_.seriesCost(job, -1);
    const double ridersNow = plan_.riderCost(job, -1);
    const double points = p_.jobs[at(job)].points;
    const double always = plan_.unevenBase(points, 1) - plan_.unplacedCost(job);
    // What the week says of each duty, without its clock.
    const auto beside = [&](std::int32_t duty) {
        const Duty &d = p_.duties[at(duty)];
        return plan_.fit(job, duty) + dayViews_[at(d.day)].gapCost + always +
               plan_.unevenPart(d.nurse, points, 1) + plan_.riderCost(job, duty) - ridersNow;
    };
    queue_.clear();
    for (const std::int32_t duty : plan_.dutiesFor(job)) {
        const std::int32_t day = p_.duties[at(duty)].day;
        DayView &view = dayViews_[at(day)];
        if (!view.isKnown)
            view = {true, plan_.seriesAllows(job, day), plan_.seriesCost(job, day) - gapNow};
        if (!view.isAllowed || (random && blink > 0 && random->chance(blink)))
            continue;
        const Spot &spot = boundIn(job, duty);
        if (spot.routeCost < kInfinity)
            queue_.emplace_back(spot.routeCost + beside(duty), duty);
    }
    std::ranges::sort(queue_);
    Insertion best;
    double least = kInfinity;
    for (const auto &[bound, duty] : queue_) {
        if (bound >= (second ? *second : least))
            break;
        const Spot &spot = spotIn(job, duty);
        if (spot.position < 0)
            continue;
        const double cost =
            spot.routeCost + beside(duty) + plan_.overtimeDelta(p_.duties[at(duty)].nurse, spot.paid);
        if (cost < least) {
            if (second)
                *second = least;
            least = cost;
            best.cost = cost;
            best.duty = duty;
            best.position = at(spot.position);
        } else if (second && cost < *second) {
            *second = cost;
        }
    }
    return best;
}

void Inserter::reachable(std::int32_t job, const std::vector<std::int32_t> &duties,
                         std::vector<Reach> &out) const {
    const Job &j = p_.jobs[at(job)];
    for (const std::int32_t dutyIndex : duties) {
        const Duty &duty = p_.duties[at(dutyIndex)];
        if (plan_.isFull(dutyIndex) || !dayViews_[at(duty.day)].isAllowed)
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
    pins_.assign(plan_.pins().begin(), plan_.pins().end());
    pins_[at(job)] = start;
    return plan_.timer().time(reach.duty, trial_, pins_, starts_, cost);
}

Insertion Inserter::bestOfTwo(std::int32_t job, Random *random, double blink, double *second) {
    for (std::int32_t day = 0; day < p_.days; ++day)
        dayViews_[at(day)] = {true, plan_.seriesAllows(job, day), 0};
    const double gapNow = plan_.seriesCost(job, -1);
    const double ridersNow = plan_.riderCost(job, -1);
    const double uneven = plan_.unevenBase(p_.jobs[at(job)].points, 2);
    std::vector<Reach> firsts, seconds;
    reachable(job, plan_.dutiesFor(job), firsts);
    reachable(job, plan_.secondsFor(job), seconds);
    Insertion best;
    double least = kInfinity;
    for (const Reach &a : firsts) {
        if (random && blink > 0 && random->chance(blink))
            continue;
        const Duty &dutyA = p_.duties[at(a.duty)];
        const double dayCost = plan_.seriesCost(job, dutyA.day) - gapNow + plan_.riderCost(job, a.duty) -
                               ridersNow - plan_.unplacedCost(job);
        for (const Reach &b : seconds) {
            const Duty &dutyB = p_.duties[at(b.duty)];
            if (b.duty == a.duty || dutyB.day != dutyA.day)
                continue;
            const Minute from = std::max(a.from, b.from);
            const Minute to = std::min(a.to, b.to);
            if (from > to)
                continue;
            const double fit = fitCost(p_, job, a.duty, b.duty).total();
            const double bound = a.leastCost + b.leastCost + fit + dayCost;
            // Evenness and shorter waits can win back a little; beyond that the pair is hopeless.
            if (bound >= least + 60)
                continue;
            const Job &j = p_.jobs[at(job)];
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
                double cost = costA.cost - nowA.cost + costB.cost - nowB.cost + fit + dayCost;
                cost += plan_.overtimeDelta(dutyA.nurse, costA.paid - nowA.paid) +
                        plan_.overtimeDelta(dutyB.nurse, costB.paid - nowB.paid);
                cost += uneven + plan_.unevenPart(dutyA.nurse, j.points, 2) +
                        plan_.unevenPart(dutyB.nurse, j.points, 2);
                if (cost < least) {
                    least = cost;
                    best = {cost, a.duty, a.position, b.duty, b.position, start};
                }
            }
        }
    }
    if (second)
        *second = kInfinity;
    return best;
}

bool Inserter::apply(std::int32_t job, const Insertion &i) {
    if (i.secondDuty >= 0)
        return plan_.insertPair(job, i.duty, i.position, i.secondDuty, i.secondPosition, i.start);
    return plan_.insert(job, i.duty, i.position);
}

} // namespace kitround::rounds
