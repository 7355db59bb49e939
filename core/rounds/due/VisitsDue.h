#pragma once
// Which visits a week owes: from visit orders (the trade's weeks), less what was done, planned or missed already;
// and from events: start of care, resumption after hospital, recertification window, dressing check, follow-up of
// a reported symptom, supply count where the home's stock is unknown. Pure: nothing is stored until accepted.
#include "core/base/Date.h"
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::rounds {

enum class DueCause : std::uint8_t { VisitOrder, StartOfCare, Resumption, Recertification, DressingCheck,
                                     SymptomFollowUp, SupplyCount, Existing };
struct DueVisit {
    Visit visit;     // id set where the visit is stored already (drafted or published for this week)
    DueCause cause = DueCause::VisitOrder;
    int ordinal = 0; // k-th of the order's visits this week, from 1
    int ofWeek = 1;  // of so many
    std::optional<Instant> deadline; // 48-hour clocks
    std::optional<Days> leastGap;    // to the neighbouring visits of the same order
    std::optional<Days> mostGap;
    std::vector<Date> fixedNeighbours; // visits of the same order already done or planned outside the week
};
// By patient, then order, then ordinal. Patients on hold for a whole allowed range and exited patients have none;
// a hold inside the week narrows dueFrom/dueTo. Visits Done this week count against the owed number; Missed
// ones are owed again unless the reason says otherwise (Hospital).
std::vector<DueVisit> visitsDue(const SnapshotIndex &agency, DateRange week);

} // namespace kitround::rounds
