#include "core/rounds/problem/Fit.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

bool holds(const std::vector<std::int32_t> &list, std::int32_t value) {
    return std::ranges::find(list, value) != list.end();
}

// Tells each broken rule until told to stop; true where it never was.
template <class Tell>
bool lookAtStandingRules(const WeekProblem &problem, std::int32_t jobIndex, std::int32_t dutyIndex, Role role,
                         Tell tell) {
    const Job &job = problem.jobs[static_cast<std::size_t>(jobIndex)];
    const Duty &duty = problem.duties[static_cast<std::size_t>(dutyIndex)];
    const std::int32_t locked = role == Role::First ? job.lockedNurse : job.lockedSecondNurse;
    const std::int32_t otherLocked = role == Role::First ? job.lockedSecondNurse : job.lockedNurse;
    if (!job.allowedDays[static_cast<std::size_t>(duty.day)] && !tell(Rule::Day))
        return false;
    if (job.lockedDay >= 0 && job.lockedDay != duty.day && !tell(Rule::LockedDay))
        return false;
    const bool isLockedAway =
        (locked >= 0 && locked != duty.nurse) || (otherLocked >= 0 && otherLocked == duty.nurse);
    if (isLockedAway && !tell(Rule::LockedNurse))
        return false;
    if (holds(job.barredNurses, duty.nurse) && !tell(Rule::Barred))
        return false;
    if (role == Role::First && !duty.skills.covers(job.needs) && !tell(Rule::Skill))
        return false;
    const bool isOff = duty.isOnCall && locked != duty.nurse && !standsWherePublished(job, duty);
    return !isOff || tell(Rule::NoDuty);
}

} // namespace

std::vector<Rule> standingRules(const WeekProblem &problem, std::int32_t job, std::int32_t duty, Role role) {
    std::vector<Rule> rules;
    lookAtStandingRules(problem, job, duty, role, [&](Rule rule) {
        rules.push_back(rule);
        return true;
    });
    return rules;
}

bool mayStand(const WeekProblem &problem, std::int32_t job, std::int32_t duty, Role role) {
    return lookAtStandingRules(problem, job, duty, role, [](Rule) { return false; });
}

FitCost fitCost(const WeekProblem &problem, std::int32_t jobIndex, std::int32_t firstDuty,
                std::int32_t secondDuty) {
    const Job &job = problem.jobs[static_cast<std::size_t>(jobIndex)];
    const Duty &first = problem.duties[static_cast<std::size_t>(firstDuty)];
    const std::int32_t second =
        secondDuty < 0 ? -1 : problem.duties[static_cast<std::size_t>(secondDuty)].nurse;
    const auto either = [&](auto &&meets) { return meets(first.nurse) || (second >= 0 && meets(second)); };
    const auto nurse = [&](std::int32_t n) -> const NurseInfo & {
        return problem.nurses[static_cast<std::size_t>(n)];
    };
    FitCost cost;
    if (job.primaryNurse >= 0) {
        if (!either([&](std::int32_t n) { return n == job.primaryNurse; }))
            cost.continuity = problem.weights.notPrimary;
    } else if (!job.knownNurses.empty() &&
               !either([&](std::int32_t n) { return holds(job.knownNurses, n); })) {
        cost.continuity = problem.weights.notKnown;
    }
    if (job.wishedLanguage != 0 && !either([&](std::int32_t n) {
            return std::ranges::find(nurse(n).languages, job.wishedLanguage) != nurse(n).languages.end();
        }))
        cost.wishes += problem.weights.wish;
    if (job.wishedGender && !either([&](std::int32_t n) { return nurse(n).gender == job.wishedGender; }))
        cost.wishes += problem.weights.wish;
    if (job.publishedNurse >= 0 && !standsWherePublished(job, first))
        cost.changes = problem.weights.changed;
    return cost;
}

std::int32_t offFollow(const WeekProblem &problem, const Follow &follow,
                       const std::vector<Placement> &placements) {
    const Placement &a = placements[static_cast<std::size_t>(follow.first)];
    const Placement &b = placements[static_cast<std::size_t>(follow.second)];
    if (!a.isPlaced() || !b.isPlaced())
        return -1;
    const Duty &dutyA = problem.duties[static_cast<std::size_t>(a.duty)];
    const Duty &dutyB = problem.duties[static_cast<std::size_t>(b.duty)];
    const bool isSameNurse = dutyA.nurse == dutyB.nurse && follow.byAnother;
    if (follow.unit == GapUnit::Minute && dutyA.day != dutyB.day)
        return 0;
    const std::int32_t apart = follow.unit == GapUnit::Day ? dutyB.day - dutyA.day : b.start - a.start;
    const std::int32_t off = std::max({follow.least - apart, apart - follow.most, 0});
    return off > 0 || isSameNurse ? off : -1;
}

bool hasAnyDay(const Job &job) {
    return std::ranges::find(job.allowedDays, true) != job.allowedDays.end();
}

bool standsWherePublished(const Job &job, const Duty &duty) {
    return job.publishedNurse == duty.nurse && job.publishedDay == duty.day;
}

} // namespace kitround::rounds
