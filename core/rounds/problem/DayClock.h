#pragma once
// One duty's day on the clock, once its visits and their starts are given: when the nurse leaves (as late as
// she can) and is back, where the break falls, and what is travelled and waited.
//
// Travel may be interrupted by blocked times and by the break. The break is an unpaid slot of breakLength
// inside [breakFrom, breakTo): in a gap between two visits where it fits (it then shortens the waiting), else
// before leaving or after coming back, else on the way out or home.
#include "core/rounds/problem/WeekProblem.h"

#include <algorithm>
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
    Minute free(Minute from, Minute to) const {
        return duty_.blocked.empty() ? std::max(0, to - from) : freeAround(from, to);
    }
    // Earliest time by which `work` free minutes have passed since `from`; latest time from which they do
    // until `to`.
    Minute forward(Minute from, Minute work) const {
        return duty_.blocked.empty() ? from + work : forwardAround(from, work);
    }
    Minute backward(Minute to, Minute work) const {
        return duty_.blocked.empty() ? to - work : backwardAround(to, work);
    }
    // Earliest start of a break within [from, to), or -1; latest one likewise.
    Minute breakIn(Minute from, Minute to) const {
        Minute at = std::max(from, duty_.breakFrom);
        if (!duty_.blocked.empty())
            at = afterBlocks(at);
        return at + duty_.breakLength <= std::min(to, duty_.breakTo) ? at : -1;
    }
    Minute lateBreakIn(Minute from, Minute to) const {
        Minute at = std::min(to, duty_.breakTo) - duty_.breakLength;
        if (!duty_.blocked.empty())
            at = beforeBlocks(at);
        return at >= std::max(from, duty_.breakFrom) ? at : -1;
    }
    // The first or last block that [start, start + length) meets, or nullptr.
    const TimeWindow *blockOver(Minute start, Minute length) const {
        for (const TimeWindow &block : duty_.blocked)
            if (start < block.to && start + length > block.from)
                return &block;
        return nullptr;
    }

private:
    Minute freeAround(Minute from, Minute to) const;
    Minute forwardAround(Minute from, Minute work) const;
    Minute backwardAround(Minute to, Minute work) const;
    Minute afterBlocks(Minute breakStart) const;
    Minute beforeBlocks(Minute breakStart) const;

    const WeekProblem &p_;
    const Duty &duty_;
};

} // namespace kitround::rounds
