#include "core/rounds/search/Descent.h"

#include "core/base/Index.h"

#include <algorithm>

namespace kitround::rounds {

Descent::Descent(WorkingPlan &plan, Inserter &inserter, Recreate &recreate, const Nearness &near)
    : plan_(plan), inserter_(inserter), recreate_(recreate), near_(near), p_(plan.problem()) {}

double Descent::run(double cost, const std::function<bool()> &isOver) {
    cost_ = cost;
    const auto duties = static_cast<std::int32_t>(p_.duties.size());
    do {
        isBetter_ = false;
        for (const std::int32_t job : plan_.jobsInPlay()) {
            if (isOver())
                return cost_;
            moveVisit(job);
            if (plan_.hasLinks()) // all rounds hang together: what else is tried would be timed as a whole
                continue;
            const std::vector<std::int32_t> &near = near_.of(job);
            for (std::size_t k = 0; k < std::min(kNear, near.size()); ++k) {
                exchange(job, near[k]);
                for (std::size_t length = 2; length <= kLongestRun; ++length)
                    moveRun(job, length, near[k]);
                if (standsAlone(job) && standsAlone(near[k]))
                    exchangeEnds(plan_.placement(job).duty, positionOf(job), plan_.placement(near[k]).duty,
                                 positionOf(near[k]) + 1);
            }
        }
        for (std::size_t series = 0; series < p_.series.size() && !isOver(); ++series)
            chooseDays(static_cast<std::int32_t>(series));
        for (std::int32_t a = 0; a < duties && !plan_.hasLinks(); ++a)
            for (std::int32_t b = a + 1; b < duties && !isOver(); ++b)
                if (p_.duties[at(a)].day == p_.duties[at(b)].day && plan_.isDutyInPlay(a) &&
                    plan_.isDutyInPlay(b))
                    exchangeEnds(a, 0, b, 0);
    } while (isBetter_ && !isOver());
    return cost_;
}

bool Descent::keepIfCheaper() {
    const double cost = plan_.cost();
    if (cost >= cost_ - kHair) {
        plan_.rollBack();
        return false;
    }
    cost_ = cost;
    isBetter_ = true;
    plan_.mark();
    return true;
}

std::size_t Descent::positionOf(std::int32_t job) const {
    const std::vector<std::int32_t> &jobs = plan_.route(plan_.placement(job).duty).jobs;
    return static_cast<std::size_t>(std::ranges::find(jobs, job) - jobs.begin());
}

double Descent::travel(std::int32_t from, std::int32_t to) const {
    return p_.weights.travelMinute * plan_.travelFrom(from)[to];
}

bool Descent::mayGoTo(std::int32_t job, std::int32_t duty) const {
    const Duty &d = p_.duties[at(duty)];
    return plan_.allows(job, duty) && plan_.hasRoom(duty, job) && plan_.seriesAllows(job, d.day) &&
           plan_.seriesAllowsNurse(job, d.nurse);
}

bool Descent::putAt(std::int32_t job, std::int32_t duty, std::size_t position) {
    return mayGoTo(job, duty) && plan_.insert(job, duty, position);
}

// One without a place may find one too; a visit with a partner goes with it.
void Descent::moveVisit(std::int32_t job) {
    if (plan_.isPlaced(job))
        plan_.remove(job);
    recreate_.place(job);
    keepIfCheaper();
}

void Descent::chooseDays(std::int32_t series) {
    const std::vector<std::int32_t> &jobs = p_.series[at(series)].jobs;
    if (jobs.size() < 2 || std::ranges::none_of(jobs, [&](std::int32_t job) { return plan_.isInPlay(job); }))
        return;
    for (const std::int32_t job : jobs)
        if (plan_.isPlaced(job) && plan_.isInPlay(job))
            plan_.removeLater(job);
    plan_.settle();
    for (const std::int32_t job : jobs)
        recreate_.place(job);
    keepIfCheaper();
}

// Each where it fits best in the other's round. Looked at only where it costs less in the other's very place.
void Descent::exchange(std::int32_t a, std::int32_t b) {
    if (a > b || !standsAlone(a) || !standsAlone(b)) // each pair once
        return;
    const std::int32_t dutyA = plan_.placement(a).duty, dutyB = plan_.placement(b).duty;
    if (dutyA == dutyB || !plan_.allows(a, dutyB) || !plan_.allows(b, dutyA))
        return;
    const auto standing = [&](std::int32_t job, std::int32_t where,
                              std::int32_t duty) { // in the place of `where`
        const Route &r = plan_.route(duty);
        const std::size_t i = positionOf(where);
        const std::int32_t place = p_.jobs[at(job)].place;
        return travel(r.gaps[i].before, place) + travel(place, r.gaps[i + 1].after) + plan_.fit(job, duty);
    };
    if (standing(a, b, dutyB) + standing(b, a, dutyA) >= standing(a, a, dutyA) + standing(b, b, dutyB))
        return;
    plan_.removeLater(a);
    plan_.removeLater(b);
    plan_.settle();
    const auto putIn = [&](std::int32_t job, std::int32_t duty) {
        const Inserter::Spot spot = mayGoTo(job, duty) ? inserter_.spotIn(job, duty) : Inserter::Spot{};
        return spot.position >= 0 && plan_.insert(job, duty, at(spot.position));
    };
    if (putIn(a, dutyB) && putIn(b, dutyA))
        keepIfCheaper();
    else
        plan_.rollBack();
}

// The run that begins with `first`, to stand behind `behind`.
void Descent::moveRun(std::int32_t first, std::size_t length, std::int32_t behind) {
    if (!standsAlone(first) || !plan_.isPlaced(behind))
        return;
    const std::int32_t from = plan_.placement(first).duty, to = plan_.placement(behind).duty;
    const Route &old = plan_.route(from);
    const std::size_t i = positionOf(first), k = positionOf(behind);
    if (i + length > old.jobs.size() || (from == to && k + 1 >= i && k < i + length))
        return; // stands there, or in the run itself
    const auto end = old.jobs.begin() + static_cast<std::ptrdiff_t>(i + length);
    run_.assign(end - static_cast<std::ptrdiff_t>(length), end);
    double fits = 0;
    for (const std::int32_t job : run_) {
        if (plan_.isBound(job) || !plan_.allows(job, to))
            return;
        fits += plan_.fit(job, to) - plan_.fit(job, from);
    }
    const std::int32_t before = old.gaps[i].before, after = old.gaps[i + length].after;
    const Gap gap = plan_.route(to).gaps[k + 1];
    const double saved = travel(before, p_.jobs[at(run_.front())].place) +
                         travel(p_.jobs[at(run_.back())].place, after) - travel(before, after) +
                         travel(gap.before, gap.after);
    for (int way = 0; way < 2; ++way, std::ranges::reverse(run_)) {
        const double added = travel(gap.before, p_.jobs[at(run_.front())].place) +
                             travel(p_.jobs[at(run_.back())].place, gap.after);
        if (added + fits >= saved)
            continue;
        for (const std::int32_t job : run_)
            plan_.removeLater(job);
        plan_.settle();
        if (!plan_.isPlaced(behind)) { // travel without the triangle inequality
            plan_.rollBack();
            return;
        }
        std::size_t position = positionOf(behind);
        const bool fitsIn =
            std::ranges::all_of(run_, [&](std::int32_t job) { return putAt(job, to, ++position); });
        if (!fitsIn)
            plan_.rollBack();
        else if (keepIfCheaper())
            return;
    }
}

bool Descent::lessAtTheJoints(std::int32_t a, std::size_t fromA, std::int32_t b, std::size_t fromB) const {
    const Route &roundA = plan_.route(a), &roundB = plan_.route(b);
    const Gap &gapA = roundA.gaps[fromA], &gapB = roundB.gaps[fromB];
    double change = travel(gapA.before, gapB.after) + travel(gapB.before, gapA.after) -
                    travel(gapA.before, gapA.after) - travel(gapB.before, gapB.after);
    const auto moved = [&](const Route &round, std::size_t from, std::int32_t own, std::int32_t other) {
        for (std::size_t i = from; i < round.jobs.size(); ++i)
            change += plan_.fit(round.jobs[i], other) - plan_.fit(round.jobs[i], own);
    };
    moved(roundA, fromA, a, b);
    moved(roundB, fromB, b, a);
    return change < -kHair;
}

// From a place of each on; from 0 on: the whole days.
void Descent::exchangeEnds(std::int32_t a, std::size_t fromA, std::int32_t b, std::size_t fromB) {
    const std::vector<std::int32_t> &jobsA = plan_.route(a).jobs, &jobsB = plan_.route(b).jobs;
    if (a == b || (fromA >= jobsA.size() && fromB >= jobsB.size()) || !lessAtTheJoints(a, fromA, b, fromB))
        return;
    endA_.assign(jobsA.begin() + static_cast<std::ptrdiff_t>(fromA), jobsA.end());
    endB_.assign(jobsB.begin() + static_cast<std::ptrdiff_t>(fromB), jobsB.end());
    const auto mayAllGo = [&](const std::vector<std::int32_t> &jobs, std::int32_t duty) {
        return std::ranges::all_of(
            jobs, [&](std::int32_t job) { return !plan_.isBound(job) && plan_.allows(job, duty); });
    };
    if (!mayAllGo(endA_, b) || !mayAllGo(endB_, a))
        return;
    for (const std::vector<std::int32_t> *end : {&endA_, &endB_})
        for (const std::int32_t job : *end)
            plan_.removeLater(job);
    plan_.settle();
    const auto append = [&](const std::vector<std::int32_t> &jobs, std::int32_t duty) {
        return std::ranges::all_of(
            jobs, [&](std::int32_t job) { return putAt(job, duty, plan_.route(duty).jobs.size()); });
    };
    if (append(endB_, a) && append(endA_, b))
        keepIfCheaper();
    else
        plan_.rollBack();
}

} // namespace kitround::rounds
