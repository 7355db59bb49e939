#include "core/rounds/search/LinkedClock.h"

#include <algorithm>
#include <limits>

namespace kitround::rounds {
namespace {

constexpr Minute kNever = std::numeric_limits<Minute>::max();
// A plan without a contradiction lifts each start a few times; a circle of links lifts for ever.
constexpr std::size_t kMostLifts = 30;

} // namespace

LinkedClock::LinkedClock(const WeekProblem &problem) : p_(problem) {
    const std::size_t jobs = p_.jobs.size();
    ties_.resize(jobs);
    next_.assign(jobs, -1);
    duty_.assign(jobs, -1);
    first_.assign(p_.duties.size(), -1);
    start_.assign(jobs, 0);
    trial_.assign(jobs, 0);
    stamps_.assign(jobs, 0);
    isQueued_.assign(jobs, 0);
    for (std::size_t j = 0; j < jobs; ++j) {
        const Job &job = p_.jobs[j];
        Tie &tie = ties_[j];
        tie.length = job.length;
        tie.place = job.place;
        tie.late = tie.softTo = p_.clockEnd;
        const auto day = std::ranges::find(job.allowedDays, true) - job.allowedDays.begin();
        if (day >= p_.days)
            continue;
        for (const TimeWindow &w : job.windows[static_cast<std::size_t>(day)]) {
            if (w.isHard) {
                tie.early = w.from;
                tie.late = w.to;
            } else {
                tie.softTo = w.to;
            }
        }
        if (job.lockedStart >= 0)
            tie.early = tie.late = job.lockedStart;
    }
    for (const Link &link : p_.links) {
        ties_[size(link.first)].partner = link.second;
        ties_[size(link.first)].toPartner = link.least;
        ties_[size(link.second)].partner = link.first;
        ties_[size(link.second)].toPartner = -link.most;
    }
}

Minute LinkedClock::leastStart(std::int32_t job, std::int32_t dutyIndex, std::int32_t before) const {
    const Tie &tie = ties_[size(job)];
    const Duty &duty = p_.duties[size(dutyIndex)];
    if (before < 0)
        return std::max(tie.early, duty.from + travel(duty.startPlace, tie.place));
    const Tie &other = ties_[size(before)];
    return std::max(tie.early, start_[size(before)] + other.length + travel(other.place, tie.place));
}

void LinkedClock::heedLink(std::int32_t job, Minute &start, std::int32_t mate, Minute &mateStart) const {
    mateStart = std::max(mateStart, start + ties_[size(job)].toPartner);
    start = std::max(start, mateStart + ties_[size(mate)].toPartner);
}

// False where the job would be too late or the limit is reached.
bool LinkedClock::lift(std::int32_t job, Minute to) {
    const Minute was = now(job);
    if (to <= was)
        return true;
    if (to > ties_[size(job)].late) {
        culprit_ = job;
        return false;
    }
    stamps_[size(job)] = stamp_;
    trial_[size(job)] = to;
    const Minute off = offSoft(job, to);
    if (off > 0) {
        moreOff_ += off - offSoft(job, was);
        trialWorst_ = std::max(trialWorst_, off);
        costSoFar_ = p_.weights.softWindowMinute * static_cast<double>(moreOff_) +
                     p_.weights.worstSoft * (trialWorst_ - worst_);
        if (costSoFar_ >= limit_)
            return false;
    }
    if (!isQueued_[size(job)]) {
        isQueued_[size(job)] = 1;
        queue_.push_back(job);
    }
    return true;
}

bool LinkedClock::settle() {
    bool isGood = true;
    const std::size_t most = kMostLifts * p_.jobs.size();
    for (std::size_t i = 0; i < queue_.size(); ++i) {
        const std::int32_t job = queue_[i];
        isQueued_[size(job)] = 0;
        if (!isGood)
            continue;
        const Tie &tie = ties_[size(job)];
        const Minute start = now(job);
        const Minute end = start + tie.length;
        const std::int32_t next = next_[size(job)];
        if (next >= 0) {
            isGood = lift(next, end + travel(tie.place, ties_[size(next)].place));
        } else {
            const Duty &duty = p_.duties[size(duty_[size(job)])];
            isGood = end + travel(tie.place, duty.endPlace) <= duty.to;
            if (!isGood)
                culprit_ = job;
        }
        if (isGood && tie.partner >= 0 && duty_[size(tie.partner)] >= 0)
            isGood = lift(tie.partner, start + tie.toPartner);
        if (i > most) {
            culprit_ = job;
            isGood = false;
        }
    }
    queue_.clear();
    return isGood;
}

std::int32_t LinkedClock::timeAll() {
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        start_[j] = ties_[j].early;
    worst_ = 0;
    ++stamp_;
    moreOff_ = 0;
    trialWorst_ = 0;
    limit_ = kImpossible;
    culprit_ = -1;
    bool isGood = true;
    for (std::size_t d = 0; d < first_.size() && isGood; ++d) {
        const Duty &duty = p_.duties[d];
        std::int32_t place = duty.startPlace;
        Minute ready = duty.from;
        for (std::int32_t job = first_[d]; job >= 0 && isGood; job = next_[size(job)]) {
            const Tie &tie = ties_[size(job)];
            isGood = lift(job, ready + travel(place, tie.place));
            if (!isQueued_[size(job)] && tie.partner >= 0) {
                isQueued_[size(job)] = 1;
                queue_.push_back(job);
            }
            ready = now(job) + tie.length;
            place = tie.place;
            if (next_[size(job)] < 0 && isGood && ready + travel(place, duty.endPlace) > duty.to) {
                culprit_ = job;
                isGood = false;
            }
        }
    }
    if (!isGood)
        for (const std::int32_t job : queue_)
            isQueued_[size(job)] = 0;
    isGood = isGood && settle();
    queue_.clear();
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        start_[j] = now(static_cast<std::int32_t>(j));
    worst_ = trialWorst_;
    return isGood ? -1 : culprit_;
}

double LinkedClock::price(std::span<const Place> places, double limit) {
    ++stamp_;
    moreOff_ = 0;
    trialWorst_ = worst_;
    costSoFar_ = 0;
    limit_ = limit;
    for (const Place &place : places) { // into the orders for a while
        const std::int32_t next = place.before >= 0 ? next_[size(place.before)] : first_[size(place.duty)];
        next_[size(place.job)] = next;
        if (place.before >= 0)
            next_[size(place.before)] = place.job;
        else
            first_[size(place.duty)] = place.job;
        duty_[size(place.job)] = place.duty;
        stamps_[size(place.job)] = stamp_;
        trial_[size(place.job)] = ties_[size(place.job)].early - 1; // so that lifting notes it
    }
    bool isGood = true;
    for (const Place &place : places)
        isGood = isGood && lift(place.job, leastStart(place.job, place.duty, place.before));
    if (isGood)
        isGood = settle();
    else
        for (const std::int32_t job : queue_)
            isQueued_[size(job)] = 0;
    queue_.clear();
    for (std::size_t i = places.size(); i-- > 0;) {
        const Place &place = places[i];
        if (place.before >= 0)
            next_[size(place.before)] = next_[size(place.job)];
        else
            first_[size(place.duty)] = next_[size(place.job)];
        next_[size(place.job)] = -1;
        duty_[size(place.job)] = -1;
    }
    ++stamp_; // forget the trial
    return isGood ? costSoFar_ : kImpossible;
}

} // namespace kitround::rounds
