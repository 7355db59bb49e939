#include "core/rounds/search/WorkingPlan.h"

#include "core/rounds/problem/Fit.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

constexpr std::size_t at(std::int32_t i) {
    return static_cast<std::size_t>(i);
}

void addSorted(std::vector<std::int32_t> &list, std::int32_t value) {
    list.insert(std::ranges::lower_bound(list, value), value);
}
void eraseSorted(std::vector<std::int32_t> &list, std::int32_t value) {
    list.erase(std::ranges::lower_bound(list, value));
}

} // namespace

WorkingPlan::WorkingPlan(const WeekProblem &problem)
    : p_(problem), timer_(problem), riders_(problem), shares_(fairShares(problem)) {
    const std::size_t jobs = p_.jobs.size();
    const std::size_t duties = p_.duties.size();
    allowed_.assign(jobs * duties, 0);
    fit_.assign(jobs * duties, 0);
    dutiesFor_.resize(jobs);
    secondsFor_.resize(jobs);
    ridersOf_.resize(jobs);
    homeOf_.resize(jobs);
    placements_.resize(jobs);
    pins_.assign(jobs, -1);
    routes_.resize(duties);
    paid_.assign(p_.nurses.size(), 0);
    points_.assign(p_.nurses.size(), 0);
    touchStamp_.assign(duties, 0);
    RouteCost cost;
    for (std::size_t j = 0; j < jobs; ++j) {
        const auto job = static_cast<std::int32_t>(j);
        unplaced_.push_back(job);
        unplacedCost_ += unplacedCost(job);
        for (std::size_t d = 0; d < duties; ++d) {
            const auto duty = static_cast<std::int32_t>(d);
            trial_ = {job};
            if (p_.duties[d].mostVisits < 1 || !timer_.time(duty, trial_, {}, starts_, cost))
                continue;
            if (standingRules(p_, job, duty, Role::First).empty()) {
                allowed_[index(job, duty)] = 1;
                dutiesFor_[j].push_back(duty);
                fit_[index(job, duty)] = fitCost(p_, job, duty, -1).total();
            }
            if (p_.jobs[j].twoNurses && standingRules(p_, job, duty, Role::Second).empty())
                secondsFor_[j].push_back(duty);
        }
        for (std::size_t r = 0; r < p_.riders.size(); ++r)
            if (p_.riders[r].patient == p_.jobs[j].patient)
                ridersOf_[j].push_back(static_cast<std::int32_t>(r));
        if (!ridersOf_[j].empty())
            for (std::size_t k = 0; k < jobs; ++k)
                if (p_.jobs[k].patient == p_.jobs[j].patient)
                    homeOf_[j].push_back(static_cast<std::int32_t>(k));
    }
    for (const Series &series : p_.series) {
        std::vector<std::int32_t> days = series.fixedDays;
        std::ranges::sort(days);
        gapCost_ += p_.weights.gapDay * daysTooFar(series, days);
    }
    for (std::size_t d = 0; d < duties; ++d)
        rebuildSegments(static_cast<std::int32_t>(d));
    mark();
}

std::int32_t WorkingPlan::dayOf(std::int32_t job) const {
    return p_.duties[at(placement(job).duty)].day;
}

TimeSegment WorkingPlan::segment(std::int32_t job, std::int32_t day) const {
    return timer_.segmentOf(job, day, pins_[at(job)]);
}

bool WorkingPlan::isFull(std::int32_t duty) const {
    return static_cast<int>(route(duty).jobs.size()) >= p_.duties[at(duty)].mostVisits;
}

void WorkingPlan::rebuildSegments(std::int32_t dutyIndex) {
    const Duty &duty = p_.duties[at(dutyIndex)];
    Route &r = routes_[at(dutyIndex)];
    const std::size_t n = r.jobs.size();
    r.head.resize(n + 1);
    r.tail.resize(n + 1);
    r.travel = r.direct = r.notes = 0;
    r.points = 0;
    r.isPlain = timer_.dutyIsPlain(dutyIndex);
    const DayClock clock(p_, duty);
    r.head[0] = {0, 0, duty.from, duty.to};
    std::int32_t place = duty.startPlace;
    for (std::size_t i = 0; i < n; ++i) {
        const Job &job = p_.jobs[at(r.jobs[i])];
        const Minute travel = clock.travelBetween(place, job.place);
        r.travel += travel;
        r.points += job.points;
        r.direct += job.length;
        r.notes += job.notes;
        r.isPlain = r.isPlain && timer_.jobIsPlain(r.jobs[i], duty.day);
        r.head[i + 1] = joined(r.head[i], travel, segment(r.jobs[i], duty.day));
        place = job.place;
    }
    if (n > 0)
        r.travel += clock.travelBetween(place, duty.endPlace);
    r.tail[n] = {0, 0, duty.from, duty.to};
    place = duty.endPlace;
    for (std::size_t i = n; i-- > 0;) {
        const Job &job = p_.jobs[at(r.jobs[i])];
        r.tail[i] =
            joined(segment(r.jobs[i], duty.day), clock.travelBetween(job.place, place), r.tail[i + 1]);
        place = job.place;
    }
}

void WorkingPlan::saveRoute(std::int32_t duty) {
    if (touchStamp_[at(duty)] == stamp_)
        return;
    touchStamp_[at(duty)] = stamp_;
    touched_.push_back(duty);
    if (savedRouteCount_ == savedRoutes_.size())
        savedRoutes_.emplace_back();
    savedRoutes_[savedRouteCount_].duty = duty;
    savedRoutes_[savedRouteCount_].route = routes_[at(duty)];
    ++savedRouteCount_;
}

void WorkingPlan::saveJob(std::int32_t job) {
    savedJobs_.push_back({job, placements_[at(job)], pins_[at(job)]});
}

// Takes a route's sums out of (-1) or into (+1) the totals.
void WorkingPlan::count(std::int32_t duty, double sign) {
    const Route &r = routes_[at(duty)];
    const std::int32_t nurse = p_.duties[at(duty)].nurse;
    routeCost_ += sign * r.cost.cost;
    paid_[at(nurse)] += sign > 0 ? r.cost.paid : -r.cost.paid;
    points_[at(nurse)] += sign * r.points;
    allPoints_ += sign * r.points;
}

bool WorkingPlan::setRoute(std::int32_t duty, const std::vector<std::int32_t> &jobs) {
    RouteCost cost;
    if (!timer_.time(duty, jobs, pins_, starts_, cost))
        return false;
    saveRoute(duty);
    count(duty, -1);
    Route &r = routes_[at(duty)];
    r.jobs = jobs;
    r.starts = starts_;
    r.cost = cost;
    r.version = nextVersion_++;
    rebuildSegments(duty);
    count(duty, +1);
    return true;
}

void WorkingPlan::place(std::int32_t job, std::int32_t duty, std::int32_t second, Minute pin) {
    saveJob(job);
    Placement &placement = placements_[at(job)];
    const std::int32_t series = p_.jobs[at(job)].series;
    const double gapBefore = series < 0 ? 0 : seriesCost(job, placement.isPlaced() ? dayOf(job) : -1);
    if (placement.isPlaced()) {
        fitCost_ -= placement.secondDuty < 0 ? fit(job, placement.duty)
                                             : fitCost(p_, job, placement.duty, placement.secondDuty).total();
    } else {
        unplacedCost_ -= unplacedCost(job);
        eraseSorted(unplaced_, job);
    }
    placement = {duty, second, pin};
    pins_[at(job)] = pin;
    if (duty >= 0) {
        fitCost_ += second < 0 ? fit(job, duty) : fitCost(p_, job, duty, second).total();
    } else {
        unplacedCost_ += unplacedCost(job);
        addSorted(unplaced_, job);
    }
    if (series >= 0)
        gapCost_ += seriesCost(job, duty < 0 ? -1 : p_.duties[at(duty)].day) - gapBefore;
}

bool WorkingPlan::insert(std::int32_t job, std::int32_t duty, std::size_t position) {
    trial_ = route(duty).jobs;
    trial_.insert(trial_.begin() + static_cast<std::ptrdiff_t>(position), job);
    if (!setRoute(duty, trial_))
        return false;
    place(job, duty, -1, -1);
    return true;
}

bool WorkingPlan::insertPair(std::int32_t job, std::int32_t first, std::size_t firstPosition,
                             std::int32_t second, std::size_t secondPosition, Minute start) {
    trial_ = route(first).jobs;
    trial_.insert(trial_.begin() + static_cast<std::ptrdiff_t>(firstPosition), job);
    trialB_ = route(second).jobs;
    trialB_.insert(trialB_.begin() + static_cast<std::ptrdiff_t>(secondPosition), job);
    const Minute pinBefore = pins_[at(job)];
    pins_[at(job)] = start;
    RouteCost cost;
    const bool fits = timer_.time(second, trialB_, pins_, starts_, cost) && setRoute(first, trial_) &&
                      setRoute(second, trialB_);
    pins_[at(job)] = pinBefore; // place() saves what was
    if (!fits)
        return false;
    place(job, first, second, start);
    return true;
}

void WorkingPlan::remove(std::int32_t job) {
    const Placement was = placement(job);
    for (const std::int32_t duty : {was.duty, was.secondDuty}) {
        if (duty < 0)
            continue;
        trial_ = route(duty).jobs;
        std::erase(trial_, job);
        // Leaving out a visit keeps the others possible where travel obeys the triangle inequality; with a
        // table of minutes that does not, the old starts still stand.
        if (!setRoute(duty, trial_)) {
            saveRoute(duty);
            count(duty, -1);
            Route &r = routes_[at(duty)];
            const auto where = std::ranges::find(r.jobs, job) - r.jobs.begin();
            r.jobs.erase(r.jobs.begin() + where);
            r.starts.erase(r.starts.begin() + where);
            r.cost = timer_.costOf(duty, r.jobs, r.starts);
            r.version = nextVersion_++;
            rebuildSegments(duty);
            count(duty, +1);
        }
    }
    place(job, -1, -1, -1);
}

bool WorkingPlan::replace(std::int32_t duty, const std::vector<std::int32_t> &jobs) {
    return setRoute(duty, jobs);
}

bool WorkingPlan::replace(std::int32_t dutyA, const std::vector<std::int32_t> &jobsA, std::int32_t dutyB,
                          const std::vector<std::int32_t> &jobsB) {
    RouteCost cost;
    if (!timer_.time(dutyB, jobsB, pins_, starts_, cost) || !setRoute(dutyA, jobsA) ||
        !setRoute(dutyB, jobsB))
        return false;
    for (const auto &[duty, jobs] : {std::pair{dutyA, &jobsA}, std::pair{dutyB, &jobsB}})
        for (const std::int32_t job : *jobs)
            if (placement(job).secondDuty < 0 && placement(job).duty != duty)
                place(job, duty, -1, -1);
    return true;
}

void WorkingPlan::mark() {
    savedRouteCount_ = 0;
    savedJobs_.clear();
    touched_.clear();
    ++stamp_;
    savedUnplaced_ = unplaced_;
    savedPaid_ = paid_;
    savedPoints_ = points_;
    savedSums_[0] = routeCost_;
    savedSums_[1] = fitCost_;
    savedSums_[2] = gapCost_;
    savedSums_[3] = unplacedCost_;
    savedSums_[4] = allPoints_;
}

void WorkingPlan::rollBack() {
    for (std::size_t i = 0; i < savedRouteCount_; ++i)
        std::swap(routes_[at(savedRoutes_[i].duty)], savedRoutes_[i].route);
    for (auto saved = savedJobs_.rbegin(); saved != savedJobs_.rend(); ++saved) {
        placements_[at(saved->job)] = saved->placement;
        pins_[at(saved->job)] = saved->pin;
    }
    unplaced_ = savedUnplaced_;
    paid_ = savedPaid_;
    points_ = savedPoints_;
    routeCost_ = savedSums_[0];
    fitCost_ = savedSums_[1];
    gapCost_ = savedSums_[2];
    unplacedCost_ = savedSums_[3];
    allPoints_ = savedSums_[4];
    mark();
}

double WorkingPlan::overtimeCost(std::int32_t nurse, Minute paid) const {
    return p_.weights.overtimeMinute * overtimeOf(p_.nurses[at(nurse)], paid);
}

double WorkingPlan::overtimeDelta(std::int32_t nurse, Minute added) const {
    return overtimeCost(nurse, paidOf(nurse) + added) - overtimeCost(nurse, paidOf(nurse));
}

double WorkingPlan::unevenBase(double points, int times) const {
    double delta = 0;
    for (std::size_t n = 0; n < points_.size(); ++n)
        delta += unevenness(points_[n], allPoints_ + times * points, shares_[n]) -
                 unevenness(points_[n], allPoints_, shares_[n]);
    return p_.weights.uneven * delta;
}

double WorkingPlan::unevenPart(std::int32_t nurse, double points, int times) const {
    const std::size_t n = at(nurse);
    const double all = allPoints_ + times * points;
    return p_.weights.uneven *
           (unevenness(points_[n] + points, all, shares_[n]) - unevenness(points_[n], all, shares_[n]));
}

double WorkingPlan::unevenShift(std::int32_t from, std::int32_t to, double points) const {
    if (from == to)
        return 0;
    const auto change = [&](std::int32_t n, double by) {
        return unevenness(points_[at(n)] + by, allPoints_, shares_[at(n)]) -
               unevenness(points_[at(n)], allPoints_, shares_[at(n)]);
    };
    return p_.weights.uneven * (change(from, -points) + change(to, points));
}

void WorkingPlan::daysWithout(std::int32_t job, std::vector<std::int32_t> &days) const {
    const Series &series = p_.series[at(p_.jobs[at(job)].series)];
    days = series.fixedDays;
    for (const std::int32_t other : series.jobs)
        if (other != job && isPlaced(other))
            days.push_back(dayOf(other));
}

bool WorkingPlan::seriesAllows(std::int32_t job, std::int32_t day) const {
    const std::int32_t series = p_.jobs[at(job)].series;
    if (series < 0)
        return true;
    daysWithout(job, days_);
    const std::int32_t least = leastGapOf(p_.series[at(series)]);
    return std::ranges::none_of(days_, [&](std::int32_t other) { return std::abs(other - day) < least; });
}

double WorkingPlan::seriesCost(std::int32_t job, std::int32_t day) const {
    const std::int32_t series = p_.jobs[at(job)].series;
    if (series < 0)
        return 0;
    daysWithout(job, days_);
    if (day >= 0)
        days_.push_back(day);
    std::ranges::sort(days_);
    return p_.weights.gapDay * daysTooFar(p_.series[at(series)], days_);
}

double WorkingPlan::riderCost(std::int32_t job, std::int32_t dutyIndex) const {
    if (ridersOf_[at(job)].empty())
        return 0;
    double cost = 0;
    bool needsCourier = false;
    for (const std::int32_t r : ridersOf_[at(job)]) {
        const Rider &rider = p_.riders[at(r)];
        const auto carries = [&](std::int32_t d) {
            const Duty &duty = p_.duties[at(d)];
            return duty.day >= rider.earliestDay && duty.day <= rider.latestDay &&
                   p_.nurses[at(duty.nurse)].carSpaceMl >= rider.spaceMl;
        };
        const bool isCarried = std::ranges::any_of(homeOf_[at(job)], [&](std::int32_t k) {
            const std::int32_t d = k == job ? dutyIndex : placement(k).duty;
            return d >= 0 && carries(d);
        });
        if (isCarried)
            continue;
        if (rider.courierPossible)
            needsCourier = true;
        else
            cost += p_.weights.undelivered;
    }
    return cost + (needsCourier ? p_.weights.courierRun : 0);
}

double WorkingPlan::unplacedCost(std::int32_t job) const {
    return p_.weights.unplaced[static_cast<std::size_t>(p_.jobs[at(job)].priority)];
}

double WorkingPlan::fit(std::int32_t job, std::int32_t duty) const {
    return fit_[index(job, duty)];
}

double WorkingPlan::cost() {
    double sum = routeCost_ + fitCost_ + gapCost_ + unplacedCost_;
    for (std::size_t n = 0; n < paid_.size(); ++n)
        sum += overtimeCost(static_cast<std::int32_t>(n), paid_[n]) +
               p_.weights.uneven * unevenness(points_[n], allPoints_, shares_[n]);
    if (!p_.riders.empty()) {
        riders_.assign(placements_, riderJob_);
        sum += riders_.cost(riderJob_);
    }
    return sum;
}

WeekPlan WorkingPlan::plan() {
    WeekPlan plan;
    plan.placements = placements_;
    for (const Route &r : routes_)
        for (std::size_t i = 0; i < r.jobs.size(); ++i)
            plan.placements[at(r.jobs[i])].start = r.starts[i];
    riders_.assign(placements_, plan.riderJob);
    plan.cost = cost();
    return plan;
}

} // namespace kitround::rounds
