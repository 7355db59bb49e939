#include "core/rounds/search/WorkingPlan.h"

#include "core/base/Index.h"
#include "core/rounds/problem/Fit.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

auto where(std::vector<std::int32_t> &jobs, std::size_t position) {
    return jobs.begin() + static_cast<std::ptrdiff_t>(position);
}

} // namespace

std::int32_t WorkingPlan::dayOf(std::int32_t job) const {
    return p_.duties[at(placement(job).duty)].day;
}

bool WorkingPlan::hasRoom(std::int32_t duty, std::int32_t job) const {
    const Route &r = route(duty);
    const Duty &d = p_.duties[at(duty)];
    return static_cast<int>(r.jobs.size()) < d.mostVisits && r.load + p_.jobs[at(job)].load <= d.mostLoad;
}

// Gaps and sums from the order of the jobs.
void WorkingPlan::describe(std::int32_t dutyIndex) {
    const Duty &duty = p_.duties[at(dutyIndex)];
    Route &r = routes_[at(dutyIndex)];
    const std::size_t n = r.jobs.size();
    isUsed_[at(dutyIndex)] = n > 0 ? 1 : 0;
    r.gaps.resize(n + 1);
    r.travel = r.direct = r.notes = 0;
    r.points = 0;
    r.load = 0;
    r.isPlain = !linked_ && timer_.dutyIsPlain(dutyIndex);
    Minute ready = duty.from;
    std::int32_t place = duty.startPlace;
    for (std::size_t i = 0; i < n; ++i) {
        const std::int32_t j = r.jobs[i];
        const Job &job = p_.jobs[at(j)];
        Gap &gap = r.gaps[i];
        gap.before = place;
        gap.after = job.place;
        gap.leg = travelFrom(place)[job.place];
        gap.ready = ready;
        r.travel += gap.leg;
        r.points += job.points;
        r.direct += job.length;
        r.notes += job.notes;
        r.load += job.load;
        r.isPlain = r.isPlain && timer_.jobIsPlain(j, duty.day);
        ready = std::max(ready + gap.leg, segment(j, duty.day).early) + job.length;
        place = job.place;
    }
    Gap &last = r.gaps[n];
    last = {place, duty.endPlace, travelFrom(place)[duty.endPlace], ready, duty.to};
    if (n > 0)
        r.travel += last.leg;
    Minute due = duty.to;
    for (std::size_t i = n; i-- > 0;) {
        const std::int32_t j = r.jobs[i];
        due = std::min(segment(j, duty.day).late, due - r.gaps[i + 1].leg - p_.jobs[at(j)].length);
        r.gaps[i].due = due;
    }
    if (hasSegments_)
        describeSegments(dutyIndex);
}

void WorkingPlan::describeSegments(std::int32_t dutyIndex) {
    const Duty &duty = p_.duties[at(dutyIndex)];
    Route &r = routes_[at(dutyIndex)];
    const std::size_t n = r.jobs.size();
    r.head.resize(n + 1);
    r.tail.resize(n + 1);
    r.head[0] = r.tail[n] = {0, 0, duty.from, duty.to};
    joinSegments(r, duty.day, 0, n);
}

// Heads behind `from` and tails before `to`, from those that stand.
void WorkingPlan::joinSegments(Route &r, std::int32_t day, std::size_t from, std::size_t to) const {
    for (std::size_t i = from; i < r.jobs.size(); ++i)
        r.head[i + 1] = joined(r.head[i], r.gaps[i].leg, segment(r.jobs[i], day));
    for (std::size_t i = to; i-- > 0;)
        r.tail[i] = joined(segment(r.jobs[i], day), r.gaps[i + 1].leg, r.tail[i + 1]);
}

// describe() where one visit came into a plain route: what lies before it leaves no later and what lies
// behind it is due no earlier than it was, so that each way ends where nothing changes any more.
void WorkingPlan::describeInserted(std::int32_t dutyIndex, std::size_t position) {
    const std::int32_t day = p_.duties[at(dutyIndex)].day;
    Route &r = routes_[at(dutyIndex)];
    const std::int32_t j = r.jobs[position];
    const Job &job = p_.jobs[at(j)];
    const TimeSegment own = segment(j, day);
    const Gap was = r.gaps[position];
    r.gaps.insert(r.gaps.begin() + static_cast<std::ptrdiff_t>(position), Gap{});
    Gap &to = r.gaps[position], &from = r.gaps[position + 1];
    to = {was.before, job.place, travelFrom(was.before)[job.place], was.ready, 0};
    from = {job.place, was.after, travelFrom(job.place)[was.after],
            std::max(was.ready + to.leg, own.early) + job.length, was.due};
    to.due = std::min(own.late, from.due - from.leg - job.length);
    const std::size_t n = r.jobs.size();
    isUsed_[at(dutyIndex)] = 1;
    r.travel += to.leg + from.leg - (n == 1 ? 0 : was.leg);
    r.points += job.points;
    r.direct += job.length;
    r.notes += job.notes;
    r.load += job.load;
    for (std::size_t i = position + 2; i <= n; ++i) {
        const std::int32_t before = r.jobs[i - 1];
        const Minute ready = std::max(r.gaps[i - 1].ready + r.gaps[i - 1].leg, segment(before, day).early) +
                             p_.jobs[at(before)].length;
        if (ready == r.gaps[i].ready)
            break;
        r.gaps[i].ready = ready;
    }
    for (std::size_t i = position; i-- > 0;) {
        const std::int32_t behind = r.jobs[i];
        const Minute due = std::min(segment(behind, day).late,
                                    r.gaps[i + 1].due - r.gaps[i + 1].leg - p_.jobs[at(behind)].length);
        if (due == r.gaps[i].due)
            break;
        r.gaps[i].due = due;
    }
    if (!hasSegments_)
        return;
    r.head.emplace_back();
    r.tail.insert(r.tail.begin() + static_cast<std::ptrdiff_t>(position), TimeSegment{});
    joinSegments(r, day, position, position + 1);
}

// A plain route has starts where nobody comes too late going as early as possible.
bool WorkingPlan::isOnTime(const Route &r) const {
    return r.jobs.empty() ||
           std::ranges::all_of(r.gaps, [](const Gap &gap) { return gap.ready + gap.leg <= gap.due; });
}

RouteCost WorkingPlan::plainCost(std::int32_t duty) const {
    const Route &r = route(duty);
    if (r.jobs.empty())
        return {};
    const Minute wait =
        timeCosts_ ? std::max(0, joined(r.head[0], r.gaps[0].leg, r.tail[0]).duration - r.travel - r.direct)
                   : 0;
    return {p_.weights.travelMinute * r.travel + p_.weights.waitMinute * wait,
            r.direct + r.notes + r.travel + wait};
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
    routeCost_ += sign * r.cost.cost;
    if (!weekCosts_)
        return;
    const std::int32_t nurse = p_.duties[at(duty)].nurse;
    paid_[hoursOf_[at(duty)]] += sign > 0 ? r.cost.paid : -r.cost.paid;
    points_[at(nurse)] += sign * r.points;
    allPoints_ += sign * r.points;
}

bool WorkingPlan::setRoute(std::int32_t duty, const std::vector<std::int32_t> &jobs) {
    const std::int32_t day = p_.duties[at(duty)].day;
    const bool isPlain = timer_.dutyIsPlain(duty) &&
                         std::ranges::all_of(jobs, [&](std::int32_t j) { return timer_.jobIsPlain(j, day); });
    RouteCost cost;
    if (!isPlain && !timer_.time(duty, jobs, pins_, starts_, cost))
        return false;
    saveRoute(duty);
    Route &r = routes_[at(duty)];
    if (isPlain)
        trialC_ = r.jobs;
    count(duty, -1);
    r.jobs = jobs;
    describe(duty);
    if (isPlain && !isOnTime(r)) {
        r.jobs = trialC_;
        describe(duty);
        count(duty, +1);
        return false;
    }
    if (isPlain)
        r.starts.clear();
    else
        r.starts = starts_;
    r.cost = isPlain ? plainCost(duty) : cost;
    r.version = nextVersion_++;
    count(duty, +1);
    return true;
}

bool WorkingPlan::fitsPlainly(std::int32_t job, std::int32_t duty, std::size_t position) const {
    const Gap &gap = route(duty).gaps[position];
    const Job &j = p_.jobs[at(job)];
    const TimeSegment own = segment(job, p_.duties[at(duty)].day);
    const Minute start = std::max(gap.ready + travelFrom(gap.before)[j.place], own.early);
    return start <= own.late && start + j.length + travelFrom(j.place)[gap.after] <= gap.due;
}

void WorkingPlan::place(std::int32_t job, std::int32_t duty, std::int32_t second, Minute pin) {
    saveJob(job);
    Placement &placement = placements_[at(job)];
    const std::int32_t series = p_.jobs[at(job)].series;
    const double gapBefore = series < 0 ? 0 : seriesCost(job, placement.isPlaced() ? dayOf(job) : -1);
    if (placement.isPlaced()) {
        fitCost_ -= fitNow(job);
    } else {
        unplacedCost_ -= unplacedCost(job);
    }
    noteUnplaced(job, duty < 0);
    secondNurseCost_ +=
        secondNurseCost(job, duty, second) - secondNurseCost(job, placement.duty, placement.secondDuty);
    placement = {duty, second, pin};
    pins_[at(job)] = pin;
    if (duty >= 0)
        fitCost_ += fitNow(job);
    else
        unplacedCost_ += unplacedCost(job);
    if (series >= 0)
        gapCost_ += seriesCost(job, duty < 0 ? -1 : p_.duties[at(duty)].day) - gapBefore;
}

void WorkingPlan::noteUnplaced(std::int32_t job, bool isUnplaced) {
    std::int32_t &index = whereUnplaced_[at(job)];
    if (isUnplaced == (index >= 0))
        return;
    if (isUnplaced) {
        index = static_cast<std::int32_t>(unplaced_.size());
        unplaced_.push_back(job);
        return;
    }
    const std::int32_t last = unplaced_.back();
    unplaced_[at(index)] = last;
    whereUnplaced_[at(last)] = index;
    unplaced_.pop_back();
    index = -1;
}

bool WorkingPlan::insert(std::int32_t job, std::int32_t duty, std::size_t position) {
    Route &r = routes_[at(duty)];
    if (r.isPlain && timer_.jobIsPlain(job, p_.duties[at(duty)].day)) {
        if (!fitsPlainly(job, duty, position))
            return false;
        saveRoute(duty);
        count(duty, -1);
        r.jobs.insert(where(r.jobs, position), job);
        describeInserted(duty, position);
        r.cost = plainCost(duty);
        r.version = nextVersion_++;
        count(duty, +1);
    } else {
        trial_ = r.jobs;
        trial_.insert(where(trial_, position), job);
        if (!setRoute(duty, trial_))
            return false;
    }
    place(job, duty, -1, -1);
    return true;
}

bool WorkingPlan::insertPair(std::int32_t job, std::int32_t first, std::size_t firstPosition,
                             std::int32_t second, std::size_t secondPosition, Minute start) {
    trial_ = route(first).jobs;
    trial_.insert(where(trial_, firstPosition), job);
    trialB_ = route(second).jobs;
    trialB_.insert(where(trialB_, secondPosition), job);
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

bool WorkingPlan::insertFollowing(const Spot &first, const Spot &second) {
    const bool isOneRound = first.duty == second.duty;
    trial_ = route(first.duty).jobs;
    trialB_ = route(second.duty).jobs;
    trial_.insert(where(trial_, first.position), first.job);
    if (isOneRound)
        trial_.insert(where(trial_, second.position + 1), second.job);
    else
        trialB_.insert(where(trialB_, second.position), second.job);
    const Minute pinsBefore[] = {pins_[at(first.job)], pins_[at(second.job)]};
    pins_[at(first.job)] = first.start;
    pins_[at(second.job)] = second.start;
    RouteCost cost;
    const bool fits = (isOneRound || timer_.time(second.duty, trialB_, pins_, starts_, cost)) &&
                      setRoute(first.duty, trial_) && (isOneRound || setRoute(second.duty, trialB_));
    pins_[at(first.job)] = pinsBefore[0]; // place() saves what was
    pins_[at(second.job)] = pinsBefore[1];
    if (!fits)
        return false;
    place(first.job, first.duty, -1, first.start);
    place(second.job, second.duty, -1, second.start);
    return true;
}

void WorkingPlan::putLinked(std::int32_t job, std::int32_t duty, std::size_t position) {
    saveRoute(duty);
    count(duty, -1);
    Route &r = routes_[at(duty)];
    r.jobs.insert(where(r.jobs, position), job);
    r.starts.insert(where(r.starts, position), -1);
    describe(duty);
    count(duty, +1);
    place(job, duty, -1, -1);
}

bool WorkingPlan::insertLinked(std::int32_t job, std::int32_t duty, std::size_t position,
                               std::int32_t secondDuty, std::size_t secondPosition) {
    putLinked(job, duty, position);
    if (secondDuty >= 0)
        putLinked(linked_->partner(job), secondDuty, secondPosition);
    takeStartsFromLinked();
    return isPlaced(job);
}

// Times all rounds together and brings every round that moved up to date. Should travel without the triangle
// inequality leave no starts, visits that are late go until there are some.
void WorkingPlan::takeStartsFromLinked() {
    for (std::int32_t late = linked_->load(routes_); late >= 0; late = linked_->load(routes_)) {
        removeLater(late);
        for (std::size_t i = 0; i < open_.size(); ++i)
            settle(open_[i]);
        open_.clear();
    }
    for (std::size_t d = 0; d < routes_.size(); ++d) {
        const Route &r = routes_[d];
        const auto isStill = [&] {
            for (std::size_t i = 0; i < r.jobs.size(); ++i)
                if (r.starts[i] != linked_->start(r.jobs[i]))
                    return false;
            return true;
        };
        const auto duty = static_cast<std::int32_t>(d);
        if (isStill())
            continue;
        saveRoute(duty);
        count(duty, -1);
        Route &moved = routes_[d];
        for (std::size_t i = 0; i < moved.jobs.size(); ++i)
            moved.starts[i] = linked_->start(moved.jobs[i]);
        moved.cost = timer_.costOf(duty, moved.jobs, moved.starts);
        moved.version = nextVersion_++;
        count(duty, +1);
    }
}

void WorkingPlan::take(std::int32_t job, std::int32_t duty) {
    Route &r = routes_[at(duty)];
    if (!r.isOpen) {
        saveRoute(duty);
        count(duty, -1);
        r.isOpen = true;
        open_.push_back(duty);
    }
    const auto index = std::ranges::find(r.jobs, job) - r.jobs.begin();
    r.jobs.erase(r.jobs.begin() + index);
    if (!r.isPlain)
        r.starts.erase(r.starts.begin() + index);
}

void WorkingPlan::removeLater(std::int32_t job) {
    const Placement was = placement(job);
    take(job, was.duty);
    if (was.secondDuty >= 0)
        take(job, was.secondDuty);
    place(job, -1, -1, -1);
    if (const std::int32_t partner = partnerOf(job); partner >= 0 && isPlaced(partner))
        removeLater(partner);
}

void WorkingPlan::remove(std::int32_t job) {
    removeLater(job);
    settle();
}

void WorkingPlan::settle() {
    for (std::size_t i = 0; i < open_.size(); ++i)
        settle(open_[i]);
    open_.clear();
    if (linked_)
        takeStartsFromLinked();
}

void WorkingPlan::settle(std::int32_t duty) {
    Route &r = routes_[at(duty)];
    if (!r.isOpen)
        return;
    // Leaving out a visit keeps the others possible where travel obeys the triangle inequality; with a table
    // of minutes that does not, the old starts still stand, or where none were chosen the late ones go.
    const bool hadStarts = !r.isPlain;
    describe(duty);
    if (r.isPlain) {
        if (!isOnTime(r)) {
            const auto late =
                std::ranges::find_if(r.gaps, [](const Gap &gap) { return gap.ready + gap.leg > gap.due; });
            const auto i = std::min<std::ptrdiff_t>(late - r.gaps.begin(),
                                                    static_cast<std::ptrdiff_t>(r.jobs.size()) - 1);
            const std::int32_t job = r.jobs[static_cast<std::size_t>(i)];
            if (hadStarts)
                r.starts.clear();
            r.isPlain = true;
            removeLater(job);
            return settle(duty);
        }
        r.cost = plainCost(duty);
    } else if (linked_) {
        r.cost = timer_.costOf(duty, r.jobs, r.starts); // timed with all others in a moment
    } else if (timer_.time(duty, r.jobs, pins_, starts_, r.cost)) {
        r.starts = starts_;
    } else {
        r.cost = timer_.costOf(duty, r.jobs, r.starts);
    }
    r.isOpen = false;
    r.version = nextVersion_++;
    count(duty, +1);
}

void WorkingPlan::adoptPlacement(std::int32_t job, const Placement &placement) {
    const Placement &now = placements_[at(job)];
    if (now.duty != placement.duty || now.secondDuty != placement.secondDuty || now.start != placement.start)
        place(job, placement.duty, placement.secondDuty, placement.start);
}

void WorkingPlan::adoptRound(std::int32_t duty, const std::vector<std::int32_t> &jobs,
                             const std::vector<Minute> &starts) {
    Route &r = routes_[at(duty)];
    if (r.jobs == jobs && r.starts == starts)
        return;
    count(duty, -1);
    r.jobs = jobs;
    r.starts = starts;
    describe(duty);
    r.cost = r.isPlain ? plainCost(duty) : timer_.costOf(duty, r.jobs, r.starts);
    r.version = nextVersion_++;
    count(duty, +1);
}

void WorkingPlan::adopted() {
    if (linked_)
        linked_->load(routes_);
    mark();
}

void WorkingPlan::mark() {
    savedRouteCount_ = 0;
    savedJobs_.clear();
    touched_.clear();
    ++stamp_;
    savedPaid_ = paid_;
    savedPoints_ = points_;
    savedSums_[0] = routeCost_;
    savedSums_[1] = fitCost_;
    savedSums_[2] = gapCost_;
    savedSums_[3] = unplacedCost_;
    savedSums_[4] = allPoints_;
    savedSums_[5] = secondNurseCost_;
}

void WorkingPlan::rollBack() {
    for (std::size_t i = 0; i < savedRouteCount_; ++i) {
        Route &route = routes_[at(savedRoutes_[i].duty)];
        std::swap(route, savedRoutes_[i].route);
        isUsed_[at(savedRoutes_[i].duty)] = route.jobs.empty() ? 0 : 1;
    }
    for (auto saved = savedJobs_.rbegin(); saved != savedJobs_.rend(); ++saved) {
        placements_[at(saved->job)] = saved->placement;
        pins_[at(saved->job)] = saved->pin;
        noteUnplaced(saved->job, !saved->placement.isPlaced());
    }
    paid_ = savedPaid_;
    points_ = savedPoints_;
    routeCost_ = savedSums_[0];
    fitCost_ = savedSums_[1];
    gapCost_ = savedSums_[2];
    unplacedCost_ = savedSums_[3];
    allPoints_ = savedSums_[4];
    secondNurseCost_ = savedSums_[5];
    if (linked_)
        linked_->load(routes_);
    mark();
}

double WorkingPlan::cost() {
    double sum = routeCost_ + fitCost_ + gapCost_ + unplacedCost_ + secondNurseCost_;
    if (linked_)
        sum += p_.weights.worstSoft * linked_->worst();
    if (weekCosts_) {
        for (std::size_t hours = 0; hours < paid_.size(); ++hours)
            sum += overtimeCost(hours, paid_[hours]);
        for (std::size_t n = 0; n < points_.size(); ++n)
            sum += p_.weights.uneven * unevenness(points_[n], allPoints_, shares_[n]);
    }
    if (!p_.riders.empty()) {
        riders_.assign(placements_, riderJob_);
        sum += riders_.cost(riderJob_);
    }
    return sum;
}

WeekPlan WorkingPlan::plan() {
    WeekPlan plan;
    plan.placements = placements_;
    RouteCost cost;
    for (std::size_t d = 0; d < routes_.size(); ++d) {
        const Route &r = routes_[d];
        if (r.isPlain)
            timer_.time(static_cast<std::int32_t>(d), r.jobs, pins_, starts_, cost);
        const std::vector<Minute> &starts = r.isPlain ? starts_ : r.starts;
        for (std::size_t i = 0; i < r.jobs.size(); ++i)
            plan.placements[at(r.jobs[i])].start = starts[i];
    }
    riders_.assign(placements_, plan.riderJob);
    plan.cost = this->cost();
    return plan;
}

} // namespace kitround::rounds
