// The common duty, fast: a break, no blocked times, one hard window and at most one soft one a visit. The
// same answers as the general way in DutyTimer.cpp, step for step, on a few numbers in a row.
#include "core/base/Index.h"
#include "core/rounds/problem/DutyTimer.h"
#include "core/rounds/problem/Fit.h"

#include <algorithm>

namespace kitround::rounds {

bool DutyTimer::isSimple(const Duty &duty, std::span<const std::int32_t> jobs) const {
    return duty.breakLength > 0 && duty.blocked.empty() &&
           std::ranges::all_of(jobs, [&](std::int32_t job) { return slot(job, duty.day).isSimple; });
}

// With the break in the way from `ready` on.
Minute DutyTimer::afterBreakAndLeg(const Duty &duty, Minute ready, Minute leg) {
    const Minute b = std::max(ready, duty.breakFrom);
    return ready >= kNever || b + duty.breakLength > duty.breakTo
               ? kNever
               : std::max(ready + leg + duty.breakLength, b + duty.breakLength);
}

bool DutyTimer::simpleForward(const Duty &duty, Wishes wishes) {
    const std::size_t n = lines_.size();
    free_.resize(n);
    taken_.resize(n);
    takenHere_.assign(n + 1, 0);
    beforeLeaving_ = false;
    const auto breakEnd = [&](Minute from, Minute to) {
        const Minute b = std::max(from, duty.breakFrom) + duty.breakLength;
        return b <= std::min(to, duty.breakTo) ? b : kNever;
    };
    Minute readyFree = duty.from;
    Minute readyTaken = breakEnd(duty.from, duty.to);
    for (std::size_t i = 0; i < n; ++i) {
        const Line &line = lines_[i];
        const Minute notBefore = wishes == Wishes::Kept ? std::max(line.from, line.wishFrom) : line.from;
        const auto startFrom = [&](Minute arrive) { // kNever is above any window
            const Minute start = std::max(arrive, notBefore);
            return start > line.to ? kNever : start;
        };
        const Minute carried = readyTaken >= kNever ? kNever : startFrom(readyTaken + line.leg);
        const Minute here = startFrom(afterBreakAndLeg(duty, readyFree, line.leg));
        free_[i] = readyFree >= kNever ? kNever : startFrom(readyFree + line.leg);
        taken_[i] = std::min(here, carried);
        takenHere_[i] = here <= carried && here < kNever ? 1 : 0;
        if (free_[i] >= kNever && taken_[i] >= kNever)
            return false;
        readyFree = free_[i] >= kNever ? kNever : free_[i] + line.length;
        readyTaken = taken_[i] >= kNever ? kNever : taken_[i] + line.length;
    }
    backFree_ = readyFree >= kNever ? kNever : readyFree + home_;
    if (backFree_ > duty.to || breakEnd(backFree_, duty.to) >= kNever)
        backFree_ = kNever;
    const Minute carried = readyTaken >= kNever ? kNever : readyTaken + home_;
    const Minute here = afterBreakAndLeg(duty, readyFree, home_);
    backTaken_ = std::min(carried, here);
    takenHere_[n] = here < carried ? 1 : 0;
    if (backTaken_ > duty.to)
        backTaken_ = kNever;
    return backFree_ < kNever || backTaken_ < kNever;
}

DutyTimer::SimpleReading DutyTimer::simpleRead(const Duty &duty) const {
    const auto breakIn = [&](Minute from, Minute to) {
        const Minute b = std::max(from, duty.breakFrom);
        return b + duty.breakLength <= std::min(to, duty.breakTo) ? b : -1;
    };
    const std::size_t n = lines_.size();
    SimpleReading r;
    r.leave = chosen_[0] - lines_[0].leg;
    bool hasBreak = false;
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const Minute end = chosen_[i] + lines_[i].length;
        const Minute slack = std::max(0, chosen_[i + 1] - end) - lines_[i + 1].leg;
        r.wait += std::max(0, slack);
        if (!hasBreak && slack >= duty.breakLength && breakIn(end, chosen_[i + 1]) >= 0) {
            hasBreak = true;
            r.wait -= duty.breakLength;
        }
    }
    const Minute lastEnd = chosen_[n - 1] + lines_[n - 1].length;
    r.back = lastEnd + home_;
    if (hasBreak || breakIn(duty.from, r.leave) >= 0 || breakIn(r.back, duty.to) >= 0)
        return r;
    if (const Minute onWayHome = breakIn(lastEnd, duty.to); onWayHome >= 0) {
        r.back = std::max(lastEnd + home_ + duty.breakLength, onWayHome + duty.breakLength);
        return r;
    }
    const Minute onWayOut = std::min(chosen_[0], duty.breakTo) - duty.breakLength;
    r.breakIsMissing = onWayOut < std::max(duty.from, duty.breakFrom);
    if (!r.breakIsMissing)
        r.leave = std::min(chosen_[0] - lines_[0].leg - duty.breakLength, onWayOut);
    return r;
}

bool DutyTimer::simpleSqueeze(const Duty &duty, Wishes wishes) {
    const std::size_t n = lines_.size();
    if (n < 2)
        return true;
    Minute next = chosen_[n - 1];
    for (std::size_t i = n - 1; i-- > 0;) {
        Minute depart = next - lines_[i + 1].leg;
        if (breakGap_ == i + 1) {
            const Minute b = std::min(next, duty.breakTo) - duty.breakLength;
            depart = std::min(depart - duty.breakLength, b >= std::max(0, duty.breakFrom) ? b : -1);
        }
        const Minute until = depart - lines_[i].length;
        const Minute start = lines_[i].from > until ? -1 : std::min(until, lines_[i].to);
        if (start < chosen_[i])
            return false; // not reached: the early start itself is one
        next = start;
    }
    chosen_[0] = next;
    Minute ready = next + lines_[0].length;
    for (std::size_t i = 1; i < n; ++i) {
        const Line &line = lines_[i];
        const Minute arrive = breakGap_ == i ? afterBreakAndLeg(duty, ready, line.leg) : ready + line.leg;
        const Minute notBefore = wishes == Wishes::Kept ? std::max(line.from, line.wishFrom) : line.from;
        chosen_[i] = std::max(arrive, notBefore);
        if (chosen_[i] > line.to)
            return false;
        ready = chosen_[i] + line.length;
    }
    return true;
}

// What the starts cost beyond travel and waiting.
double DutyTimer::simpleExtra(std::span<const Minute> starts) const {
    double extra = 0;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
        const Line &line = lines_[i];
        extra +=
            p_.weights.softWindowMinute * std::max({line.softFrom - starts[i], starts[i] - line.softTo, 0});
        if (line.published >= 0 && std::abs(starts[i] - line.published) > kStillMinutes)
            extra += p_.weights.changed;
    }
    return extra;
}

bool DutyTimer::chooseSimple(const Duty &duty, Wishes wishes, bool hasWishes, std::vector<Minute> &starts,
                             SimpleCost &cost) {
    if (!simpleForward(duty, wishes))
        return false;
    bool found = false;
    const auto keepIfBetter = [&](const std::vector<Minute> &candidate, Minute wait) {
        const double of = p_.weights.waitMinute * wait + (hasWishes ? simpleExtra(candidate) : 0);
        if (!found || of < cost.cost) {
            starts.assign(candidate.begin(), candidate.end());
            cost = {of, wait};
            found = true;
        }
    };
    Minute waited = 0;
    for (const bool taken : {false, true}) {
        // The break between visits only helps where it can swallow waiting.
        if ((taken ? backTaken_ : backFree_) >= kNever || (taken && found && waited == 0))
            continue;
        readBack(lines_.size(), taken);
        const SimpleReading early = simpleRead(duty);
        waited = early.wait;
        if (early.wait == 0) {
            keepIfBetter(chosen_, 0);
            continue;
        }
        other_ = chosen_;
        if (simpleSqueeze(duty, wishes)) {
            const SimpleReading late = simpleRead(duty);
            if (!late.breakIsMissing && late.leave >= duty.from && late.back <= duty.to) {
                waited = late.wait;
                keepIfBetter(chosen_, late.wait);
                continue;
            }
        }
        keepIfBetter(other_, early.wait);
    }
    return found;
}

bool DutyTimer::timeSimple(const Duty &duty, std::span<const std::int32_t> jobs, std::span<const Minute> pins,
                           std::vector<Minute> &starts, RouteCost &cost) {
    const std::size_t n = jobs.size();
    lines_.resize(n);
    Minute travel = 0, direct = 0, notes = 0;
    bool hasWishes = false;
    const Minute *row = p_.travel.minutes.data() + at(duty.startPlace) * p_.travel.places;
    for (std::size_t i = 0; i < n; ++i) {
        const Lean &lean = lean_[at(jobs[i])];
        const Slot &s = slot(jobs[i], duty.day);
        Line &line = lines_[i];
        line = {s.onlyFrom, s.onlyTo, lean.length, row[lean.place], s.wishFrom, s.softFrom, s.softTo, -1};
        if (lean.publishedDay == duty.day && lean.publishedNurse == duty.nurse)
            line.published = lean.publishedStart;
        if (const Minute pin = pinOf(pins, jobs[i]); pin >= 0) {
            if (pin < line.from || pin > line.to)
                return false;
            line.from = line.to = pin;
        }
        hasWishes = hasWishes || s.isRich;
        travel += line.leg;
        direct += lean.length;
        notes += lean.notes;
        row = p_.travel.minutes.data() + at(lean.place) * p_.travel.places;
    }
    home_ = row[duty.endPlace];
    travel += home_;
    SimpleCost plain, kept;
    if (!chooseSimple(duty, Wishes::Ignored, hasWishes, starts, plain))
        return false;
    if (hasWishes && chooseSimple(duty, Wishes::Kept, true, kept_, kept) && kept.cost < plain.cost) {
        starts = kept_;
        plain = kept;
    }
    cost.cost = p_.weights.travelMinute * travel + plain.cost;
    cost.paid = direct + travel + plain.wait + notes;
    return true;
}

} // namespace kitround::rounds
