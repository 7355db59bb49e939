#pragma once
// Load per nurse and week: minutes, share of capacity, points, continuity. Travel and notes count: without
// them an average hides the overloaded nurse.
#include "core/base/Money.h"
#include "core/records/Snapshot.h"
#include "core/rounds/problem/WeekBuilder.h"

#include <vector>

namespace kitround::caseload {

// NoShifts and Away: no capacity, and no visits; Away is by time off. Light: visits, below kUsualFrom of the
// capacity; Usual: from there up to where it is nearly full.
enum class LoadSign : std::uint8_t { NoShifts, Away, Free, Light, Usual, Amber, Red };
inline constexpr double kUsualFrom = 0.4; // a week of less than two days of five is no usual one (assumed)

struct NurseLoad {
    NurseId nurse;
    int visits = 0;
    int starts = 0; // of them first visits of new patients
    int mostVisitsInADay = 0;
    Minutes direct, travel, waiting, notes; // travel of visits made: see VisitsMade.h; they tell no waiting
    Minutes capacity;                       // shift minutes less breaks and time off, at most the contract
    // Beyond the contract of the whole week (0 if exempt): hours not worked for leave or a holiday are filled
    // first, so a share above 1 may have none. A day's own overtime, where a law asks for it, is not counted.
    Minutes overtime;
    Minutes beyondCapacity;    // what the share has above 1, in minutes
    double share = 0;          // (direct + travel + waiting + notes) / capacity; 0 where capacity is 0
    double points = 0;         // weighted visits + miles / MilesPerPoint
    double pointsCapacity = 0; // PointsPerWeek by contract, and by what time off and holidays leave
    Metres driven;
    Money mileage;
    int patients = 0; // different ones in the week
    int primaryPatients = 0;
    LoadSign sign = LoadSign::Free;
    bool isByDay = false; // the visits of one day alone give the sign; the share would not
    // More points than a full week, as far as people read them. It is told beside the sign and makes none:
    // the sign is the one rule for who is over full.
    bool isAboveFullPoints() const { return points >= pointsCapacity + 0.05 && points > 0; }
};
struct NurseVisits {
    NurseId nurse;
    int visits = 0;
};
struct Continuity {
    PatientId patient;
    int visits = 0;                   // in the look-back and the week
    int nurses = 0;                   // different ones
    NurseId mainNurse;                // on record; the nurse seen most where nobody is named
    bool isMainNamed = false;         // on record
    double mainShare = 0;             // by the main nurse
    std::vector<NurseVisits> byNurse; // the one seen most first
};
// The days on which it counts who came: two months before the week, and the week.
DateRange continuityDays(DateRange week);
// A visit of the week that nobody makes: without a place in the plan, or missed.
struct LeftVisit {
    PatientId patient;
    VisitKind kind = VisitKind::Routine;
    DateRange days; // on which it may be made; the day on which it was missed
    bool isMissed = false;
    MissReason reason = MissReason::None; // of a missed one
    bool prescriberTold = false;
};
struct LoadReview {
    DateRange week;
    std::vector<NurseLoad> nurses;      // all active, by name
    std::vector<Continuity> continuity; // the least of it first
    double meanMainShare = 0;
    double gini = 0; // of points over nurses with capacity
    double jain = 0;
    int placed = 0, unplaced = 0, missed = 0, twoNurse = 0;
    int notMade = 0; // of the unplaced: their days are over, nothing can be placed any more
    int toPlace() const { return unplaced - notMade; }
    std::vector<LeftVisit> left; // the missed ones, then those unplaced; by day
    Minutes overtime, beyondCapacity;
    Money mileage;
};
// `week` may be one of several that the problem holds; only its visits count.
LoadReview reviewLoad(const SnapshotIndex &agency, DateRange week, const std::vector<rounds::DueVisit> &due,
                      const rounds::WeekProblem &problem, const rounds::WeekPlan &plan);

} // namespace kitround::caseload
