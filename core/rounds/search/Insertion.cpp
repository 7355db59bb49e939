#include "core/rounds/search/Insertion.h"

#include "core/base/Index.h"

#include <algorithm>

namespace kitround::rounds {

Inserter::Inserter(WorkingPlan &plan) : plan_(plan), p_(plan.problem()) {
    spots_.resize(plan_.tableSize());
    dayViews_.resize(at(p_.days));
    pins_.assign(p_.jobs.size(), -1);
    findKin();
}

// An untouched route has version 0 as the unlooked spot has; hence one more.
const Inserter::Spot &Inserter::boundIn(std::int32_t job, std::int32_t duty) {
    Spot &spot = spots_[plan_.index(job, duty)];
    const Route &r = plan_.route(duty);
    if (spot.version == r.version + 1)
        return spot;
    if (r.isPlain && plan_.timer().jobIsPlain(job, p_.duties[at(duty)].day)) {
        spot = lookPlain(job, duty);
    } else {
        fillPlaces(job, duty);
        spot = {0, kImpossible, 0, -1, false};
        for (const Bounded &place : places_)
            spot.routeCost = std::min(spot.routeCost, place.cost.cost - r.cost.cost);
    }
    spot.version = r.version + 1;
    return spot;
}

const Inserter::Spot &Inserter::spotIn(std::int32_t job, std::int32_t duty) {
    Spot &spot = spots_[plan_.index(job, duty)];
    const std::uint64_t version = plan_.route(duty).version + 1;
    if (spot.version != version || !spot.isTimed) {
        spot = look(job, duty);
        spot.version = version;
    }
    return spot;
}

// Near the contract a minute costs more than its travel; the sums of the week decide the rest later.
double Inserter::minuteCost(std::int32_t job, std::int32_t duty) const {
    const Job &j = p_.jobs[at(job)];
    const bool isNear = plan_.weekCosts() && plan_.overtimeDelta(duty, j.length + j.notes + 30) > 0;
    return isNear ? p_.weights.overtimeMinute : 0;
}

// Every place in the order that the segments allow, with what the route costs there at least.
void Inserter::fillPlaces(std::int32_t job, std::int32_t dutyIndex) {
    places_.clear();
    if (!plan_.hasRoom(dutyIndex, job))
        return;
    const Route &r = plan_.route(dutyIndex);
    const Duty &duty = p_.duties[at(dutyIndex)];
    const Weights &w = p_.weights;
    const TimeSegment own = plan_.segment(job, duty.day);
    const Job &j = p_.jobs[at(job)];
    const std::size_t n = r.jobs.size();
    const Minute direct = r.direct + j.length;
    const Minute notes = r.notes + j.notes;
    const double minute = minuteCost(job, dutyIndex);
    const Minute *in = plan_.travelTo(j.place);
    const Minute *out = plan_.travelFrom(j.place);
    for (std::size_t i = 0; i <= n; ++i) {
        const Gap &gap = r.gaps[i];
        const Minute start = std::max(gap.ready + in[gap.before], own.early);
        if (start > own.late || start + j.length + out[gap.after] > gap.due)
            continue;
        const Minute travel = r.travel + in[gap.before] + out[gap.after] - (n == 0 ? 0 : gap.leg);
        Minute wait = 0;
        if (plan_.hasSegments()) {
            const TimeSegment whole =
                joined(joined(r.head[i], in[gap.before], own), out[gap.after], r.tail[i]);
            wait = std::max(0, whole.duration - travel - direct - duty.breakLength);
        }
        const RouteCost cost{w.travelMinute * travel + w.waitMinute * wait, direct + notes + travel + wait};
        places_.push_back({cost.cost + minute * cost.paid, static_cast<std::int32_t>(i), cost});
    }
}

// Where only travel costs: the least detour that the clock allows.
Inserter::Spot Inserter::lookNearest(std::int32_t job, std::int32_t dutyIndex) const {
    Spot best{0, kImpossible, 0, -1, true};
    if (!plan_.hasRoom(dutyIndex, job))
        return best;
    const Route &r = plan_.route(dutyIndex);
    const Job &j = p_.jobs[at(job)];
    const TimeSegment own = plan_.segment(job, p_.duties[at(dutyIndex)].day);
    const Minute *const in = plan_.travelTo(j.place);
    const Minute *const out = plan_.travelFrom(j.place);
    const Minute early = own.early, late = own.late, length = j.length;
    const Minute saved = r.jobs.empty() ? r.gaps[0].leg : 0; // nobody drives an empty round
    Minute least = std::numeric_limits<Minute>::max();
    const Gap *found = nullptr;
    for (const Gap *gap = r.gaps.data(), *end = gap + r.gaps.size(); gap != end && gap->ready <= late;
         ++gap) {
        const Minute there = in[gap->before], away = out[gap->after];
        const Minute added = there + away - gap->leg;
        if (added >= least)
            continue;
        const Minute start = std::max(gap->ready + there, early);
        if (start <= late && start + length + away <= gap->due) {
            least = added;
            found = gap;
        }
    }
    if (!found)
        return best;
    best.position = static_cast<std::int32_t>(found - r.gaps.data());
    best.routeCost = p_.weights.travelMinute * (least + saved);
    best.paid = least + saved + length + j.notes;
    return best;
}

// Where gaps and segments tell the whole truth nothing needs timing.
Inserter::Spot Inserter::lookPlain(std::int32_t job, std::int32_t dutyIndex) const {
    if (!plan_.timeCosts())
        return lookNearest(job, dutyIndex);
    Spot best{0, kImpossible, 0, -1, true};
    if (!plan_.hasRoom(dutyIndex, job))
        return best;
    const Route &r = plan_.route(dutyIndex);
    const Job &j = p_.jobs[at(job)];
    const Weights &w = p_.weights;
    const TimeSegment own = plan_.segment(job, p_.duties[at(dutyIndex)].day);
    const Minute *in = plan_.travelTo(j.place);
    const Minute *out = plan_.travelFrom(j.place);
    const bool isEmpty = r.jobs.empty();
    const double minute = minuteCost(job, dutyIndex);
    const Minute work = j.length + j.notes;
    double least = kImpossible;
    for (std::size_t i = 0; i < r.gaps.size(); ++i) {
        const Gap &gap = r.gaps[i];
        if (gap.ready > own.late)
            break; // and later ones no earlier
        const Minute there = in[gap.before];
        const Minute away = out[gap.after];
        const Minute added = there + away - (isEmpty ? 0 : gap.leg);
        const Minute start = std::max(gap.ready + there, own.early);
        if (start > own.late || start + j.length + away > gap.due)
            continue;
        const Minute travel = r.travel + added;
        const double driven = w.travelMinute * travel + minute * (r.direct + r.notes + work + travel);
        if (driven >= least)
            continue;
        const TimeSegment whole = joined(joined(r.head[i], there, own), away, r.tail[i]);
        const Minute wait = std::max(0, whole.duration - travel - r.direct - j.length);
        const double value = driven + (w.waitMinute + minute) * wait;
        if (value < least) {
            least = value;
            best.routeCost = w.travelMinute * travel + w.waitMinute * wait - r.cost.cost;
            best.paid = r.direct + r.notes + work + travel + wait - r.cost.paid;
            best.position = static_cast<std::int32_t>(i);
        }
    }
    return best;
}

Inserter::Spot Inserter::look(std::int32_t job, std::int32_t dutyIndex) {
    const Route &r = plan_.route(dutyIndex);
    if (r.isPlain && plan_.timer().jobIsPlain(job, p_.duties[at(dutyIndex)].day))
        return lookPlain(job, dutyIndex);
    Spot best{0, kImpossible, 0, -1, true};
    fillPlaces(job, dutyIndex);
    const double minute = minuteCost(job, dutyIndex);
    // Nearest to the bound first: mostly the first that is timed settles it.
    std::ranges::sort(places_, {}, [](const Bounded &b) { return std::pair(b.bound, b.position); });
    double least = kImpossible;
    for (Bounded &place : places_) {
        if (place.bound >= least)
            break;
        trial_ = r.jobs;
        trial_.insert(trial_.begin() + place.position, job);
        if (!plan_.timer().time(dutyIndex, trial_, plan_.pins(), starts_, place.cost))
            continue;
        const double value = place.cost.cost + minute * place.cost.paid;
        if (value < least) {
            least = value;
            best.routeCost = place.cost.cost - r.cost.cost;
            best.paid = place.cost.paid - r.cost.paid;
            best.position = place.position;
        }
    }
    return best;
}

Insertion Inserter::best(std::int32_t job, Blink blink, double *second) {
    if (second)
        *second = kImpossible;
    if (plan_.hasLinks())
        return bestLinked(job, blink, second);
    if (const Follow *pair = plan_.pairOf(job))
        return bestFollowing(*pair, blink);
    return p_.jobs[at(job)].twoNurses ? bestOfTwo(job, blink, second) : bestOfOne(job, blink, second);
}

Insertion Inserter::bestOfOne(std::int32_t job, Blink blink, double *second) {
    const std::int32_t series = p_.jobs[at(job)].series;
    const bool isOfSeries = series >= 0 || plan_.followsByDays(job);
    const bool oneNurse = (series >= 0 && p_.series[at(series)].oneNurse) || plan_.followsByDays(job);
    if (isOfSeries)
        std::ranges::fill(dayViews_, DayView{false, false, 0});
    const double gapNow = isOfSeries ? plan_.seriesCost(job, -1) : 0;
    const bool weekCosts = plan_.weekCosts();
    const bool hangsOnHome = plan_.hangsOnHome(job);
    const double homeNow = hangsOnHome ? plan_.homeCost(job, -1) : 0;
    const double points = p_.jobs[at(job)].points;
    const double always = (weekCosts ? plan_.unevenBase(points, 1) : 0) - plan_.unplacedCost(job);
    // What the week says of each duty, without its clock. The innermost step of a search: else left a call.
    const auto beside = [&](std::int32_t duty) __attribute__((always_inline)) {
        const Duty &d = p_.duties[at(duty)];
        double cost = plan_.fit(job, duty) + always;
        if (isOfSeries)
            cost += dayViews_[at(d.day)].gapCost;
        if (weekCosts)
            cost += plan_.unevenPart(d.nurse, points, 1);
        if (hangsOnHome)
            cost += plan_.homeCost(job, duty) - homeNow;
        return cost;
    };
    Insertion best;
    double least = kImpossible;
    const auto keep = [&](std::int32_t duty, const Spot &spot, double soFar) {
        const double cost = weekCosts ? soFar + plan_.overtimeDelta(duty, spot.paid) : soFar;
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
    };
    queue_.clear();
    for (const std::int32_t duty : plan_.dutiesFor(job)) {
        if (plan_.isSpare(duty))
            continue;
        const std::int32_t day = p_.duties[at(duty)].day;
        if (isOfSeries) {
            DayView &view = dayViews_[at(day)];
            if (!view.isKnown)
                view = {true, plan_.seriesAllows(job, day), plan_.seriesCost(job, day) - gapNow};
            if (!view.isAllowed || (oneNurse && !plan_.seriesAllowsNurse(job, p_.duties[at(duty)].nurse)))
                continue;
        }
        const Spot &spot = boundIn(job, duty);
        if (spot.routeCost == kImpossible || blink.now())
            continue;
        const double bound = spot.routeCost + beside(duty);
        if (spot.isTimed)
            keep(duty, spot, bound);
        else
            queue_.emplace_back(bound, duty);
    }
    std::ranges::sort(queue_);
    for (const auto &[bound, duty] : queue_) {
        if (bound >= (second ? *second : least))
            break;
        const Spot &spot = spotIn(job, duty);
        if (spot.position >= 0)
            keep(duty, spot, spot.routeCost + beside(duty));
    }
    return best;
}

bool Inserter::apply(std::int32_t job, const Insertion &i) {
    if (const Follow *pair = plan_.pairOf(job))
        return plan_.insertFollowing({pair->first, i.duty, i.position, i.start},
                                     {pair->second, i.secondDuty, i.secondPosition, i.secondStart});
    if (plan_.hasLinks())
        return plan_.insertLinked(job, i.duty, i.position, i.secondDuty, i.secondPosition);
    if (i.secondDuty >= 0)
        return plan_.insertPair(job, i.duty, i.position, i.secondDuty, i.secondPosition, i.start);
    return plan_.insert(job, i.duty, i.position);
}

} // namespace kitround::rounds
