#include "core/rounds/explain/Explain.h"

#include "core/base/Index.h"
#include "core/rounds/problem/DayClock.h"
#include "core/rounds/problem/Fit.h"
#include "core/rounds/problem/FromNow.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>

namespace kitround::rounds {
namespace {

// What stands in the way is named in this order: what no timetable can mend comes first.
int weightOf(Rule rule) {
    switch (rule) {
    case Rule::Day:
        return 0;
    case Rule::LockedDay:
        return 1;
    case Rule::LockedNurse:
        return 2;
    case Rule::Barred:
        return 3;
    case Rule::Skill:
        return 4;
    case Rule::NoDuty:
        return 5;
    case Rule::SameDayTwice:
        return 6;
    case Rule::LeastGap:
        return 7;
    case Rule::MostVisits:
        return 8;
    case Rule::TwoNurses:
        return 9;
    case Rule::LockedTime:
        return 10;
    case Rule::Window:
        return 11;
    case Rule::Overlap:
        return 12;
    case Rule::DutyHours:
        return 13;
    case Rule::Break:
        return 14;
    case Rule::CarSpace:
        return 15;
    case Rule::Load:
        return 16;
    case Rule::Pattern:
        return 17;
    case Rule::OneNurse:
        return 18;
    case Rule::Linked:
        return 19;
    }
    return 99;
}

const RuleBreak *firstOf(const std::vector<RuleBreak> &broken) {
    const auto found =
        std::ranges::min_element(broken, {}, [](const RuleBreak &b) { return weightOf(b.rule); });
    return found == broken.end() ? nullptr : &*found;
}

Alternative alternativeOn(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job,
                          std::int32_t duty) {
    const MoveCheck check = tryMove(problem, plan, job, duty, -1);
    return {duty, check.plan.placements[at(job)].start, check.after.total() - check.before.total(),
            check.broken};
}

// Days on which the visit may be at all; where it is on none, every day is looked at and Day is the answer.
bool isDayAllowed(const Job &job, std::int32_t day) {
    return job.allowedDays[at(day)] && (job.lockedDay < 0 || job.lockedDay == day);
}

bool isGone(const WeekProblem &problem, std::int32_t duty) {
    return problem.duties[at(duty)].day < problem.nowDay;
}

// Whether a visit at that place and of that length fits the duty and the patient's hard times, with nothing
// else planned, if each way takes so long.
bool fitsAlone(const Job &job, const Duty &duty, Minute there, Minute back) {
    const auto fits = [&](Minute from, Minute to) {
        const Minute start = std::max(from, duty.from + there);
        return start <= to && start + job.length + back <= duty.to;
    };
    const std::vector<TimeWindow> &windows = job.windows[at(duty.day)];
    if (std::ranges::none_of(windows, &TimeWindow::isHard))
        return fits(duty.from, duty.to);
    return std::ranges::any_of(windows, [&](const TimeWindow &w) { return w.isHard && fits(w.from, w.to); });
}

// The drive there and back alone keeps the visit from the duty.
bool isTooFar(const WeekProblem &problem, const Job &job, const Duty &duty) {
    const DayClock clock(problem, duty);
    return fitsAlone(job, duty, 0, 0) &&
           !fitsAlone(job, duty, clock.travelBetween(duty.startPlace, job.place),
                      clock.travelBetween(job.place, duty.endPlace));
}

// Rules that a timetable breaks: a long drive shows in any of them.
bool isOfTime(Rule rule) {
    return rule == Rule::Window || rule == Rule::Overlap || rule == Rule::DutyHours || rule == Rule::Break;
}

bool isOfSpacing(Rule rule) {
    return rule == Rule::SameDayTwice || rule == Rule::LeastGap;
}

// The other visits of its series that are too near to a day on which it may be.
std::vector<UnplacedReason::Beside> besideIn(const WeekProblem &problem, const WeekPlan &plan,
                                             std::int32_t job) {
    std::vector<UnplacedReason::Beside> beside;
    const Job &j = problem.jobs[at(job)];
    if (j.series < 0)
        return beside;
    const Series &series = problem.series[at(j.series)];
    const auto add = [&](std::int32_t day, std::int32_t other) {
        for (std::int32_t d = 0; d < problem.days; ++d)
            if (isDayAllowed(j, d) && std::abs(d - day) < std::max(1, series.leastGap)) {
                beside.push_back({day, other, other < 0 ? Placement{} : plan.placements[at(other)]});
                return;
            }
    };
    for (const std::int32_t day : series.fixedDays)
        add(day, -1);
    for (const std::int32_t other : series.jobs)
        if (other != job && plan.placements[at(other)].isPlaced())
            add(problem.duties[at(plan.placements[at(other)].duty)].day, other);
    std::ranges::sort(beside, {}, [](const UnplacedReason::Beside &b) { return std::pair(b.day, b.job); });
    return beside;
}

bool isLocked(const Job &job, const Unlocked &all) {
    return (!all.day || job.lockedDay >= 0) &&
           (!all.nurse || job.lockedNurse >= 0 || job.lockedSecondNurse >= 0) &&
           (!all.time || job.lockedStart >= 0);
}

WeekProblem without(const WeekProblem &problem, std::int32_t job, const Unlocked &locks) {
    WeekProblem eased = problem;
    Job &j = eased.jobs[at(job)];
    if (locks.day)
        j.lockedDay = -1;
    if (locks.nurse)
        j.lockedNurse = j.lockedSecondNurse = -1;
    if (locks.time)
        j.lockedStart = -1;
    return eased;
}

// The single ones that a pair is made of.
std::vector<WayOutKind> singlesOf(const Unlocked &pair) {
    std::vector<WayOutKind> singles;
    if (pair.day)
        singles.push_back(WayOutKind::UnlockDay);
    if (pair.nurse)
        singles.push_back(WayOutKind::UnlockNurse);
    if (pair.time)
        singles.push_back(WayOutKind::UnlockTime);
    return singles;
}

// One thing made easier on a copy of the problem, or two locks; then tried as it stands.
class Relaxation {
public:
    Relaxation(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job)
        : problem_(problem), plan_(plan), job_(job) {}

    std::vector<WayOut> find() {
        if (problem_.jobs[at(job_)].hasBegun) // its locks say where somebody went
            return {};
        takesIt_.assign(problem_.duties.size(), 0);
        for (std::size_t d = 0; d < problem_.duties.size(); ++d) {
            const auto duty = static_cast<std::int32_t>(d);
            if (isGone(problem_, duty))
                continue;
            const Alternative as = alternativeOn(problem_, plan_, job_, duty);
            if (as.broken.empty()) // where it fits as things are there is nothing to relax
                takesIt_[d] = 1;
            else
                tryKind(duty, as);
        }
        const bool hasUnlock =
            std::ranges::any_of(ways_, [](const WayOut &way) { return unlockedBy(way.kind).any(); });
        if (!hasUnlock)
            tryPairs();
        std::ranges::stable_sort(ways_, {}, &WayOut::addedCost);
        return ways_;
    }

private:
    bool all(const std::vector<RuleBreak> &broken, std::initializer_list<Rule> rules) const {
        return std::ranges::all_of(
            broken, [&](const RuleBreak &b) { return std::ranges::find(rules, b.rule) != rules.end(); });
    }
    void tryKind(std::int32_t duty, const Alternative &as) {
        WeekProblem eased = problem_;
        Job &job = eased.jobs[at(job_)];
        const std::int32_t day = problem_.duties[at(duty)].day;
        if (all(as.broken, {Rule::Day})) {
            job.allowedDays.assign(job.allowedDays.size(), true);
            beginNow(job, day);
            keep(WayOutKind::OtherDay, eased, duty, daysOff(day));
        } else if (all(as.broken, {Rule::LockedDay})) {
            job.lockedDay = -1;
            keep(WayOutKind::UnlockDay, eased, duty, 0);
        } else if (all(as.broken, {Rule::LockedNurse})) {
            job.lockedNurse = -1;
            job.lockedSecondNurse = -1;
            keep(WayOutKind::UnlockNurse, eased, duty, 0);
        } else if (all(as.broken, {Rule::Skill})) {
            job.needs = SkillSet{};
            keep(WayOutKind::OtherSkill, eased, duty, 0);
        } else if (all(as.broken, {Rule::MostVisits})) {
            Duty &fuller = eased.duties[at(duty)];
            const int most = fuller.made + fuller.mostVisits++;
            if (!fuller.isAway && most > 0) // of no visits one is not one more
                keep(WayOutKind::OneVisitMore, eased, duty, most);
        } else if (!unlockTime(eased, duty)) {
            if (all(as.broken, {Rule::Window, Rule::LockedTime, Rule::Overlap, Rule::DutyHours, Rule::Break}))
                widerWindow(eased, duty, day);
            if (all(as.broken, {Rule::DutyHours, Rule::Overlap, Rule::Window, Rule::Break}))
                overtime(duty);
        }
    }

    // Three pairs at most, each on every duty that may have the visit at all then: to try one costs much.
    void tryPairs() {
        constexpr std::array kPairs{WayOutKind::UnlockDayAndNurse, WayOutKind::UnlockDayAndTime,
                                    WayOutKind::UnlockNurseAndTime};
        for (const WayOutKind pair : kPairs) {
            const Unlocked locks = unlockedBy(pair);
            if (!isLocked(problem_.jobs[at(job_)], locks))
                continue;
            const WeekProblem eased = without(problem_, job_, locks);
            for (std::size_t d = 0; d < problem_.duties.size(); ++d) {
                const auto duty = static_cast<std::int32_t>(d);
                if (isGone(problem_, duty) || takesIt_[d] || !mayStand(eased, job_, duty, Role::First))
                    continue;
                const std::size_t before = ways_.size();
                keep(pair, eased, duty, 0);
                if (ways_.size() > before)
                    keepLess(locks, duty);
            }
        }
    }

    // No more is let go than has to be: where one of the two is enough after all, that is the way.
    void keepLess(const Unlocked &pair, std::int32_t duty) {
        for (const WayOutKind single : singlesOf(pair)) {
            const WayOut both = ways_.back();
            ways_.pop_back();
            const std::size_t before = ways_.size();
            keep(single, without(problem_, job_, unlockedBy(single)), duty, 0);
            if (ways_.size() > before)
                return;
            ways_.push_back(both);
        }
    }

    // Where the visit would fit but for the time it is locked to.
    bool unlockTime(WeekProblem eased, std::int32_t duty) {
        Job &job = eased.jobs[at(job_)];
        if (job.lockedStart < 0)
            return false;
        job.lockedStart = -1;
        const std::size_t before = ways_.size();
        keep(WayOutKind::UnlockTime, eased, duty, 0);
        return ways_.size() > before;
    }

    // Where no time is left, or a wider one is tried, what is over stays over.
    void beginNow(Job &job, std::int32_t day) const {
        std::vector<TimeWindow> &windows = job.windows[at(day)];
        if (day == problem_.nowDay && !keepNotBefore(windows, problem_.now, problem_.clockEnd))
            windows = {{problem_.now, std::max(problem_.now, problem_.clockEnd), true}};
    }

    // Days between the day and the nearest allowed one; 0 where none is allowed to count from.
    std::int32_t daysOff(std::int32_t day) const {
        std::int32_t least = 0;
        for (std::int32_t d = 0; d < problem_.days; ++d)
            if (problem_.jobs[at(job_)].allowedDays[at(d)])
                least = least == 0 ? std::abs(d - day) : std::min(least, std::abs(d - day));
        return least;
    }

    void widerWindow(WeekProblem &eased, std::int32_t duty, std::int32_t day) {
        Job &job = eased.jobs[at(job_)];
        const std::vector<TimeWindow> windows = problem_.jobs[at(job_)].windows[at(day)];
        job.windows[at(day)].clear();
        beginNow(job, day);
        job.lockedStart = -1;
        const MoveCheck check = tryMove(eased, plan_, job_, duty, -1);
        if (!check.broken.empty())
            return;
        const Minute start = check.plan.placements[at(job_)].start;
        std::int32_t off = -1;
        for (const TimeWindow &w : windows)
            if (w.isHard) {
                const std::int32_t o = std::max({w.from - start, start - w.to, 0});
                off = off < 0 ? o : std::min(off, o);
            }
        if (off > 0)
            ways_.push_back(
                {WayOutKind::WiderWindow, duty, start, off, check.after.total() - check.before.total()});
    }

    void overtime(std::int32_t dutyIndex) {
        WeekProblem eased = problem_;
        Duty &duty = eased.duties[at(dutyIndex)];
        const Minute to = duty.to;
        duty.to += kMostOvertime;
        const MoveCheck check = tryMove(eased, plan_, job_, dutyIndex, -1);
        if (!check.broken.empty())
            return;
        const Evaluation e = evaluate(eased, check.plan);
        const std::int32_t late = e.duties[at(dutyIndex)].back - to;
        if (late <= 0)
            return;
        ways_.push_back(
            {WayOutKind::Overtime, dutyIndex, check.plan.placements[at(job_)].start, late,
             check.after.total() - check.before.total() + problem_.weights.overtimeMinute * late});
    }

    void keep(WayOutKind kind, const WeekProblem &eased, std::int32_t duty, std::int32_t amount) {
        const MoveCheck check = tryMove(eased, plan_, job_, duty, -1);
        if (check.broken.empty())
            ways_.push_back({kind, duty, check.plan.placements[at(job_)].start, amount,
                             check.after.total() - check.before.total()});
    }

    static constexpr Minute kMostOvertime = 120;
    const WeekProblem &problem_;
    const WeekPlan &plan_;
    std::int32_t job_;
    std::vector<char> takesIt_; // by duty: as things are
    std::vector<WayOut> ways_;
};

} // namespace

bool isOfTheDay(Rule rule) {
    return isOfSpacing(rule) || rule == Rule::Day || rule == Rule::NoDuty;
}

Unlocked unlockedBy(WayOutKind kind) {
    switch (kind) {
    case WayOutKind::UnlockNurse:
        return {.nurse = true};
    case WayOutKind::UnlockDay:
        return {.day = true};
    case WayOutKind::UnlockTime:
        return {.time = true};
    case WayOutKind::UnlockDayAndNurse:
        return {.day = true, .nurse = true};
    case WayOutKind::UnlockDayAndTime:
        return {.day = true, .time = true};
    case WayOutKind::UnlockNurseAndTime:
        return {.nurse = true, .time = true};
    case WayOutKind::OtherDay:
    case WayOutKind::Overtime:
    case WayOutKind::WiderWindow:
    case WayOutKind::OtherSkill:
    case WayOutKind::OneVisitMore:
        return {};
    }
    return {};
}

UnplacedReason whyUnplaced(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job) {
    UnplacedReason reason;
    reason.job = job;
    for (const Follow &follow : problem.follows)
        if (follow.first == job || follow.second == job) {
            const std::int32_t other = follow.first == job ? follow.second : follow.first;
            if (!plan.placements[at(other)].isPlaced())
                reason.tiedTo = other;
        }
    const Job &j = problem.jobs[at(job)];
    std::map<Rule, std::set<std::int32_t>> barred; // duties, or days
    bool anyDuty = false;
    for (std::size_t d = 0; d < problem.duties.size(); ++d) {
        if (!isDayAllowed(j, problem.duties[d].day))
            continue;
        anyDuty = true;
        const Alternative as = alternativeOn(problem, plan, job, static_cast<std::int32_t>(d));
        if (const RuleBreak *first = firstOf(as.broken)) {
            const Duty &duty = problem.duties[d];
            if (isOfTime(first->rule) && isTooFar(problem, j, duty)) {
                const Minute drive = DayClock(problem, duty).travelBetween(duty.startPlace, j.place);
                reason.drive = reason.tooFar == 0 ? drive : std::min(reason.drive, drive);
                ++reason.tooFar;
            } else {
                barred[first->rule].insert(isOfTheDay(first->rule) ? duty.day : static_cast<std::int32_t>(d));
            }
            continue;
        }
        reason.freeCost = reason.freePlaces == 0 ? as.addedCost : std::min(reason.freeCost, as.addedCost);
        ++reason.freePlaces;
    }
    if (!anyDuty) {
        int days = 0;
        for (std::int32_t day = 0; day < problem.days; ++day)
            days += isDayAllowed(j, day) ? 1 : 0;
        const bool anyDay = std::ranges::any_of(j.allowedDays, [](bool allowed) { return allowed; });
        reason.blockers.emplace_back(anyDay ? Rule::NoDuty : Rule::Day, days);
        return reason;
    }
    for (const auto &[rule, where] : barred)
        reason.blockers.emplace_back(rule, static_cast<int>(where.size()));
    std::ranges::stable_sort(reason.blockers,
                             [](const auto &a, const auto &b) { return a.second > b.second; });
    const bool isOnlySeries =
        !barred.empty() && std::ranges::all_of(barred, [](const auto &b) { return isOfSpacing(b.first); });
    if (isOnlySeries && reason.freePlaces == 0 && reason.tooFar == 0)
        reason.beside = besideIn(problem, plan, job);
    return reason;
}

std::vector<WayOut> waysOut(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job, int most) {
    std::vector<WayOut> ways = Relaxation(problem, plan, job).find();
    // The cheapest of each kind first, so that the choices differ; then the rest by cost.
    std::vector<WayOut> chosen;
    for (const WayOut &way : ways)
        if (std::ranges::none_of(chosen, [&](const WayOut &c) { return c.kind == way.kind; }))
            chosen.push_back(way);
    for (const WayOut &way : ways)
        if (std::ranges::none_of(chosen,
                                 [&](const WayOut &c) { return c.kind == way.kind && c.duty == way.duty; }))
            chosen.push_back(way);
    if (chosen.size() > static_cast<std::size_t>(std::max(0, most)))
        chosen.resize(static_cast<std::size_t>(std::max(0, most)));
    std::ranges::stable_sort(chosen, {}, &WayOut::addedCost);
    return chosen;
}

std::vector<Alternative> alternatives(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job) {
    std::vector<Alternative> all;
    all.reserve(problem.duties.size());
    for (std::size_t d = 0; d < problem.duties.size(); ++d)
        all.push_back(alternativeOn(problem, plan, job, static_cast<std::int32_t>(d)));
    std::ranges::stable_sort(all, [](const Alternative &a, const Alternative &b) {
        return std::tuple(a.broken.size(), a.addedCost) < std::tuple(b.broken.size(), b.addedCost);
    });
    return all;
}

} // namespace kitround::rounds
