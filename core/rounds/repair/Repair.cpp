#include "core/rounds/repair/Repair.h"

#include "core/base/Index.h"
#include "core/rounds/problem/Fit.h"
#include "core/rounds/problem/FromNow.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

// It was not made: no lock says that it was.
void letGo(Job &job) {
    job.lockedNurse = job.lockedSecondNurse = -1;
    job.lockedStart = -1;
    if (job.hasBegun)
        job.lockedDay = job.askedDay;
    job.hasBegun = false;
}

// She was told to be there that day by now, or somebody has said since that this is where it is (a lock, a
// visit that runs over). Nobody went to a place that only a draft knows.
bool isKnown(const WeekProblem &problem, const Job &job, const Placement &placement,
             const RepairOptions &options) {
    const Duty &duty = problem.duties[at(placement.duty)];
    const auto isHere = [&](std::int32_t nurse, std::int32_t day) { // of two nurses either is named first
        const bool isOneOfThem =
            nurse == duty.nurse ||
            (placement.secondDuty >= 0 && nurse == problem.duties[at(placement.secondDuty)].nurse);
        return isOneOfThem && day == duty.day;
    };
    const bool isTold = isHere(job.publishedNurse, job.publishedDay) &&
                        (duty.day < options.today || job.publishedStart <= options.now);
    return isTold || (isHere(job.lockedNurse, job.lockedDay) && job.lockedStart == placement.start);
}

// A nurse who was away by then did not begin it; where two go, neither did one of them alone.
bool hasBegun(const WeekProblem &problem, const Job &job, const Placement &placement,
              const RepairOptions &options) {
    const Duty &first = problem.duties[at(placement.duty)];
    const bool isOver =
        first.day < options.today || (first.day == options.today && placement.start <= options.now);
    if (!isOver || !job.allowedDays[at(first.day)] || !isKnown(problem, job, placement, options) ||
        (job.twoNurses && placement.secondDuty < 0))
        return false;
    const auto wasThere = [&](std::int32_t d) {
        return (job.hasBegun || !problem.duties[at(d)].isAway) && placement.start < problem.duties[at(d)].to;
    };
    return wasThere(placement.duty) && (placement.secondDuty < 0 || wasThere(placement.secondDuty));
}

void lockTo(const WeekProblem &problem, const Placement &placement, Job &job) {
    const Duty &duty = problem.duties[at(placement.duty)];
    job.lockedDay = duty.day;
    job.lockedNurse = duty.nurse;
    job.lockedStart = placement.start;
    job.lockedSecondNurse =
        job.twoNurses && placement.secondDuty >= 0 ? problem.duties[at(placement.secondDuty)].nurse : -1;
}

void keepFromPast(const WeekProblem &problem, const RepairOptions &options, Job &job) {
    for (std::int32_t day = 0; day < std::min(options.today, problem.days); ++day)
        job.allowedDays[at(day)] = false;
}

// Where the day is under way: nothing new before the nurse can be told and drive there.
WeekProblem afterNow(WeekProblem p, const WeekProblem &problem, const WeekPlan &before,
                     const RepairOptions &options) {
    if (options.now <= 0 || options.today < 0 || options.today >= problem.days)
        return p;
    WeekProblem told = problem;
    told.nowDay = options.today;
    told.now = options.now;
    WeekPlan standing = before;
    standing.placements.resize(problem.jobs.size());
    return goingOnFromNow(std::move(p), told, standing);
}

// The plan as it stands becomes the published one, what is past or under way is locked, and nothing else
// comes into hours gone by.
WeekProblem standing(const WeekProblem &problem, const WeekPlan &before, const RepairOptions &options) {
    WeekProblem p = problem;
    p.weights.changed = std::max(p.weights.changed, options.changeCost);
    for (std::size_t j = 0; j < p.jobs.size(); ++j) {
        const Placement placement = j < before.placements.size() ? before.placements[j] : Placement{};
        Job &job = p.jobs[j];
        if (placement.isPlaced()) {
            const Duty &duty = p.duties[at(placement.duty)];
            const bool isUnderWay = hasBegun(p, job, placement, options); // by what people were told
            job.publishedNurse = duty.nurse;
            job.publishedSecondNurse =
                placement.secondDuty >= 0 ? p.duties[at(placement.secondDuty)].nurse : -1;
            job.publishedDay = duty.day;
            job.publishedStart = placement.start;
            if (isUnderWay) {
                lockTo(p, placement, job);
                job.hasBegun = true;
                job.windows[at(duty.day)].clear(); // it did begin, whatever was agreed
                continue;
            }
        }
        if (job.hasBegun)
            letGo(job);
        keepFromPast(p, options, job);
    }
    return afterNow(std::move(p), problem, before, options);
}

bool isMoved(const WeekProblem &p, const Placement &a, const Placement &b) {
    if (a.isPlaced() != b.isPlaced())
        return true;
    if (!a.isPlaced())
        return false;
    const Duty &from = p.duties[at(a.duty)];
    const Duty &to = p.duties[at(b.duty)];
    return from.nurse != to.nurse || from.day != to.day || a.secondDuty != b.secondDuty ||
           std::abs(a.start - b.start) > kStillMinutes;
}

} // namespace

WeekProblem withNurseAway(const WeekProblem &problem, std::int32_t nurse, std::int32_t day, Minute from) {
    WeekProblem p = problem;
    for (Duty &duty : p.duties) {
        if (duty.nurse != nurse || duty.day != day || from >= duty.to)
            continue;
        if (from <= duty.from) {
            duty.isAway = true;
            duty.mostVisits = 0;
            continue;
        }
        duty.to = from;
        std::erase_if(duty.blocked, [&](const TimeWindow &block) { return block.from >= from; });
        duty.breakTo = std::min(duty.breakTo, from);
        if (duty.breakTo - duty.breakFrom < duty.breakLength)
            duty.breakLength = 0; // she goes home instead
    }
    for (Job &job : p.jobs) {
        const bool isHers = job.lockedNurse == nurse || job.lockedSecondNurse == nurse;
        if (isHers && (job.lockedDay == day || job.publishedDay == day))
            letGo(job); // what she began before she left stays: `repair` sees to it
    }
    return p;
}

WeekProblem withOverrun(const WeekProblem &problem, const WeekPlan &plan, std::int32_t jobIndex,
                        Minute extra) {
    WeekProblem p = problem;
    const Placement &placement = plan.placements[at(jobIndex)];
    Job &job = p.jobs[at(jobIndex)];
    job.length += extra;
    for (Follow &follow : p.follows) // minutes count from the end of the visit before
        if (follow.first == jobIndex && follow.unit == GapUnit::Minute) {
            follow.least += extra;
            follow.most += extra;
        }
    if (!placement.isPlaced())
        return p;
    const Duty &duty = p.duties[at(placement.duty)];
    job.lockedDay = duty.day;
    job.lockedNurse = duty.nurse;
    job.lockedStart = placement.start;
    if (placement.secondDuty >= 0)
        job.lockedSecondNurse = p.duties[at(placement.secondDuty)].nurse;
    return p;
}

Result<RepairReport> repair(const WeekProblem &problem, const WeekPlan &before, const RepairOptions &options,
                            std::stop_token stop) {
    if (Result<void> checked = checkProblem(problem); !checked)
        return checked.error();
    const WeekProblem p = standing(problem, before, options);
    SolveOptions solving;
    solving.seed = options.seed;
    solving.iterations = options.iterations;
    solving.seconds = options.seconds;
    solving.standing = &before;
    Result<SolveReport> solved = solve(p, solving, stop, {});
    if (!solved)
        return solved.error();
    RepairReport report;
    report.plan = std::move(solved->plan);
    report.parts = evaluate(problem, report.plan).parts;
    report.plan.cost = report.parts.total();
    report.seconds = solved->seconds;
    for (std::size_t j = 0; j < p.jobs.size(); ++j) {
        const Placement was = j < before.placements.size() ? before.placements[j] : Placement{};
        const Placement &is = report.plan.placements[j];
        if (isMoved(p, was, is))
            report.moved.push_back({static_cast<std::int32_t>(j), was, is});
        if (!is.isPlaced() && hasAnyDay(p.jobs[j]))
            report.unplaced.push_back(static_cast<std::int32_t>(j));
    }
    return report;
}

} // namespace kitround::rounds
