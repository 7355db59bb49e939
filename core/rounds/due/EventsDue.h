#pragma once
// The parts of "due" that orders and events share, and the visits that follow from events.
#include "core/rounds/due/VisitsDue.h"

namespace kitround::rounds {

// Day a visit took place or is planned for.
std::optional<Date> dayOf(const Visit &visit);
// Done in the week, missed for hospital or because no day was left for it, or planned for a day of the week
// that is over.
bool countsAlready(const Visit &visit, DateRange week, Date today);
// The stored visit as a due one, where it is still to be made this week; its days narrowed.
std::optional<DueVisit> existing(const SnapshotIndex &agency, const Visit &visit, DateRange week);
// Days from today on (a week gone by is left whole), without the ends that are on hold; empty where all are.
DateRange narrowed(const SnapshotIndex &agency, PatientId patient, DateRange days);
bool holdTouches(const SnapshotIndex &agency, PatientId patient, DateRange days);
Visit blankVisit(const SnapshotIndex &agency, const Patient &patient, VisitKind kind, DateRange days);

// Stored visits without an order, then new events. `mine` holds what the patient's orders owe.
void addEvents(const SnapshotIndex &agency, const Patient &patient, DateRange week,
               std::vector<DueVisit> &mine);

} // namespace kitround::rounds
