#pragma once
// Why a visit is not placed, what would free it, and what each other nurse and day would cost. All computed.
#include "core/rounds/problem/CostModel.h"

#include <vector>

namespace kitround::rounds {

// Whichever nurse came, the rule would bar the day: spacing, days that are not allowed, nobody on duty.
bool isOfTheDay(Rule rule);
// For each rule, on how many duties of the allowed days it alone (or first) stands in the way; of a rule of
// the day on how many days, none where no day is allowed at all.
struct UnplacedReason {
    std::int32_t job = -1;
    std::vector<std::pair<Rule, int>> blockers; // most often first
    // Of these, where nothing but the drive is too long for the nurse's hours or the patient's times, and the
    // shortest such drive one way; they are not among `blockers`.
    int tooFar = 0;
    Minute drive = 0;
    // Where nothing but other visits of the series stands in the way: these, by day. A job, or -1 for one
    // that is made or planned outside the problem.
    struct Beside {
        std::int32_t day = 0, job = -1;
        Placement place{}; // of the job
    };
    std::vector<Beside> beside;
    std::int32_t tiedTo = -1; // comes before or after it and has no place either: the two need one together
    int freePlaces = 0;       // duties of the allowed days that would take it as things are
    double freeCost = 0;      // what the cheapest of them adds; negative where it pays
};
// Of each kind: nothing but that rule stands in the way there. A day that is locked is no day that is not
// allowed. Two locks are let go together only where no single one of them is enough anywhere.
enum class WayOutKind : std::uint8_t {
    OtherDay,
    Overtime,
    WiderWindow,
    OtherSkill,
    UnlockNurse,
    UnlockDay,
    UnlockTime,
    UnlockDayAndNurse,
    UnlockDayAndTime,
    UnlockNurseAndTime,
    OneVisitMore
};
// Which locks of the visit a way out lets go.
struct Unlocked {
    bool day = false, nurse = false, time = false;
    bool any() const { return day || nurse || time; }
};
Unlocked unlockedBy(WayOutKind kind);
struct WayOut {
    WayOutKind kind = WayOutKind::OtherDay;
    std::int32_t duty = -1;
    Minute start = -1;
    std::int32_t amount = 0; // minutes beyond the rule; days from the nearest allowed one; visits a day, for
                             // one more than which is asked
    double addedCost = 0;
};
UnplacedReason whyUnplaced(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job);
// By cost, with the cheapest of each kind among them. A duty that takes the visit as things are is no way out
// but an alternative; what has begun has none, and none lies before now, nor in days gone by.
std::vector<WayOut> waysOut(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job, int most = 3);

struct Alternative {
    std::int32_t duty = -1;
    Minute start = -1;
    double addedCost = 0; // against the plan as it is
    std::vector<RuleBreak> broken;
};
// Every duty as a place for the job, cheapest allowed first, forbidden ones last with what they break.
std::vector<Alternative> alternatives(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job);

} // namespace kitround::rounds
