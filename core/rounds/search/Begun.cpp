#include "core/rounds/search/Begun.h"

#include "core/base/Index.h"
#include "core/rounds/problem/Riders.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

std::int32_t dutyOn(const WeekProblem &problem, std::int32_t nurse, std::int32_t day) {
    const auto found = std::ranges::find_if(
        problem.duties, [&](const Duty &duty) { return duty.nurse == nurse && duty.day == day; });
    return nurse < 0 || found == problem.duties.end()
               ? -1
               : static_cast<std::int32_t>(found - problem.duties.begin());
}

// Where a visit that has begun is, or where people were told the visit will be.
Placement standingPlace(const WeekProblem &problem, const Job &job) {
    Placement place;
    place.start = job.hasBegun ? job.lockedStart : job.publishedStart;
    if (place.start < 0)
        return {};
    place.duty = job.hasBegun ? dutyOn(problem, job.lockedNurse, job.lockedDay)
                              : dutyOn(problem, job.publishedNurse, job.publishedDay);
    if (place.duty < 0)
        return {};
    if (job.hasBegun && job.twoNurses)
        place.secondDuty = dutyOn(problem, job.lockedSecondNurse, job.lockedDay);
    return place;
}

// Moved by hand since, it may be moved back.
bool standsAsBegun(const WeekProblem &problem, const WeekPlan &plan, std::size_t job) {
    if (!problem.jobs[job].hasBegun || !plan.placements[job].isPlaced())
        return false;
    const Placement is = plan.placements[job], began = standingPlace(problem, problem.jobs[job]);
    return is.duty == began.duty && is.secondDuty == began.secondDuty && is.start == began.start;
}

// The visit before has begun at its place: the other comes so long after it. Where no day or time of it is
// left for that, late is better than never.
void keepBehind(const WeekProblem &problem, const Follow &follow, const Placement &first, Job &second) {
    const Duty &duty = problem.duties[at(first.duty)];
    const bool inDays = follow.unit == GapUnit::Day;
    std::vector<bool> days = second.allowedDays;
    for (std::int32_t day = 0; day < problem.days; ++day) {
        const std::int32_t apart = day - duty.day;
        days[at(day)] =
            days[at(day)] && (inDays ? follow.least <= apart && apart <= follow.most : apart == 0);
    }
    if (std::ranges::find(days, true) == days.end())
        return;
    second.allowedDays = days;
    if (follow.byAnother && std::ranges::find(second.barredNurses, duty.nurse) == second.barredNurses.end())
        second.barredNurses.push_back(duty.nurse);
    if (inDays)
        return;
    std::vector<TimeWindow> windows;
    const Minute from = first.start + follow.least, to = first.start + follow.most;
    bool hadHard = false, hasHard = false;
    for (TimeWindow window : second.windows[at(duty.day)]) {
        hadHard = hadHard || window.isHard;
        if (window.isHard) {
            window.from = std::max(window.from, from);
            window.to = std::min(window.to, to);
        }
        if (window.from > window.to)
            continue;
        hasHard = hasHard || window.isHard;
        windows.push_back(window);
    }
    if (!hadHard)
        windows.push_back({from, to, true});
    if (hasHard || !hadHard)
        second.windows[at(duty.day)] = std::move(windows);
}

} // namespace

Begun::Begun(const WeekProblem &problem) : p_(problem) {
    duties_.assign(p_.duties.size(), 0);
    stand();
    keepBreakers();
    keepPairs();
    keepBoth();
}

void Begun::stand() {
    before_.placements.reserve(p_.jobs.size());
    for (const Job &job : p_.jobs)
        before_.placements.push_back(standingPlace(p_, job));
    RiderMatcher(p_).assign(before_.placements, before_.riderJob);
}

// Marked so by a nurse who has no duty any more, it did not begin.
bool Begun::hasBegun(std::int32_t job) const {
    return p_.jobs[at(job)].hasBegun && before_.placements[at(job)].isPlaced();
}

bool Begun::isKept(std::int32_t job) const {
    return hasBegun(job) && duties_[at(before_.placements[at(job)].duty)] != 0;
}

std::vector<std::int32_t> Begun::kept() const {
    std::vector<std::int32_t> jobs;
    for (std::int32_t job = 0; job < static_cast<std::int32_t>(p_.jobs.size()); ++job)
        if (isKept(job))
            jobs.push_back(job);
    return jobs;
}

bool Begun::keepsAny() const {
    return std::ranges::find(duties_, char{1}) != duties_.end();
}

// Those that break a rule among themselves or beside visits made before.
void Begun::keepBreakers() {
    WeekPlan alone;
    alone.placements.resize(p_.jobs.size());
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        if (hasBegun(static_cast<std::int32_t>(j)))
            alone.placements[j] = before_.placements[j];
    for (const RuleBreak &broken : evaluate(p_, alone).broken)
        if (broken.duty >= 0)
            duties_[at(broken.duty)] = 1;
}

// The search places two that are minutes apart together or not at all.
void Begun::keepPairs() {
    for (const Follow &follow : p_.follows)
        if (follow.unit == GapUnit::Minute)
            for (const std::int32_t job : {follow.first, follow.second})
                if (hasBegun(job))
                    duties_[at(before_.placements[at(job)].duty)] = 1;
}

// Of a visit of two nurses both rounds.
void Begun::keepBoth() {
    for (bool isMore = true; isMore;) {
        isMore = false;
        for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
            if (!hasBegun(static_cast<std::int32_t>(j)) || before_.placements[j].secondDuty < 0)
                continue;
            char &one = duties_[at(before_.placements[j].duty)];
            char &other = duties_[at(before_.placements[j].secondDuty)];
            isMore = isMore || one != other;
            one = other = std::max(one, other);
        }
    }
}

WeekProblem Begun::rest() const {
    WeekProblem rest = p_;
    if (!keepsAny())
        return rest;
    std::vector<Minute> breaks;
    for (const DutyTimes &duty : evaluate(p_, before_).duties)
        breaks.push_back(duty.breakStart);
    std::vector<Rider> riders;
    for (std::size_t r = 0; r < p_.riders.size(); ++r) {
        const std::int32_t carrier = before_.riderJob[r];
        if (carrier < 0 || !isKept(carrier)) // the others are in a car
            riders.push_back(p_.riders[r]);
    }
    rest.riders = std::move(riders);
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        if (isKept(static_cast<std::int32_t>(j)))
            takeOut(rest, static_cast<std::int32_t>(j));
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        if (duties_[d])
            beginLater(rest, static_cast<std::int32_t>(d), breaks);
    untie(rest);
    return rest;
}

void Begun::takeOut(WeekProblem &rest, std::int32_t job) const {
    const Placement &placement = before_.placements[at(job)];
    Job &left = rest.jobs[at(job)];
    left.allowedDays.assign(left.allowedDays.size(), false);
    const std::int32_t day = p_.duties[at(placement.duty)].day;
    if (left.series >= 0) {
        std::vector<std::int32_t> &fixed = rest.series[at(left.series)].fixedDays;
        if (std::ranges::find(fixed, day) == fixed.end())
            fixed.push_back(day);
    }
    for (const std::int32_t d : {placement.duty, placement.secondDuty}) {
        if (d < 0)
            continue;
        Duty &duty = rest.duties[at(d)];
        duty.mostVisits = std::max(0, duty.mostVisits - 1);
        duty.mostLoad = std::max(0, duty.mostLoad - left.load);
        std::vector<Minute> &worked = rest.nurses[at(duty.nurse)].alreadyWorked;
        worked.resize(at(weeksOf(p_)), 0);
        worked[at(day / 7)] += left.length + left.notes;
    }
}

// She goes on from the home at which she is.
void Begun::beginLater(WeekProblem &rest, std::int32_t index, const std::vector<Minute> &breaks) const {
    Duty &duty = rest.duties[at(index)];
    Minute end = -1;
    for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        if (!isKept(job))
            continue;
        const Placement &placement = before_.placements[j];
        if (placement.duty != index && placement.secondDuty != index)
            continue;
        if (placement.start + p_.jobs[j].length <= end)
            continue;
        end = placement.start + p_.jobs[j].length;
        duty.startPlace = p_.jobs[j].place;
    }
    if (end < 0)
        return;
    duty.from = std::min(std::max(duty.from, end), p_.clockEnd);
    if (duty.from >= duty.to) {
        duty.to = duty.from;
        duty.mostVisits = 0;
    }
    const Minute taken = breaks[at(index)];
    duty.breakFrom = std::max(duty.breakFrom, duty.from);
    if ((taken >= 0 && taken + duty.breakLength <= end) || duty.breakTo - duty.breakFrom < duty.breakLength)
        duty.breakLength = 0;
    std::erase_if(duty.blocked, [&](const TimeWindow &block) { return block.to <= duty.from; });
}

void Begun::untie(WeekProblem &rest) const {
    for (const Follow &follow : p_.follows)
        if (isKept(follow.first) && !isKept(follow.second))
            keepBehind(p_, follow, before_.placements[at(follow.first)], rest.jobs[at(follow.second)]);
    std::erase_if(rest.follows,
                  [&](const Follow &follow) { return isKept(follow.first) || isKept(follow.second); });
}

bool Begun::restore(WeekPlan &plan) {
    bool isWhole = true;
    for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        if (!hasBegun(job))
            continue;
        if (isKept(job))
            plan.placements[j] = before_.placements[j];
        isWhole = isWhole && plan.placements[j].isPlaced();
    }
    if (isWhole)
        return true;
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        if (hasBegun(static_cast<std::int32_t>(j)))
            duties_[at(before_.placements[j].duty)] = 1;
    keepBoth();
    return false;
}

std::vector<RuleBreak> mayBeMended(const WeekProblem &problem, const WeekPlan &plan,
                                   std::vector<RuleBreak> broken) {
    if (broken.empty())
        return broken;
    WeekPlan begun;
    begun.placements.resize(problem.jobs.size());
    for (std::size_t j = 0; j < problem.jobs.size(); ++j)
        if (standsAsBegun(problem, plan, j))
            begun.placements[j] = plan.placements[j];
    const std::vector<RuleBreak> standing = evaluate(problem, begun).broken;
    std::erase_if(broken, [&](const RuleBreak &rule) {
        // What was to come before a visit that has begun comes too late wherever it is put.
        if (rule.rule == Rule::Linked && rule.job >= 0 && begun.placements[at(rule.job)].isPlaced())
            return true;
        return std::ranges::any_of(standing, [&](const RuleBreak &other) {
            return other.rule == rule.rule && other.job == rule.job && other.duty == rule.duty &&
                   other.amount >= rule.amount;
        });
    });
    return broken;
}

} // namespace kitround::rounds
