#include "core/rounds/problem/DutyTimer.h"

#include "core/base/Index.h"
#include "core/rounds/problem/Fit.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

Minute outsideSoft(const std::vector<TimeWindow> &windows, Minute start) {
    Minute least = -1;
    for (const TimeWindow &w : windows) {
        if (w.isHard)
            continue;
        const Minute off = start < w.from ? w.from - start : start > w.to ? start - w.to : 0;
        least = least < 0 ? off : std::min(least, off);
    }
    return std::max(0, least);
}

} // namespace

DutyTimer::DutyTimer(const WeekProblem &problem) : p_(problem) {
    slots_.resize(problem.jobs.size() * at(problem.days));
    for (std::size_t j = 0; j < problem.jobs.size(); ++j) {
        const Job &job = problem.jobs[j];
        lean_.push_back(
            {job.place, job.length, job.notes, job.publishedNurse, job.publishedDay, job.publishedStart});

        for (std::int32_t day = 0; day < problem.days; ++day) {
            Slot &slot = slots_[j * at(problem.days) + at(day)];
            slot.first = static_cast<std::uint32_t>(spans_.size());
            bool hasHard = false;
            Minute softFrom = -1;
            int softs = 0;
            for (const TimeWindow &w : job.windows[at(day)]) {
                if (!w.isHard) {
                    slot.hasSoft = true;
                    ++softs;
                    slot.softFrom = w.from;
                    slot.softTo = w.to;
                    softFrom = softFrom < 0 ? w.from : std::min(softFrom, w.from);
                    continue;
                }
                hasHard = true;
                if (job.lockedStart < 0)
                    spans_.push_back({w.from, w.to});
                else if (w.from <= job.lockedStart && job.lockedStart <= w.to)
                    spans_.push_back({job.lockedStart, job.lockedStart});
            }
            if (!hasHard)
                spans_.push_back(job.lockedStart < 0 ? Span{0, kNever}
                                                     : Span{job.lockedStart, job.lockedStart});
            slot.last = static_cast<std::uint32_t>(spans_.size());
            std::sort(spans_.begin() + slot.first, spans_.begin() + slot.last,
                      [](Span a, Span b) { return a.from < b.from; });
            slot.wishFrom = softFrom;
            const bool mayMove = job.publishedDay == day && job.publishedStart >= 0;
            if (mayMove)
                slot.wishFrom = std::max(slot.wishFrom, job.publishedStart - kStillMinutes);
            slot.isRich = slot.hasSoft || mayMove || slot.last - slot.first != 1;
            slot.isSimple = slot.last - slot.first == 1 && softs <= 1;
            if (slot.isSimple) {
                slot.onlyFrom = spans_[slot.first].from;
                slot.onlyTo = spans_[slot.first].to;
            }
        }
    }
    for (const Duty &duty : problem.duties)
        dutyIsPlain_.push_back(duty.breakLength == 0 && duty.blocked.empty() ? 1 : 0);
}

TimeSegment DutyTimer::segmentOf(std::int32_t job, std::int32_t day, Minute pin) const {
    const Slot &s = slot(job, day);
    TimeSegment segment;
    segment.duration = p_.jobs[at(job)].length;
    if (s.first == s.last) {
        segment.early = 1;
        segment.late = 0;
        return segment;
    }
    segment.early = pin >= 0 ? pin : spans_[s.first].from;
    segment.late = pin >= 0 ? pin : spans_[s.first].to;
    if (pin < 0)
        for (std::uint32_t i = s.first + 1; i < s.last; ++i)
            segment.late = std::max(segment.late, spans_[i].to);
    return segment;
}

Minute DutyTimer::earliestOfMany(std::int32_t job, const Duty &duty, const DayClock &clock, Minute from,
                                 Minute pin) const {
    const Slot &s = slot(job, duty.day);
    const Minute length = p_.jobs[at(job)].length;
    if (pin >= 0 && from > pin)
        return kNever;
    Minute at = pin >= 0 ? pin : from;
    for (std::uint32_t i = s.first; i < s.last;) {
        if (at > spans_[i].to) {
            ++i;
            continue;
        }
        at = std::max(at, spans_[i].from);
        const TimeWindow *block = clock.blockOver(at, length);
        if (!block)
            return pin >= 0 && at != pin ? kNever : at;
        at = block->to;
    }
    return kNever;
}

Minute DutyTimer::latestOfMany(std::int32_t job, const Duty &duty, const DayClock &clock, Minute until,
                               Minute pin) const {
    const Slot &s = slot(job, duty.day);
    const Minute length = p_.jobs[at(job)].length;
    if (pin >= 0)
        return pin <= until ? pin : -1; // its window was looked at on the way forward
    Minute at = until;
    bool moved = true;
    while (moved) { // two windows may overlap, so look for the best each time
        moved = false;
        Minute best = -1;
        for (std::uint32_t i = s.first; i < s.last; ++i)
            if (spans_[i].from <= at)
                best = std::max(best, std::min(at, spans_[i].to));
        if (best < 0)
            return -1;
        at = best;
        if (const TimeWindow *block = clock.blockOver(at, length)) {
            at = block->from - length;
            moved = true;
        }
    }
    return at;
}

bool DutyTimer::forwardPass(const Duty &duty, const DayClock &clock, std::span<const std::int32_t> jobs,
                            std::span<const Minute> pins, Wishes wishes) {
    const std::size_t n = jobs.size();
    const bool needsBreak = duty.breakLength > 0;
    free_.resize(n);
    taken_.resize(n);
    takenHere_.assign(n + 1, 0);
    beforeLeaving_ = false;
    Minute readyFree = duty.from;
    Minute readyTaken = kNever;
    if (needsBreak)
        if (const Minute b = clock.breakIn(duty.from, duty.to); b >= 0)
            readyTaken = b + duty.breakLength;
    std::int32_t place = duty.startPlace;
    // Earliest arrival with the break in this gap.
    const auto withBreak = [&](Minute ready, Minute travel) {
        const Minute b = ready >= kNever ? -1 : clock.breakIn(ready, duty.breakTo);
        return b < 0 ? kNever
                     : std::max(clock.forward(ready, travel + duty.breakLength), b + duty.breakLength);
    };
    for (std::size_t i = 0; i < n; ++i) {
        const Job &job = p_.jobs[at(jobs[i])];
        const Minute pin = pinOf(pins, jobs[i]);
        const Minute travel = clock.travelBetween(place, job.place);
        const auto startFrom = [&](Minute arrive) {
            if (arrive >= kNever)
                return kNever;
            if (wishes == Wishes::Kept)
                arrive = std::max(arrive, slot(jobs[i], duty.day).wishFrom);
            return earliest(jobs[i], duty, clock, arrive, pin);
        };
        free_[i] = readyFree >= kNever ? kNever : startFrom(clock.forward(readyFree, travel));
        taken_[i] = kNever;
        if (needsBreak) {
            const Minute carried =
                readyTaken >= kNever ? kNever : startFrom(clock.forward(readyTaken, travel));
            const Minute here = startFrom(withBreak(readyFree, travel));
            // Of equals the gap here: it may swallow waiting.
            taken_[i] = std::min(here, carried);
            takenHere_[i] = here <= carried && here < kNever ? 1 : 0;
        }
        if (free_[i] >= kNever && taken_[i] >= kNever)
            return false;
        readyFree = free_[i] >= kNever ? kNever : free_[i] + job.length;
        readyTaken = taken_[i] >= kNever ? kNever : taken_[i] + job.length;
        place = job.place;
    }
    const Minute home = clock.travelBetween(place, duty.endPlace);
    backFree_ = readyFree >= kNever ? kNever : clock.forward(readyFree, home);
    if (backFree_ > duty.to || (needsBreak && clock.breakIn(backFree_, duty.to) < 0))
        backFree_ = kNever;
    backTaken_ = kNever;
    if (needsBreak) {
        const Minute carried = readyTaken >= kNever ? kNever : clock.forward(readyTaken, home);
        const Minute here = withBreak(readyFree, home);
        backTaken_ = std::min(carried, here);
        takenHere_[n] = here < carried ? 1 : 0;
        if (backTaken_ > duty.to)
            backTaken_ = kNever;
    }
    return backFree_ < kNever || backTaken_ < kNever;
}

// Follows the labels back to starts and to the gap that holds the break.
void DutyTimer::readBack(std::size_t n, bool breakTaken) {
    chosen_.resize(n);
    breakGap_ = n + 1;
    bool taken = breakTaken;
    if (taken && takenHere_[n]) {
        breakGap_ = n;
        taken = false;
    }
    for (std::size_t i = n; i-- > 0;) {
        chosen_[i] = taken ? taken_[i] : free_[i];
        if (taken && takenHere_[i]) {
            breakGap_ = i;
            taken = false;
        }
    }
    beforeLeaving_ = taken;
}

// Keeps the last visit where it is and starts the others as late as that allows, so that the day begins late
// and nobody waits who need not; then lets each visit start as early as the late leave allows.
bool DutyTimer::squeeze(const Duty &duty, const DayClock &clock, std::span<const std::int32_t> jobs,
                        std::span<const Minute> pins, Wishes wishes) {
    const std::size_t n = jobs.size();
    if (n < 2)
        return true;
    Minute next = chosen_[n - 1];
    Minute first = next;
    for (std::size_t i = n - 1; i-- > 0;) {
        const Job &job = p_.jobs[at(jobs[i])];
        const Minute travel = clock.travelBetween(job.place, p_.jobs[at(jobs[i + 1])].place);
        Minute depart = clock.backward(next, travel);
        if (breakGap_ == i + 1) {
            const Minute b = clock.lateBreakIn(0, next);
            depart = std::min(clock.backward(next, travel + duty.breakLength), b);
        }
        const Minute start = latest(jobs[i], duty, clock, depart - job.length, pinOf(pins, jobs[i]));
        if (start < chosen_[i])
            return false; // not reached: the early start itself is one
        next = start;
        first = start;
    }
    Minute ready = first + p_.jobs[at(jobs[0])].length;
    chosen_[0] = first;
    for (std::size_t i = 1; i < n; ++i) {
        const Job &job = p_.jobs[at(jobs[i])];
        const Minute travel = clock.travelBetween(p_.jobs[at(jobs[i - 1])].place, job.place);
        Minute arrive = clock.forward(ready, travel);
        if (breakGap_ == i) {
            const Minute b = clock.breakIn(ready, duty.breakTo);
            if (b < 0)
                return false;
            arrive = std::max(clock.forward(ready, travel + duty.breakLength), b + duty.breakLength);
        }
        if (wishes == Wishes::Kept)
            arrive = std::max(arrive, slot(jobs[i], duty.day).wishFrom);
        const Minute start = earliest(jobs[i], duty, clock, arrive, pinOf(pins, jobs[i]));
        if (start >= kNever)
            return false;
        chosen_[i] = start;
        ready = start + job.length;
    }
    return true;
}

bool DutyTimer::choose(const Duty &duty, std::span<const std::int32_t> jobs, std::span<const Minute> pins,
                       Wishes wishes, std::vector<Minute> &starts, RouteCost &cost) {
    const DayClock clock(p_, duty);
    if (!forwardPass(duty, clock, jobs, pins, wishes))
        return false;
    bool found = false;
    const auto keepIfBetter = [&](const std::vector<Minute> &candidate, const DayReading &reading) {
        const RouteCost of = costOf(duty, reading, jobs, candidate);
        if (!found || of.cost < cost.cost) {
            starts.assign(candidate.begin(), candidate.end());
            cost = of;
            found = true;
        }
    };
    Minute waited = 0;
    for (const bool taken : {false, true}) {
        // The break between visits only helps where it can swallow waiting.
        if ((taken ? backTaken_ : backFree_) >= kNever || (taken && found && waited == 0))
            continue;
        readBack(jobs.size(), taken);
        const DayReading early = clock.read(jobs, chosen_);
        waited = early.wait;
        if (early.wait > 0) {
            other_ = chosen_;
            if (squeeze(duty, clock, jobs, pins, wishes)) {
                // Leaving late may push the break out of its window; then the early starts stand.
                const DayReading late = clock.read(jobs, chosen_);
                if (!late.breakIsMissing && late.leave >= duty.from && late.back <= duty.to) {
                    waited = late.wait;
                    keepIfBetter(chosen_, late);
                    continue;
                }
            }
            keepIfBetter(other_, early);
        } else {
            keepIfBetter(chosen_, early);
        }
    }
    return found;
}

bool DutyTimer::time(std::int32_t dutyIndex, std::span<const std::int32_t> jobs,
                     std::span<const Minute> pinByJob, std::vector<Minute> &starts, RouteCost &cost) {
    const Duty &duty = p_.duties[at(dutyIndex)];
    starts.clear();
    cost = {};
    if (jobs.empty())
        return true;
    if (isSimple(duty, jobs))
        return timeSimple(duty, jobs, pinByJob, starts, cost);
    if (!choose(duty, jobs, pinByJob, Wishes::Ignored, starts, cost))
        return false;
    const bool hasWishes =
        std::ranges::any_of(jobs, [&](std::int32_t j) { return slot(j, duty.day).wishFrom >= 0; });
    RouteCost keptCost;
    if (hasWishes && choose(duty, jobs, pinByJob, Wishes::Kept, kept_, keptCost) &&
        keptCost.cost < cost.cost) {
        starts = kept_;
        cost = keptCost;
    }
    return true;
}

RouteCost DutyTimer::costOf(std::int32_t dutyIndex, std::span<const std::int32_t> jobs,
                            std::span<const Minute> starts) const {
    if (jobs.empty())
        return {};
    const Duty &duty = p_.duties[at(dutyIndex)];
    return costOf(duty, DayClock(p_, duty).read(jobs, starts), jobs, starts);
}

RouteCost DutyTimer::costOf(const Duty &duty, const DayReading &r, std::span<const std::int32_t> jobs,
                            std::span<const Minute> starts) const {
    RouteCost result;
    const Weights &w = p_.weights;
    result.cost = w.travelMinute * r.travel + w.waitMinute * r.wait;
    result.paid = r.direct + r.travel + r.wait;
    for (std::size_t i = 0; i < jobs.size(); ++i) {
        const Job &job = p_.jobs[at(jobs[i])];
        const Slot &s = slot(jobs[i], duty.day);
        result.paid += job.notes;
        if (!s.isRich)
            continue;
        if (s.hasSoft)
            result.cost += w.softWindowMinute * outsideSoft(job.windows[at(duty.day)], starts[i]);
        if (standsWherePublished(job, duty) && job.publishedStart >= 0 &&
            std::abs(starts[i] - job.publishedStart) > kStillMinutes)
            result.cost += w.changed;
    }
    return result;
}

std::vector<Minute> DutyTimer::timeLoosely(std::int32_t dutyIndex, std::span<const std::int32_t> jobs,
                                           std::span<const Minute> pinByJob) const {
    const Duty &duty = p_.duties[at(dutyIndex)];
    const DayClock clock(p_, duty);
    std::vector<Minute> starts;
    Minute ready = duty.from;
    std::int32_t place = duty.startPlace;
    bool breakIsOpen = duty.breakLength > 0;
    for (const std::int32_t j : jobs) {
        const Job &job = p_.jobs[at(j)];
        const Minute travel = clock.travelBetween(place, job.place);
        Minute arrive = clock.forward(ready, travel);
        if (breakIsOpen && arrive + job.length > duty.breakTo - duty.breakLength) {
            if (const Minute b = clock.breakIn(ready, duty.breakTo); b >= 0)
                arrive = std::max(clock.forward(ready, travel + duty.breakLength), b + duty.breakLength);
            breakIsOpen = false;
        }
        const Minute pin = pinOf(pinByJob, j);
        Minute start = pin >= 0 ? pin : earliest(j, duty, clock, arrive, -1);
        if (start >= kNever)
            start = arrive;
        starts.push_back(std::max(start, starts.empty() ? 0 : starts.back()));
        ready = starts.back() + job.length;
        place = job.place;
    }
    return starts;
}

} // namespace kitround::rounds
