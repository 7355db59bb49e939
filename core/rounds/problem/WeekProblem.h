#pragma once
// The planning problem, validated once and then constant: visits to place, the nurses' duties (one nurse on
// one day), riders (deliveries that may be carried), travel and weights. Plain indices inside; ids at the
// border. Times are minutes after local midnight, days count from the first day of the problem. A problem
// that is not an agency's may count a finer tick than the minute (see `clockEnd`); weights are then per tick.
#include "core/base/Result.h"
#include "core/records/Ids.h"
#include "core/records/Nurses.h"
#include "core/records/Visits.h"
#include "core/rounds/travel/Travel.h"

#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <tuple>
#include <vector>

namespace kitround::rounds {

using Minute = std::int32_t;
constexpr Minute minuteOf(Minutes minutes) {
    return static_cast<Minute>(minutes.count());
}
inline constexpr double kImpossible = std::numeric_limits<double>::infinity(); // cost of what no rule allows

struct TimeWindow {
    Minute from = 0;
    Minute to = 1440; // latest start of the visit
    bool isHard = true;
};

// Stable order: index in WeekProblem::nurses.
struct NurseInfo {
    NurseId id;
    SkillSet skills;                      // valid on every day of the problem on which the nurse has a duty
    std::vector<std::uint64_t> languages; // hashed tags; see WeekBuilder
    std::optional<Gender> gender;
    Minute contractMinutes = 2400;     // in each week of the problem; in its range where that is shorter
    std::vector<Minute> alreadyWorked; // by week of the problem; what is left out is 0
    bool overtimeExempt = false;
    std::int64_t carSpaceMl = 0;
};

// One nurse on one day.
struct Duty {
    std::int32_t nurse = 0;
    std::int32_t day = 0;
    Minute from = 480;
    Minute to = 1020;
    Minute breakLength = 0;
    Minute breakFrom = 0;
    Minute breakTo = 0;
    std::int32_t startPlace = 0; // travel place
    std::int32_t endPlace = 0;
    int mostVisits = 7;
    std::int32_t mostLoad = std::numeric_limits<std::int32_t>::max(); // sum of Job::load
    SkillSet skills;                                                  // that day
    bool isOnCall = false;           // not planned unless the visit is locked to it
    std::vector<TimeWindow> blocked; // appointments of the nurse's own; hard
    bool isAway = false;             // she is not there: no visit that day, nor did one begin
    int made = 0;                    // of the visits she may make that day; `mostVisits` are left
    // When it runs, from where to where, and how much it holds: two duties alike in this may change rounds.
    auto shape() const {
        return std::tuple(day, from, to, breakLength, breakFrom, breakTo, startPlace, endPlace, mostVisits,
                          mostLoad);
    }
};

enum class Priority : std::uint8_t { Low, Middle, High, Urgent };

struct Job {       // one visit to place
    VisitId visit; // unset: not stored yet
    PatientId patient;
    VisitKind kind = VisitKind::Routine;
    std::int32_t place = 0;
    Minute length = 45;
    Minute notes = 15; // documentation after, counted in the nurse's hours, not in the route
    double points = 1;
    std::int32_t load = 0; // takes this much of Duty::mostLoad
    SkillSet needs;
    Priority priority = Priority::Middle;
    std::vector<bool> allowedDays;                // by day
    std::vector<std::vector<TimeWindow>> windows; // by day; empty = any time of the duty
    bool twoNurses = false;
    std::vector<std::int32_t> barredNurses;
    std::int32_t primaryNurse = -1;
    std::vector<std::int32_t> knownNurses; // visited this patient lately
    std::uint64_t wishedLanguage = 0;      // 0 = none
    std::optional<Gender> wishedGender;
    std::int32_t series = -1; // jobs of one order share a series: spacing
    // locks, and where it stands in the published plan
    std::int32_t lockedDay = -1;
    std::int32_t lockedNurse = -1;
    std::int32_t lockedSecondNurse = -1;
    Minute lockedStart = -1;
    bool hasBegun = false;      // the locks say what is under way already
    std::int32_t askedDay = -1; // the day somebody locked it to, whether it has begun or not
    std::int32_t publishedNurse = -1;
    std::int32_t publishedSecondNurse = -1; // who was told to come too, where two go
    std::int32_t publishedDay = -1;
    Minute publishedStart = -1;
};
struct Series {
    std::int32_t leastGap = 1;           // days between starts of neighbouring visits; hard
    std::int32_t mostGap = 7;            // soft: costs by the day
    std::vector<std::int32_t> fixedDays; // days (may be negative or beyond) of visits outside the problem
    std::vector<std::int32_t> jobs;
    std::vector<std::uint64_t> patterns; // sets of days it may have, bit d = day d; none = any; hard
    bool oneNurse = false;               // the same nurse comes every time; hard
};
// Two visits with different nurses on one day: start of `second` less start of `first` within [least, most];
// 0 and 0: at once. Hard. A job stands in one link at most.
struct Link {
    std::int32_t first = 0;
    std::int32_t second = 0;
    Minute least = 0;
    Minute most = 0;
};
// One visit after another as an agency ordered it (records/Visits.h): `second` comes so many days after the
// day of `first`, or on its day so many minutes from start to start. Hard where both are placed. In minutes a
// job stands in one of these at most; the search places and moves the two together.
struct Follow {
    std::int32_t first = 0;
    std::int32_t second = 0;
    GapUnit unit = GapUnit::Day;
    std::int32_t least = 0;
    std::int32_t most = 0;
    bool byAnother = false; // two nurses
};
struct Rider {           // a delivery that a visit may carry
    DeliveryId delivery; // unset: a proposal
    PatientId patient;
    std::int64_t spaceMl = 0;
    std::int32_t earliestDay = 0;
    std::int32_t latestDay = 6; // run-out deadline
    bool courierPossible = true;
    VisitId packedFor{}; // in the car for this visit; unset: nobody has packed it
};

struct Weights { // cost of one unit, in weighted minutes; the formula stands in CostModel.h
    std::array<double, 4> unplaced{600, 1200, 2400, 6000};
    double overtimeMinute = 2, travelMinute = 1, waitMinute = 0.2, softWindowMinute = 0.5;
    double notPrimary = 15, notKnown = 20, gapDay = 60, uneven = 1, courierRun = 45, undelivered = 2000,
           changed = 30, wish = 20, secondNurse = 30, worstSoft = 0;
};

struct WeekProblem {
    Date firstDay;
    std::int32_t days = 7;
    std::vector<NurseInfo> nurses;
    std::vector<Duty> duties; // by nurse, then day; at most one a nurse and day (gaps are `blocked`)
    std::vector<Job> jobs;
    std::vector<Series> series;
    std::vector<Link> links;
    std::vector<Follow> follows;
    std::vector<Rider> riders;
    std::vector<TravelPlace> places;
    TravelTable travel;
    Weights weights;
    // Today and the time of it, where the days hold today: nothing can be put before, and what is given a new
    // place leaves `lead` minutes to tell the nurse (problem/FromNow). `days` where they are all gone by.
    std::int32_t nowDay = -1;
    Minute now = 0;
    Minute lead = 0;
    Minute clockEnd = 2 * 1440;  // no time of the problem lies beyond; at most kLatestClock
    bool pointIsGuessed = false; // some place had no coordinates
};
inline constexpr Minute kLatestClock = 1 << 27; // sums of a few times still fit
// Everything inconsistent is refused, each rule named (field "jobs[3].length" and the like).
Result<void> checkProblem(const WeekProblem &problem);

// The problem's weeks: seven days each from its first day, the last as long as it is.
inline std::int32_t weeksOf(const WeekProblem &problem) {
    return (problem.days + 6) / 7;
}
// Nothing of it can be planned any more.
inline bool hasPassed(const WeekProblem &problem) {
    return problem.nowDay >= problem.days;
}
// Hours are summed by nurse and week: all weeks of the first nurse, then of the next.
inline std::size_t hoursIndex(const WeekProblem &problem, std::int32_t nurse, std::int32_t day) {
    return static_cast<std::size_t>(nurse) * static_cast<std::size_t>(weeksOf(problem)) +
           static_cast<std::size_t>(day / 7);
}

// A plan: where each job stands. Index = job.
struct Placement {
    std::int32_t duty = -1;       // -1: not placed
    std::int32_t secondDuty = -1; // two nurses at once
    Minute start = -1;
    bool isPlaced() const { return duty >= 0; }
};
struct WeekPlan {
    std::vector<Placement> placements;
    std::vector<std::int32_t> riderJob; // by rider: the job that carries it, or -1 = courier
    double cost = 0;
};

} // namespace kitround::rounds
