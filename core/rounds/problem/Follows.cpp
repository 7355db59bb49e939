#include "core/rounds/problem/Follows.h"

#include "core/base/Index.h"
#include "core/rounds/problem/PrecedingVisit.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

// The record counts minutes from the end of the visit before, the problem from its start.
Follow followOf(const WeekProblem &problem, std::int32_t first, std::int32_t second,
                const ComesAfter &after) {
    const Minute length = after.unit == GapUnit::Minute ? problem.jobs[at(first)].length : 0;
    return {first,
            second,
            after.unit,
            static_cast<std::int32_t>(after.least) + length,
            static_cast<std::int32_t>(after.most) + length,
            after.byAnother};
}

// Hard windows only in [from, to]; where none of them reaches into it they stay as they are.
void clipTo(std::vector<TimeWindow> &windows, Minute from, Minute to) {
    std::vector<TimeWindow> clipped;
    bool anyHard = false;
    for (TimeWindow w : windows) {
        if (w.isHard) {
            w.from = std::max(w.from, from);
            w.to = std::min(w.to, to);
            anyHard = anyHard || w.from <= w.to;
        }
        if (w.from <= w.to)
            clipped.push_back(w);
    }
    if (anyHard)
        windows = std::move(clipped);
}

void bar(Job &job, const std::vector<NurseInfo> &nurses, std::optional<NurseId> nurse) {
    const auto found = nurse ? std::ranges::find(nurses, *nurse, &NurseInfo::id) : nurses.end();
    if (found == nurses.end())
        return;
    const auto index = static_cast<std::int32_t>(found - nurses.begin());
    if (std::ranges::find(job.barredNurses, index) == job.barredNurses.end())
        job.barredNurses.push_back(index);
}

// The visit before is made, or stands on a day gone by: only days, and times, after it are left. Where it is
// too late for the longest gap already, late is better than never.
void keepAfter(const WeekProblem &problem, Job &job, const Visit &made, const ComesAfter &after) {
    const std::optional<Date> on = made.day();
    if (!on)
        return;
    if (job.hasBegun)
        return; // whenever it should have
    if (after.byAnother)
        bar(job, problem.nurses, made.nurse);
    const bool inDays = after.unit == GapUnit::Day;
    const auto day = static_cast<std::int32_t>((*on - problem.firstDay).count());
    const std::int32_t first = day + (inDays ? after.least : 0);
    const std::int32_t last = day + (inDays ? after.most : 0);
    const auto allow = [&](std::int32_t latest) {
        std::vector<bool> days = job.allowedDays;
        for (std::int32_t d = 0; d < problem.days; ++d)
            days[at(d)] = days[at(d)] && first <= d && d <= latest;
        return days;
    };
    const std::vector<bool> inTime = allow(last);
    const bool isLate = std::ranges::find(inTime, true) == inTime.end();
    job.allowedDays = isLate ? allow(problem.days - 1) : inTime;
    const std::optional<Minutes> start = made.startedAt ? made.startedAt->minute : made.startAt;
    if (inDays || isLate || !start)
        return;
    const Minute end = made.endedAt && made.endedAt->date == *on ? minuteOf(made.endedAt->minute)
                                                                 : minuteOf(*start + made.length);
    clipTo(job.windows[at(first)], end + after.least, end + after.most);
}

} // namespace

void addFollows(WeekProblem &problem, const SnapshotIndex &agency, DateRange days,
                const std::vector<DueVisit> &due) {
    for (std::size_t i = 0; i < due.size(); ++i) {
        const ComesAfter after = comesAfterOf(agency, due[i].visit);
        if (!after.isSet())
            continue;
        const PrecedingVisit before = precedingVisit(agency, days, due, i, after);
        if (before.job >= 0)
            problem.follows.push_back(followOf(problem, before.job, static_cast<std::int32_t>(i), after));
        else if (before.made)
            keepAfter(problem, problem.jobs[i], *before.made, after);
    }
}

} // namespace kitround::rounds
