#pragma once
// Work done and what it cost, over whole weeks gone by: by nurse, by kind of area, by kind of visit, and
// supplies a patient-day. Of the road only the miles are on record, so its minutes are worked out from them:
//
//   road of a visit  = driven / speed of the patient's kind of area + minutes a stop   (settings)
//   travel share     = road / (in the home + notes + road)
//   overtime         = what a week's in the home, notes and road exceed the contract by; none where exempt
//   patient-day      = a day with a catheter in place, on service, at home or draining elsewhere
//   cost of supplies = opened and lost eaches x the preferred offer's price of a case / eaches in a case
//
// Visits a day say nothing across nurses whose ways differ: the travel share stands beside them.
#include "core/base/Money.h"
#include "core/records/Snapshot.h"

#include <array>
#include <optional>
#include <vector>

namespace kitround::caseload {

struct WorkDone {
    int visits = 0;  // a two-nurse visit counts for both nurses, once for area and kind
    double days = 0; // with visits; a day in two areas is shared out by its visits
    Minutes inHome, notes, road;
    Metres driven;    // as read off the car, and estimated
    Metres estimated; // of it: from the map, not to be paid as driven
    Minutes overtime; // of an area: its part by the nurse's minutes of that week
    double visitsADay() const { return days > 0 ? visits / days : 0; }
    double travelShare() const;
};
struct NurseWork {
    NurseId nurse;
    WorkDone done;
    std::array<int, 3> visitsByArea{}; // AreaKind
    AreaKind mostly() const;
};
struct AreaWork {
    AreaKind area = AreaKind::Urban;
    WorkDone done;
};
struct KindWork {
    VisitKind kind = VisitKind::Routine;
    int visits = 0;
    Minutes inHome, planned, notes; // sums
};
struct SupplyCost {
    std::optional<NurseId> mainNurse; // in the list by nurse; nothing: nobody named
    AreaKind area = AreaKind::Urban;  // in the list by area
    std::int64_t patientDays = 0;
    Eaches used;
    double costMinor = 0; // cents
    double perPatientDayMinor() const {
        return patientDays > 0 ? costMinor / static_cast<double>(patientDays) : 0;
    }
};
struct Productivity {
    DateRange days;                // whole weeks
    std::vector<NurseWork> nurses; // with visits, by name
    std::vector<AreaWork> areas;
    std::vector<KindWork> kinds;
    std::vector<SupplyCost> suppliesByNurse, suppliesByArea;
    int drainsWithoutSupplies = 0; // logged without what was opened: their supplies are not in the cost
    int itemsWithoutPrice = 0;
};
// `days` must be whole weeks of the agency's week start; visits before the loaded log are not seen.
Productivity productivity(const SnapshotIndex &agency, DateRange days);

} // namespace kitround::caseload
