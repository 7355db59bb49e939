#pragma once
// One duty's day on the clock, once its visits and their starts are given: when the nurse leaves (as late as
// she can) and is back, where the break falls, and what is travelled and waited.
//
// Travel may be interrupted by blocked times and by the break. The break is an unpaid slot of breakLength
// inside [breakFrom, breakTo): in a gap between two visits where it fits (it then shortens the waiting), else
// before leaving or after coming back, else on the way out or home.
#include "core/rounds/problem/WeekProblem.h"

#include <span>

namespace kitround::rounds {

struct DayReading {
    Minute leave = 0, back = 0;
    Minute travel = 0, wait = 0, direct = 0;
    Minute breakStart = -1; // -1: none needed, or none found
    bool breakIsMissing = false;
    std::int64_t metres = 0;
};

class DayClock {
public:
    DayClock(const WeekProblem &problem, const Duty &duty) : p_(problem), duty_(duty) {}

    // Precondition: not empty, starts in order. A gap shorter than its travel counts as no waiting.
    DayReading read(std::span<const std::int32_t> jobs, std::span<const Minute> starts) const;

    Minute travelBetween(std::int32_t fromPlace, std::int32_t toPlace) const {
        return p_.travel.minutesBetween(static_cast<std::size_t>(fromPlace),
                                        static_cast<std::size_t>(toPlace));
    }
    // Minutes of [from, to) outside blocked times.
    Minute free(Minute from, Minute to) const;
    // Earliest time by which `work` free minutes have passed since `from`; latest time from which they do
    // until `to`.
    Minute forward(Minute from, Minute work) const;
    Minute backward(Minute to, Minute work) const;
    // Earliest start of a break within [from, to), or -1; latest one likewise.
    Minute breakIn(Minute from, Minute to) const;
    Minute lateBreakIn(Minute from, Minute to) const;
    // The first or last block that [start, start + length) meets, or nullptr.
    const TimeWindow *blockOver(Minute start, Minute length) const;

private:
    const WeekProblem &p_;
    const Duty &duty_;
};

} // namespace kitround::rounds
