#pragma once
// A stretch of consecutive visits seen from the clock alone, joined with another in constant time.
// Savelsbergh (1992), "The vehicle routing problem with time windows: minimizing route duration"; the form
// with time warp is Vidal, Crainic, Gendreau and Prins (2013), "A hybrid genetic algorithm with adaptive
// diversity management for a large class of vehicle routing problems with time-windows", eqs. 5 to 9. One
// window a visit; breaks, blocked times and second windows are left out, so that for a duty which has them
// the answer is a bound: warp > 0 means impossible, and the true duration is never shorter.
#include "core/rounds/problem/WeekProblem.h"

#include <algorithm>

namespace kitround::rounds {

struct TimeSegment {
    Minute duration = 0; // least, from the first start to the last end, waiting and warp included
    Minute warp = 0;     // minutes late that no choice of start avoids
    Minute early = 0;    // earliest first start with the least duration
    Minute late = 0;     // latest one

    Minute earliestEnd() const { return early + duration - warp; }
};

inline TimeSegment joined(const TimeSegment &a, Minute travel, const TimeSegment &b) {
    const Minute between = a.duration - a.warp + travel; // from a's first start to b's
    const Minute wait = std::max(b.early - between - a.late, 0);
    const Minute warp = std::max(a.early + between - b.late, 0);
    return {a.duration + b.duration + travel + wait, a.warp + b.warp + warp,
            std::max(b.early - between, a.early) - wait, std::min(b.late - between, a.late) + warp};
}

} // namespace kitround::rounds
