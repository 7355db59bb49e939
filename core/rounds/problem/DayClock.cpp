#include "core/rounds/problem/DayClock.h"

#include <algorithm>

namespace kitround::rounds {

Minute DayClock::freeAround(Minute from, Minute to) const {
    Minute minutes = std::max(0, to - from);
    for (const TimeWindow &block : duty_.blocked)
        minutes -= std::max(0, std::min(to, block.to) - std::max(from, block.from));
    return minutes;
}

Minute DayClock::forwardAround(Minute from, Minute work) const {
    Minute at = from;
    for (const TimeWindow &block : duty_.blocked) { // in order of time
        if (block.to <= at || work <= 0)
            continue;
        const Minute before = std::max(0, block.from - at);
        if (work <= before)
            return at + work;
        work -= before;
        at = block.to;
    }
    return at + work;
}

Minute DayClock::backwardAround(Minute to, Minute work) const {
    Minute at = to;
    for (auto block = duty_.blocked.rbegin(); block != duty_.blocked.rend(); ++block) {
        if (block->from >= at || work <= 0)
            continue;
        const Minute after = std::max(0, at - block->to);
        if (work <= after)
            return at - work;
        work -= after;
        at = block->from;
    }
    return at - work;
}

Minute DayClock::afterBlocks(Minute at) const {
    for (const TimeWindow &block : duty_.blocked)
        if (at < block.to && at + duty_.breakLength > block.from)
            at = block.to;
    return at;
}

Minute DayClock::beforeBlocks(Minute at) const {
    for (auto block = duty_.blocked.rbegin(); block != duty_.blocked.rend(); ++block)
        if (at < block->to && at + duty_.breakLength > block->from)
            at = block->from - duty_.breakLength;
    return at;
}

DayReading DayClock::read(std::span<const std::int32_t> jobs, std::span<const Minute> starts) const {
    DayReading r;
    const auto job = [&](std::size_t i) -> const Job & { return p_.jobs[static_cast<std::size_t>(jobs[i])]; };
    const auto drive = [&](std::int32_t from, std::int32_t to) {
        const Minute minutes = travelBetween(from, to);
        r.travel += minutes;
        r.metres += p_.travel.metresBetween(static_cast<std::size_t>(from), static_cast<std::size_t>(to));
        return minutes;
    };
    const std::size_t n = jobs.size();
    const Minute out = drive(duty_.startPlace, job(0).place);
    r.leave = backward(starts[0], out);
    const bool needsBreak = duty_.breakLength > 0;
    for (std::size_t i = 0; i < n; ++i) {
        r.direct += job(i).length;
        if (i + 1 == n)
            break;
        const Minute end = starts[i] + job(i).length;
        const Minute slack = free(end, starts[i + 1]) - drive(job(i).place, job(i + 1).place);
        r.wait += std::max(0, slack);
        if (needsBreak && r.breakStart < 0 && slack >= duty_.breakLength) {
            r.breakStart = breakIn(end, starts[i + 1]);
            if (r.breakStart >= 0)
                r.wait -= duty_.breakLength;
        }
    }
    const Minute lastEnd = starts[n - 1] + job(n - 1).length;
    const Minute home = drive(job(n - 1).place, duty_.endPlace);
    r.back = forward(lastEnd, home);
    if (!needsBreak || r.breakStart >= 0)
        return r;
    if (const Minute before = breakIn(duty_.from, r.leave); before >= 0) {
        r.breakStart = before;
    } else if (const Minute after = breakIn(r.back, duty_.to); after >= 0) {
        r.breakStart = after;
    } else if (const Minute onWayHome = breakIn(lastEnd, duty_.to); onWayHome >= 0) {
        r.breakStart = onWayHome;
        r.back = std::max(forward(lastEnd, home + duty_.breakLength), onWayHome + duty_.breakLength);
    } else if (const Minute onWayOut = lateBreakIn(duty_.from, starts[0]); onWayOut >= 0) {
        r.breakStart = onWayOut;
        r.leave = std::min(backward(starts[0], out + duty_.breakLength), onWayOut);
    } else {
        r.breakIsMissing = true;
    }
    return r;
}

} // namespace kitround::rounds
