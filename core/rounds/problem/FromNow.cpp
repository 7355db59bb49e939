#include "core/rounds/problem/FromNow.h"

#include "core/base/Index.h"
#include "core/rounds/problem/DayClock.h"
#include "core/rounds/problem/Fit.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

// Where two go, each of them was told of the visit or not, whichever is named first.
bool wasToldOfIt(const Job &job, const Duty &duty) {
    const bool isHers =
        duty.nurse == job.publishedNurse || duty.nurse == job.publishedSecondNurse; // a duty has a nurse
    return isHers && duty.day == job.publishedDay;
}

// Somebody has agreed on that time, which is to come.
bool isAgreedAhead(const WeekProblem &problem, const Job &job, const Placement &placement) {
    return placement.start > problem.now && job.lockedStart == placement.start;
}

// She was told of this place, or somebody locked it, and its time is to come.
bool isToldAhead(const WeekProblem &told, std::int32_t job, const Placement &placement, const Duty &hers) {
    const Job &j = told.jobs[at(job)];
    if (!placement.isPlaced() || j.hasBegun || placement.start <= told.now)
        return false;
    const bool isTold = j.publishedStart > told.now && wasToldOfIt(j, hers) &&
                        std::abs(placement.start - j.publishedStart) <= kStillMinutes;
    return isTold || isAgreedAhead(told, j, placement);
}

// The latest she can leave for it.
Minute leaveFor(const WeekProblem &told, const Duty &duty, const DutyTimes &times, std::size_t stop) {
    if (stop == 0)
        return times.leave;
    const DutyTimes::Stop &to = times.stops[stop];
    const Minute leave = DayClock(told, duty).backward(to.start, to.travel);
    const bool breaksOnTheWay =
        times.breakStart >= 0 && times.breakStart < to.start && times.breakStart + duty.breakLength > leave;
    return breaksOnTheWay ? leave - duty.breakLength : leave;
}

// From when on her day can be planned anew: once she can be told, or when she leaves as told before that.
Minute freeFrom(const WeekProblem &told, const WeekPlan &standing, const Duty &duty, const DutyTimes &times) {
    const Minute soonest = told.now + told.lead;
    for (std::size_t i = 0; i < times.stops.size(); ++i) {
        const std::int32_t job = times.stops[i].job;
        if (isToldAhead(told, job, standing.placements[at(job)], duty))
            return std::min(soonest, leaveFor(told, duty, times, i));
    }
    return soonest;
}

// Her break is over or still to come as it stands.
void startDuty(Duty &duty, Minute from, const DutyTimes &times) {
    if (from <= duty.from)
        return;
    const Minute breakEnd = times.breakStart < 0 ? -1 : times.breakStart + duty.breakLength;
    const bool isTaken = breakEnd >= 0 && breakEnd <= from;
    const bool hasRoom = duty.breakTo - std::max(duty.breakFrom, from) >= duty.breakLength;
    if (!isTaken && !hasRoom && breakEnd > from)
        from = breakEnd;
    duty.from = std::min(from, duty.to);
    duty.breakFrom = std::max(duty.breakFrom, duty.from);
    if (isTaken || !hasRoom)
        duty.breakLength = 0;
    std::erase_if(duty.blocked, [&](const TimeWindow &block) { return block.to <= duty.from; });
    if (duty.from == duty.to)
        duty.mostVisits = 0;
}

// As told, where that can still be; else once the nurse can be told.
Minute jobFrom(const WeekProblem &problem, const WeekProblem &told, std::size_t job) {
    const Job &j = told.jobs[job];
    Minute soonest = told.now + told.lead;
    if (j.lockedStart > told.now) // somebody has agreed on it
        soonest = std::min(soonest, j.lockedStart);
    if (j.publishedDay != told.nowDay || j.publishedStart <= told.now)
        return soonest;
    const bool canBe = std::ranges::any_of(problem.duties, [&](const Duty &duty) {
        return standsWherePublished(j, duty) && !duty.isAway && j.publishedStart < duty.to;
    });
    return canBe ? std::min(soonest, j.publishedStart) : soonest;
}

// The stop before the job on the duty, in the order of its round (Routes.h); -1 where it comes first.
std::int32_t stopBefore(const WeekPlan &plan, std::int32_t job, std::int32_t duty) {
    const auto order = [&](std::int32_t j) { return std::pair(plan.placements[at(j)].start, j); };
    std::int32_t before = -1;
    for (std::size_t i = 0; i < plan.placements.size(); ++i) {
        const auto other = static_cast<std::int32_t>(i);
        const Placement &placement = plan.placements[i];
        const bool isOnIt = placement.isPlaced() && (placement.duty == duty || placement.secondDuty == duty);
        if (isOnIt && order(other) < order(job) && (before < 0 || order(before) < order(other)))
            before = other;
    }
    return before;
}

// Of one nurse: once she can be told, and is there from the stop before it.
Minute soonestOn(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job, std::int32_t duty) {
    const Duty &hers = problem.duties[at(duty)];
    const DayClock clock(problem, hers);
    const std::int32_t before = stopBefore(plan, job, duty);
    Minute free = std::max(problem.now + problem.lead, hers.from);
    std::int32_t place = hers.startPlace;
    if (before >= 0) {
        const Job &stop = problem.jobs[at(before)];
        free = std::max(free, plan.placements[at(before)].start + stop.length);
        place = stop.place;
    }
    return clock.forward(free, clock.travelBetween(place, problem.jobs[at(job)].place));
}

} // namespace

bool keepNotBefore(std::vector<TimeWindow> &windows, Minute from, Minute clockEnd) {
    const auto isHard = [&] { return std::ranges::any_of(windows, &TimeWindow::isHard); };
    const bool hadHard = isHard();
    for (TimeWindow &window : windows)
        if (window.isHard)
            window.from = std::max(window.from, from);
    std::erase_if(windows, [](const TimeWindow &window) { return window.to < window.from; });
    if (!hadHard)
        windows.push_back({from, std::max(from, clockEnd), true});
    return isHard();
}

WeekProblem goingOnFromNow(WeekProblem problem, const WeekProblem &told, const WeekPlan &standing) {
    const std::int32_t today = told.nowDay;
    if (today < 0 || hasPassed(told))
        return problem;
    for (std::size_t j = 0; j < problem.jobs.size(); ++j) {
        Job &job = problem.jobs[j];
        if (job.hasBegun)
            continue;
        if (!keepNotBefore(job.windows[at(today)], jobFrom(problem, told, j), problem.clockEnd))
            job.allowedDays[at(today)] = false;
    }
    const Evaluation e = evaluate(told, standing);
    for (std::size_t d = 0; d < problem.duties.size(); ++d)
        if (told.duties[d].day == today)
            startDuty(problem.duties[d], freeFrom(told, standing, told.duties[d], e.duties[d]), e.duties[d]);
    return problem;
}

Minute soonestStart(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job) {
    const Placement &placement = plan.placements[at(job)];
    const Job &j = problem.jobs[at(job)];
    if (problem.duties[at(placement.duty)].day != problem.nowDay || j.hasBegun)
        return 0;
    const bool isAsTold = j.publishedStart > problem.now &&
                          placement.start >= std::min(j.publishedStart, problem.now + problem.lead);
    Minute soonest = 0;
    for (const std::int32_t duty : {placement.duty, placement.secondDuty})
        if (duty >= 0 && !(isAsTold && wasToldOfIt(j, problem.duties[at(duty)])))
            soonest = std::max(soonest, soonestOn(problem, plan, job, duty));
    return soonest;
}

std::vector<std::int32_t> outOfReach(const WeekProblem &problem, const WeekPlan &plan) {
    std::vector<std::int32_t> jobs;
    for (std::size_t j = 0; j < plan.placements.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        const Placement &placement = plan.placements[j];
        if (placement.isPlaced() && !isAgreedAhead(problem, problem.jobs[j], placement) &&
            placement.start < soonestStart(problem, plan, job))
            jobs.push_back(job);
    }
    return jobs;
}

} // namespace kitround::rounds
