#pragma once
// Whether patients got the visits their orders owe: owed, done and missed by order and week, and each missed
// visit with its reason and whether the prescriber was told. A partial week (the first or last of an order)
// and a week touched by a hold are shown, but left out of the rate: an order that began on Thursday was not
// missed on Monday. Two orders that share a week owe there what calendar/VisitWeeks shares out. A visit that
// was called off stays owed here: the order asked for it.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::caseload {

struct PatientWeek {
    PatientId patient;
    VisitOrderId order;
    VisitKind kind = VisitKind::Routine;
    DateRange week; // whole week of the agency
    int owed = 0, done = 0, missed = 0;
    bool isPartial = false, isHeld = false;
    bool counts() const { return !isPartial && !isHeld && owed > 0; }
    bool isKept() const { return done >= owed; }
    int shortBy() const { return counts() && done < owed ? owed - done : 0; }
};
struct MissedVisit {
    VisitId visit;
    PatientId patient;
    VisitKind kind = VisitKind::Routine;
    Date on;
    MissReason reason = MissReason::None;
    bool prescriberTold = false;
};
struct Compliance {
    DateRange days;
    std::vector<PatientWeek> weeks;  // by week, then patient, then order
    std::vector<MissedVisit> missed; // by day
    int patientWeeks = 0, kept = 0;  // of those that count
    int owed = 0, done = 0;          // of those that count; done at most what was owed
    int leftOut = 0;                 // partial or held
    int untold = 0;                  // missed visits without notice to the prescriber
};
// `days`: whole weeks that are over. Telephone and as-needed visits are not owed.
Compliance frequencyCompliance(const SnapshotIndex &agency, DateRange days);

} // namespace kitround::caseload
