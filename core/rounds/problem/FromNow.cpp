#include "core/rounds/problem/FromNow.h"

#include "core/base/Index.h"
#include "core/rounds/problem/DayClock.h"
#include "core/rounds/problem/Fit.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

// People were told of this place, or somebody locked it, and its time is to come.
bool isToldAhead(const WeekProblem &told, std::int32_t job, const Placement &placement) {
    const Job &j = told.jobs[at(job)];
    if (!placement.isPlaced() || j.hasBegun || placement.start <= told.now)
        return false;
    const bool isTold = j.publishedStart > told.now &&
                        standsWherePublished(j, told.duties[at(placement.duty)]) &&
                        std::abs(placement.start - j.publishedStart) <= kStillMinutes;
    return isTold || j.lockedStart == placement.start;
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
        if (isToldAhead(told, job, standing.placements[at(job)]))
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

// Of one nurse: once she can be told, and is there from the stop before it.
Minute soonestOn(const WeekProblem &problem, const Evaluation &plan, std::int32_t job, std::int32_t duty) {
    const std::vector<DutyTimes::Stop> &stops = plan.duties[at(duty)].stops;
    const auto stop = std::ranges::find(stops, job, &DutyTimes::Stop::job);
    const Minute leave = problem.now + problem.lead;
    if (stop == stops.end())
        return leave;
    const Duty &hers = problem.duties[at(duty)];
    const Minute free = stop == stops.begin() ? leave : std::max(leave, std::prev(stop)->end);
    return DayClock(problem, hers).forward(std::max(free, hers.from), stop->travel);
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
    const Duty &duty = problem.duties[at(placement.duty)];
    const Job &j = problem.jobs[at(job)];
    if (duty.day != problem.nowDay || j.hasBegun)
        return 0;
    if (standsWherePublished(j, duty) && j.publishedStart > problem.now &&
        placement.start >= std::min(j.publishedStart, problem.now + problem.lead))
        return 0;
    const Evaluation e = evaluate(problem, plan);
    const Minute first = soonestOn(problem, e, job, placement.duty);
    return placement.secondDuty < 0 ? first
                                    : std::max(first, soonestOn(problem, e, job, placement.secondDuty));
}

} // namespace kitround::rounds
