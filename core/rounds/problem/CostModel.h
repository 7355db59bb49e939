#pragma once
// The one place that knows what a plan costs and what it may not do.
//
// cost = sum of unplaced[priority] over unplaced jobs
//      + overtimeMinute x minutes beyond contract, per nurse and week (visits + travel + waiting + notes; 0
//      if exempt)
//      + travelMinute x travel + waitMinute x waiting
//      + softWindowMinute x minutes outside soft windows + worstSoft x the most of them at one visit
//      + notPrimary per placed job whose patient has a primary nurse who is not the visitor
//      + notKnown per placed job whose visitor has not been there lately (with no primary)
//      + gapDay x days beyond a series' mostGap
//      + uneven x sum over nurses of |weighted points - points in proportion to contract|
//      + courierRun per patient served by courier + undelivered per rider that nobody can bring in time
//      + changed per published job that moved (nurse or day, or start by more than 30 minutes)
//      + wish per job whose language or gender wish is not met
//      + secondNurse per two visits to one patient on one day that no nurse shares (areApart)
//
// Hard rules: skills, duty hours, breaks, hard windows, barred nurses, allowed days, locks, most visits a
// day, load of a duty, least gap in a series, one visit a day per series, its patterns of days, its one
// nurse, two nurses at the same time, linked visits, visits one after another, car space.
#include "core/rounds/problem/WeekProblem.h"

#include <vector>

namespace kitround::rounds {

struct CostParts {
    double unplaced = 0, overtime = 0, travel = 0, waiting = 0, softWindows = 0, continuity = 0, gaps = 0,
           unevenness = 0, couriers = 0, changes = 0, wishes = 0, secondNurses = 0;
    double total() const {
        return unplaced + overtime + travel + waiting + softWindows + continuity + gaps + unevenness +
               couriers + changes + wishes + secondNurses;
    }
};

enum class Rule : std::uint8_t {
    Skill,
    DutyHours,
    Break,
    Window,
    Barred,
    Day,
    LockedDay,
    LockedNurse,
    LockedTime,
    MostVisits,
    LeastGap,
    SameDayTwice,
    TwoNurses,
    CarSpace,
    NoDuty,
    Overlap,
    Load,
    Pattern,
    OneNurse,
    Linked
};
struct RuleBreak {
    Rule rule = Rule::Skill;
    std::int32_t job = -1;
    std::int32_t duty = -1;
    std::int32_t amount = 0; // minutes, days, visits or load too many, where that has a meaning
};

struct DutyTimes { // one duty's day, in order
    struct Stop {
        std::int32_t job = -1;
        Minute arrive = 0, start = 0, end = 0, travel = 0, wait = 0;
    };
    std::vector<Stop> stops;
    Minute leave = 0; // from the start place
    Minute back = 0;  // at the end place
    Minute travel = 0, wait = 0, direct = 0, notes = 0;
    Minute breakStart = -1;
    std::int64_t metres = 0;
};

struct Evaluation {
    CostParts parts;
    std::vector<RuleBreak> broken;    // empty = the plan keeps every hard rule
    std::vector<DutyTimes> duties;    // index = duty
    std::vector<Minute> nurseMinutes; // by nurse and week (hoursIndex): paid minutes with notes
};
// The slow, plain computation over a whole plan: starts as the plan says. Every incremental shortcut of the
// search must agree with it.
Evaluation evaluate(const WeekProblem &problem, const WeekPlan &plan);

// What a move by hand would do: before and after. `job` goes to `duty` at `start` (or the best time on that
// duty where start < 0; today no sooner than the nurse can be told and drive there), or out of the plan where
// duty < 0. Others on the duty are re-timed, order kept; on a duty that it leaves, to the times people were
// told where these are possible.
struct MoveCheck {
    WeekPlan plan; // with the move made
    CostParts before, after;
    std::vector<RuleBreak> broken; // that the move brings
    Minute travelAdded = 0;
};
MoveCheck tryMove(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job, std::int32_t duty,
                  Minute start);
// What it would do if two duties changed their visits, each visit at its best time there. Locked visits and
// those of two nurses stay.
MoveCheck trySwap(const WeekProblem &problem, const WeekPlan &plan, std::int32_t one, std::int32_t other);

} // namespace kitround::rounds
