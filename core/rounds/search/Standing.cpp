#include "core/rounds/search/Standing.h"

#include "core/base/Index.h"
#include "core/rounds/problem/Fit.h"
#include "core/rounds/problem/HomeVisits.h"

#include <algorithm>
#include <limits>
#include <span>

namespace kitround::rounds {

Standing::Standing(const WeekProblem &problem, const WeekPlan &before) : p_(problem), timer_(problem) {
    pairOf_.assign(p_.jobs.size(), -1);
    for (const Follow &follow : p_.follows)
        if (follow.unit == GapUnit::Minute) {
            pairOf_[at(follow.first)] = follow.second;
            pairOf_[at(follow.second)] = follow.first;
        }
    keep(before);
    choose(before);
}

bool Standing::mayStay(std::int32_t job, const Placement &placement) const {
    if (!placement.isPlaced() || !mayStand(p_, job, placement.duty, Role::First))
        return false;
    const bool isOfTwo = placement.secondDuty >= 0;
    if (isOfTwo != p_.jobs[at(job)].twoNurses)
        return false;
    return !isOfTwo || mayStand(p_, job, placement.secondDuty, Role::Second);
}

void Standing::keep(const WeekPlan &before) {
    kept_.placements.resize(p_.jobs.size());
    rounds_.resize(p_.duties.size());
    pins_.assign(p_.jobs.size(), -1);
    isOpen_.assign(p_.duties.size(), 1);
    for (std::size_t j = 0; j < std::min(p_.jobs.size(), before.placements.size()); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        const Placement &placement = before.placements[j];
        if (!mayStay(job, placement))
            continue;
        kept_.placements[j] = placement;
        if (p_.jobs[j].twoNurses || pairOf_[j] >= 0)
            pins_[j] = placement.start;
        for (const std::int32_t duty : {placement.duty, placement.secondDuty})
            if (duty >= 0)
                rounds_[at(duty)].push_back(job);
    }
    for (std::vector<std::int32_t> &round : rounds_)
        std::ranges::stable_sort(round, {},
                                 [&](std::int32_t job) { return kept_.placements[at(job)].start; });
    for (std::size_t j = 0; j < p_.jobs.size(); ++j) // the search places the two together
        if (pairOf_[j] >= 0 && !kept_.placements[j].isPlaced())
            drop(pairOf_[j]);
    do
        timeAll();
    while (dropBreakers());
}

void Standing::drop(std::int32_t job) {
    Placement &placement = kept_.placements[at(job)];
    if (!placement.isPlaced())
        return;
    for (const std::int32_t duty : {placement.duty, placement.secondDuty})
        if (duty >= 0) {
            std::erase(rounds_[at(duty)], job);
            isOpen_[at(duty)] = 1;
        }
    placement = {};
    pins_[at(job)] = -1;
    if (pairOf_[at(job)] >= 0)
        drop(pairOf_[at(job)]);
}

void Standing::timeAll() {
    for (auto open = std::ranges::find(isOpen_, char{1}); open != isOpen_.end();
         open = std::ranges::find(isOpen_, char{1})) {
        *open = 0;
        timeRound(static_cast<std::int32_t>(open - isOpen_.begin()));
    }
}

bool Standing::hasStarts(std::int32_t duty, const std::vector<std::int32_t> &round) {
    const Duty &d = p_.duties[at(duty)];
    std::int64_t load = 0;
    for (const std::int32_t job : round)
        load += p_.jobs[at(job)].load;
    RouteCost cost;
    return round.empty() || (static_cast<int>(round.size()) <= d.mostVisits && load <= d.mostLoad &&
                             timer_.time(duty, round, pins_, starts_, cost));
}

// As it stands; else in its order what the visits before leave room for.
void Standing::timeRound(std::int32_t duty) {
    if (!hasStarts(duty, rounds_[at(duty)])) {
        const std::vector<std::int32_t> all = rounds_[at(duty)];
        std::vector<std::int32_t> round;
        for (const std::int32_t job : all) {
            if (!kept_.placements[at(job)].isPlaced()) // went with its other half
                continue;
            round.push_back(job);
            if (!hasStarts(duty, round)) {
                round.pop_back();
                drop(job);
            }
        }
        std::erase_if(round, [&](std::int32_t job) { return !kept_.placements[at(job)].isPlaced(); });
        isOpen_[at(duty)] = 0;
        if (!hasStarts(duty, round)) { // travel without the triangle inequality
            for (const std::int32_t job : round)
                drop(job);
            isOpen_[at(duty)] = 0;
            return;
        }
    }
    for (std::size_t i = 0; i < rounds_[at(duty)].size(); ++i)
        kept_.placements[at(rounds_[at(duty)][i])].start = starts_[i];
}

// Of the rules between rounds: one visit at a time, since without it others may keep theirs.
bool Standing::dropBreakers() {
    const std::vector<RuleBreak> broken = evaluate(p_, kept_).broken;
    bool isAny = false;
    for (const RuleBreak &rule : broken) {
        if (rule.job >= 0 && kept_.placements[at(rule.job)].isPlaced()) {
            drop(rule.job);
            isAny = true;
        } else if (rule.job < 0 && rule.duty >= 0 && !rounds_[at(rule.duty)].empty()) {
            drop(rounds_[at(rule.duty)].back());
            isAny = true;
        }
    }
    return isAny;
}

void Standing::choose(const WeekPlan &before) {
    takesPart_.assign(p_.nurses.size(), 0);
    if (p_.nurses.size() <= kNurses) {
        widen();
        return;
    }
    const std::vector<std::int32_t> jobs = affected(before);
    takeRelated(before, jobs);
    if (jobs.size() * kNursesEach < p_.nurses.size() * 2) // else nearly everybody is near one of them
        takeNearest(jobs);
    else
        takingPart_ = p_.nurses.size();
    if (takingPart_ == p_.nurses.size())
        widen();
    else
        fillScope();
}

// Without a place that could have one, or late by more than people put up with.
std::vector<std::int32_t> Standing::affected(const WeekPlan &before) const {
    std::vector<std::int32_t> jobs;
    for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
        const Placement &is = kept_.placements[j];
        const bool isOff = is.isPlaced() ? std::abs(is.start - before.placements[j].start) > kStillMinutes
                                         : hasAnyDay(p_.jobs[j]);
        if (isOff)
            jobs.push_back(static_cast<std::int32_t>(j));
    }
    return jobs;
}

void Standing::takeNurse(std::int32_t nurse) {
    if (nurse < 0 || takesPart_[at(nurse)] != 0)
        return;
    takesPart_[at(nurse)] = 1;
    ++takingPart_;
}

// Who had them, who knows the patient, who makes the patient's other visits, and those of the series: its
// days may have to move.
void Standing::takeRelated(const WeekPlan &before, const std::vector<std::int32_t> &jobs) {
    const auto takeDuty = [&](std::int32_t duty) {
        if (duty >= 0)
            takeNurse(p_.duties[at(duty)].nurse);
    };
    const HomeVisits homes(p_);
    for (const std::int32_t j : jobs) {
        const Job &job = p_.jobs[at(j)];
        if (at(j) < before.placements.size()) {
            takeDuty(before.placements[at(j)].duty);
            takeDuty(before.placements[at(j)].secondDuty);
        }
        takeNurse(job.primaryNurse);
        std::ranges::for_each(job.knownNurses, [&](std::int32_t nurse) { takeNurse(nurse); });
        const auto takeVisitors = [&](std::span<const std::int32_t> others) {
            for (const std::int32_t other : others) {
                takeDuty(kept_.placements[at(other)].duty);
                takeDuty(kept_.placements[at(other)].secondDuty);
            }
        };
        takeVisitors(homes.besides(j));
        if (job.series >= 0)
            takeVisitors(p_.series[at(job.series)].jobs);
    }
}

std::vector<std::int32_t> Standing::nearest(std::int32_t job) const {
    constexpr Minute kFar = std::numeric_limits<Minute>::max();
    std::vector<Minute> far(p_.nurses.size(), kFar);
    const std::size_t here = at(p_.jobs[at(job)].place);
    for (std::size_t d = 0; d < p_.duties.size(); ++d) {
        const Duty &duty = p_.duties[d];
        const auto index = static_cast<std::int32_t>(d);
        const bool isSecond = p_.jobs[at(job)].twoNurses && mayStand(p_, job, index, Role::Second);
        if (duty.mostVisits < 1 || (!isSecond && !mayStand(p_, job, index, Role::First)))
            continue;
        Minute &least = far[at(duty.nurse)];
        least = std::min(least, p_.travel.minutesBetween(at(duty.startPlace), here));
        for (const std::int32_t other : rounds_[d])
            least = std::min(least, p_.travel.minutesBetween(at(p_.jobs[at(other)].place), here));
    }
    std::vector<std::int32_t> nurses;
    for (std::size_t n = 0; n < far.size(); ++n)
        if (far[n] < kFar)
            nurses.push_back(static_cast<std::int32_t>(n));
    std::ranges::stable_sort(nurses, {}, [&](std::int32_t nurse) { return far[at(nurse)]; });
    return nurses;
}

// The nearest of each visit, then the next of each.
void Standing::takeNearest(const std::vector<std::int32_t> &jobs) {
    std::vector<std::vector<std::int32_t>> near;
    std::size_t longest = 0;
    for (const std::int32_t job : jobs) {
        near.push_back(nearest(job));
        longest = std::max(longest, near.back().size());
    }
    for (std::size_t rank = 0; rank < longest && (rank < kNursesEach || takingPart_ < kNurses); ++rank)
        for (const std::vector<std::int32_t> &nurses : near)
            if (rank < nurses.size())
                takeNurse(nurses[rank]);
}

void Standing::fillScope() {
    scope_.duties.resize(p_.duties.size());
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        scope_.duties[d] = takesPart_[at(p_.duties[d].nurse)];
    scope_.jobs.resize(p_.jobs.size());
    const auto isIn = [&](std::size_t job) {
        const Placement &placement = kept_.placements[job];
        if (!placement.isPlaced())
            return hasAnyDay(p_.jobs[job]);
        return !p_.jobs[job].hasBegun &&
               (scope_.duties[at(placement.duty)] != 0 &&
                (placement.secondDuty < 0 || scope_.duties[at(placement.secondDuty)] != 0));
    };
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        scope_.jobs[j] = isIn(j) && (pairOf_[j] < 0 || isIn(at(pairOf_[j]))) ? 1 : 0;
}

void Standing::widen() {
    isWhole_ = true;
    scope_.jobs.assign(p_.jobs.size(), 1);
    scope_.duties.assign(p_.duties.size(), 1);
}

bool Standing::lost(const WeekPlan &after) const {
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        if (scope_.jobs[j] == 0 && kept_.placements[j].isPlaced() && !after.placements[j].isPlaced())
            return true;
    return false;
}

} // namespace kitround::rounds
