#pragma once
// What nursing was ordered, and the visits that follow from it: from due to done.
#include "core/base/Date.h"
#include "core/records/Ids.h"
#include "core/records/Nurses.h"

#include <optional>
#include <string>
#include <vector>

namespace kitround {

enum class VisitKind : std::uint8_t {
    StartOfCare,
    Resumption,
    Recertification,
    Discharge, // assessments
    Routine,
    Teaching,
    DrainOnly,
    DressingCheck,
    SupplyCount,
    SymptomFollowUp,
    AsNeeded,
    Supervisory,
    Phone
};
inline constexpr int kVisitKindCount = 13;

// One segment of a visit order: `2W4` is 2 a week for 4 weeks; `2-3W4` a range; `2PRN` as needed, at most 2.
struct VisitSegment {
    int leastPerWeek = 1;
    int mostPerWeek = 1;
    int weeks = 1;           // 0 for PRN
    bool isAsNeeded = false; // then mostPerWeek is the total allowed over the order
    std::string reason;      // PRN: for what
    friend bool operator==(const VisitSegment &, const VisitSegment &) = default;
};

// A visit that comes after another one of the same patient: teaching before the home drains itself, one nurse
// after another. Days count from day to day; minutes from the end of the visit before to the start of this
// one, on one day. Of two orders the first visit of a week comes after the first of the same week, the second
// after the second; where the other order has fewer, what is left over stands free.
enum class GapUnit : std::uint8_t { Minute, Day };
struct ComesAfter {
    std::optional<VisitOrderId> order; // at most one of the two is set; none: comes after nothing
    std::optional<VisitId> visit;      // a visit of no order; for added visits only
    GapUnit unit = GapUnit::Day;
    int least = 0;
    int most = 0;
    bool byAnother = false; // not by the nurse of the visit before
    bool isSet() const { return order || visit; }
    friend bool operator==(const ComesAfter &, const ComesAfter &) = default;
};

struct VisitOrder {
    VisitOrderId id;
    PatientId patient;
    VisitKind kind = VisitKind::Routine;
    Date start;
    std::optional<Date> end; // first day no longer in force
    std::vector<VisitSegment> segments;
    WeekdaySet allowedDays;        // empty = any day
    std::optional<Minutes> length; // else the setting for the kind
    SkillSet needs;
    std::optional<Days> leastGap; // between two visits of this order; else the calendar's even spacing rule
    std::optional<Days> mostGap;
    bool twoNurses = false;
    std::string prescriber;
    ComesAfter after; // another order
    std::int64_t rowVersion = 0;
    friend bool operator==(const VisitOrder &, const VisitOrder &) = default;
};

enum class VisitStatus : std::uint8_t { Due, Drafted, Published, Done, Missed, Cancelled };
enum class MissReason : std::uint8_t { None, Refused, NotHome, Hospital, NurseAway, Weather, Other };

struct Visit {
    VisitId id;
    PatientId patient;
    std::optional<VisitOrderId> order; // none: from an event
    VisitKind kind = VisitKind::Routine;
    VisitStatus status = VisitStatus::Due;
    Date dueFrom;
    Date dueTo; // exclusive
    Minutes length;
    SkillSet needs;
    bool twoNurses = false;
    // planned
    std::optional<Date> on;
    std::optional<Minutes> startAt;
    std::optional<NurseId> nurse;
    std::optional<NurseId> secondNurse;
    bool dayIsLocked = false;
    bool nurseIsLocked = false;
    bool timeIsLocked = false;
    // what happened
    std::optional<LocalTime> startedAt;
    std::optional<LocalTime> endedAt;
    std::optional<Metres> driven;
    bool drivenIsEstimated = false; // worked out from the map, not read off the car
    MissReason missReason = MissReason::None;
    std::optional<LocalTime> prescriberToldAt;
    std::string note;
    ComesAfter after;       // beside what its order says; only for a visit of no order
    bool isDropped = false; // called off for good: its order owes one fewer in that week
    std::int64_t rowVersion = 0;

    // The day it took place; else the planned one; none where it stands nowhere yet.
    std::optional<Date> day() const { return startedAt ? std::optional(startedAt->date) : on; }
    // What it took by the clock, past midnight too; none where that is not on record or the wrong way round.
    std::optional<Minutes> lasted() const {
        if (!startedAt || !endedAt || *endedAt < *startedAt)
            return std::nullopt;
        return Minutes::of((endedAt->date - startedAt->date).count() * 1440) + endedAt->minute -
               startedAt->minute;
    }

    friend bool operator==(const Visit &, const Visit &) = default;
};

enum class PlanStatus : std::uint8_t { Draft, Published, Superseded };
struct PlannedVisit {
    VisitId visit;
    Date on;
    Minutes startAt;
    NurseId nurse;
    std::optional<NurseId> secondNurse;
    Minutes travelBefore;
    std::optional<DeliveryId> carries;
    friend bool operator==(const PlannedVisit &, const PlannedVisit &) = default;
};
// A week's plan as it was at one moment. Published versions are kept; the newest is in force.
struct Plan {
    PlanId id;
    Date weekStart;
    int version = 1;
    PlanStatus status = PlanStatus::Draft;
    std::optional<Instant> publishedAt;
    std::optional<UserId> publishedBy;
    std::int64_t seed = 0;
    double cost = 0; // weighted minutes
    std::vector<PlannedVisit> visits;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Plan &, const Plan &) = default;
};

// A nurse heard how her published day is now: what she knows from then on. Kept as told, never changed;
// what was written down wrongly is taken back, with a reason, and counts no more.
struct ToldVisit {
    VisitId visit;
    Minutes startAt;
    friend bool operator==(const ToldVisit &, const ToldVisit &) = default;
};
struct PlanTold {
    PlanToldId id;
    NurseId nurse;
    Date on; // the day of the round
    LocalTime at;
    std::string by;                       // who told her
    std::string note;                     // what she said
    std::optional<LocalTime> takenBackAt; // this and who are known together or not at all
    std::optional<UserId> takenBackBy;
    std::string takenBackWhy;
    std::vector<ToldVisit> visits; // in start order; empty: nothing is left of the day
    std::int64_t rowVersion = 0;
    bool isTakenBack() const { return takenBackAt.has_value(); }
    friend bool operator==(const PlanTold &, const PlanTold &) = default;
};

// Where a home may expect a visit; not set: it expects none.
struct VisitPlace {
    std::optional<Date> on; // day, start and nurse are known together or not at all
    std::optional<Minutes> startAt;
    std::optional<NurseId> nurse;
    std::optional<NurseId> secondNurse;
    bool isSet() const { return on && startAt && nurse; }
    friend bool operator==(const VisitPlace &, const VisitPlace &) = default;
};
inline VisitPlace plannedPlace(const Visit &visit) {
    return {visit.on, visit.startAt, visit.nurse, visit.secondNurse};
}
inline VisitPlace plannedPlace(const PlannedVisit &visit) {
    return {visit.on, visit.startAt, visit.nurse, visit.secondNurse};
}

// One call to a home about visits that changed after they were published, also one that reached nobody. Kept
// as made, never changed; one that was written down wrongly is taken back, with a reason, and counts no more.
enum class Reached : std::uint8_t { Patient, Relative, Message, Nobody };
// A message on an answering machine may lie unheard: the home was not told.
constexpr bool isHeard(Reached reached) {
    return reached == Reached::Patient || reached == Reached::Relative;
}
struct ToldPlace {
    VisitId visit;
    VisitPlace place; // as it was told
    friend bool operator==(const ToldPlace &, const ToldPlace &) = default;
};
struct PatientTold {
    PatientToldId id;
    PatientId patient;
    LocalTime at;
    Reached reached = Reached::Nobody;
    UserId by;
    std::string note;
    std::optional<LocalTime> takenBackAt; // this and who are known together or not at all
    std::optional<UserId> takenBackBy;
    std::string takenBackWhy;
    std::vector<ToldPlace> visits;
    std::int64_t rowVersion = 0;
    bool isTakenBack() const { return takenBackAt.has_value(); }
    friend bool operator==(const PatientTold &, const PatientTold &) = default;
};

} // namespace kitround
