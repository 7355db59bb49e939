#pragma once
// Chooses the starts of a duty's visits for a given order: feasible whenever any starts are (hard windows,
// duty hours, break, blocked times, locked and pinned starts), back as early as possible and then with the
// least waiting; of a plain and a wish-keeping variant (soft windows, published times) the cheaper. One
// instance a thread: scratch space inside.
#include "core/rounds/problem/DayClock.h"
#include "core/rounds/problem/TimeSegment.h"

#include <span>

namespace kitround::rounds {

struct RouteCost {
    double cost = 0; // travel, waiting, soft windows, changed starts; weighted
    Minute paid = 0; // direct + travel + waiting + notes
};

class DutyTimer {
public:
    explicit DutyTimer(const WeekProblem &problem);

    // `pinByJob` (index = job, -1 = free) fixes a start. False where no starts exist; `starts` is then
    // undefined.
    bool time(std::int32_t duty, std::span<const std::int32_t> jobs, std::span<const Minute> pinByJob,
              std::vector<Minute> &starts, RouteCost &cost);
    // Starts in the order given, each as early as it can be; windows that cannot be kept are passed over. For
    // showing what a forbidden move would break.
    std::vector<Minute> timeLoosely(std::int32_t duty, std::span<const std::int32_t> jobs,
                                    std::span<const Minute> pinByJob) const;
    // What given starts cost.
    RouteCost costOf(std::int32_t duty, std::span<const std::int32_t> jobs,
                     std::span<const Minute> starts) const;

    // The visit alone, with the hull of its hard windows. late < early where it cannot be on that day.
    TimeSegment segmentOf(std::int32_t job, std::int32_t day, Minute pin) const;
    // Neither break nor blocked times: then segments tell the whole truth for visits of one hard window.
    bool dutyIsPlain(std::int32_t duty) const { return dutyIsPlain_[static_cast<std::size_t>(duty)]; }
    bool jobIsPlain(std::int32_t job, std::int32_t day) const { return !slot(job, day).isRich; }

private:
    static constexpr Minute kNever = 1 << 28;
    struct Span {
        Minute from, to; // starts, both ends allowed
    };
    struct Slot {                          // a job on a day
        std::uint32_t first = 0, last = 0; // hard windows in spans_; none = shut
        Minute wishFrom = -1;              // not before, when wishes are kept
        bool hasSoft = false;
        bool isRich = false;   // more than one hard window, or wishes
        bool isSimple = false; // one hard window, one soft window at most:
        Minute onlyFrom = 0, onlyTo = 0;
        Minute softFrom = -kNever, softTo = kNever; // anything where there is none
    };
    const Slot &slot(std::int32_t job, std::int32_t day) const {
        return slots_[static_cast<std::size_t>(job) * static_cast<std::size_t>(p_.days) +
                      static_cast<std::size_t>(day)];
    }
    Minute earliest(std::int32_t job, const Duty &duty, const DayClock &clock, Minute from,
                    Minute pin) const {
        const Slot &s = slot(job, duty.day);
        if (pin >= 0 || s.last - s.first != 1 || !duty.blocked.empty())
            return earliestOfMany(job, duty, clock, from, pin);
        const Span &only = spans_[s.first];
        return from > only.to ? kNever : std::max(from, only.from);
    }
    Minute latest(std::int32_t job, const Duty &duty, const DayClock &clock, Minute until, Minute pin) const {
        const Slot &s = slot(job, duty.day);
        if (pin >= 0 || s.last - s.first != 1 || !duty.blocked.empty())
            return latestOfMany(job, duty, clock, until, pin);
        const Span &only = spans_[s.first];
        return only.from > until ? -1 : std::min(until, only.to);
    }
    Minute earliestOfMany(std::int32_t job, const Duty &duty, const DayClock &clock, Minute from,
                          Minute pin) const;
    Minute latestOfMany(std::int32_t job, const Duty &duty, const DayClock &clock, Minute until,
                        Minute pin) const;
    Minute pinOf(std::span<const Minute> pins, std::int32_t job) const {
        return pins.empty() ? -1 : pins[static_cast<std::size_t>(job)];
    }
    enum class Wishes : std::uint8_t { Ignored, Kept };
    bool choose(const Duty &duty, std::span<const std::int32_t> jobs, std::span<const Minute> pins,
                Wishes wishes, std::vector<Minute> &starts, RouteCost &cost);
    RouteCost costOf(const Duty &duty, const DayReading &reading, std::span<const std::int32_t> jobs,
                     std::span<const Minute> starts) const;
    bool forwardPass(const Duty &duty, const DayClock &clock, std::span<const std::int32_t> jobs,
                     std::span<const Minute> pins, Wishes wishes);
    void readBack(std::size_t n, bool breakTaken);
    bool squeeze(const Duty &duty, const DayClock &clock, std::span<const std::int32_t> jobs,
                 std::span<const Minute> pins, Wishes wishes);

    // DutyTimerSimple.cpp
    struct Line { // a visit and the way to it
        Minute from, to, length, leg, wishFrom, softFrom, softTo, published;
    };
    struct SimpleReading {
        Minute leave = 0, back = 0, wait = 0;
        bool breakIsMissing = false;
    };
    struct SimpleCost {
        double cost = 0; // beside travel
        Minute wait = 0;
    };
    bool isSimple(const Duty &duty, std::span<const std::int32_t> jobs) const;
    bool timeSimple(const Duty &duty, std::span<const std::int32_t> jobs, std::span<const Minute> pins,
                    std::vector<Minute> &starts, RouteCost &cost);
    bool chooseSimple(const Duty &duty, Wishes wishes, bool hasWishes, std::vector<Minute> &starts,
                      SimpleCost &cost);
    double simpleExtra(std::span<const Minute> starts) const;
    bool simpleForward(const Duty &duty, Wishes wishes);
    SimpleReading simpleRead(const Duty &duty) const;
    bool simpleSqueeze(const Duty &duty, Wishes wishes);
    static Minute afterBreakAndLeg(const Duty &duty, Minute ready, Minute leg);

    const WeekProblem &p_;
    struct Lean { // what the clock reads of a job, side by side
        std::int32_t place = 0;
        Minute length = 0, notes = 0;
        std::int32_t publishedNurse = -1, publishedDay = -1;
        Minute publishedStart = -1;
    };
    std::vector<Lean> lean_;
    std::vector<Slot> slots_;
    std::vector<Span> spans_;
    std::vector<char> dutyIsPlain_;
    // scratch: earliest starts by label (0 = break still to come, 1 = taken) and how label 1 was reached
    std::vector<Minute> free_, taken_;
    std::vector<char> takenHere_; // the break lies in the gap before visit i (n: before coming home)
    bool beforeLeaving_ = false;
    Minute backFree_ = 0, backTaken_ = 0;
    std::vector<Minute> chosen_, other_, kept_;
    std::vector<Line> lines_;
    Minute home_ = 0;          // the way home from the last visit
    std::size_t breakGap_ = 0; // n + 1: outside the round
};

} // namespace kitround::rounds
