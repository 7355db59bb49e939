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
    std::int64_t rowVersion = 0;
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

} // namespace kitround
