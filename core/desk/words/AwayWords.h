#pragma once
// What to carry on a journey with drains going on, said with its numbers.
#include "core/records/Snapshot.h"

#include <QStringList>

namespace kitround::desk {

// A line an item: how many, for which days, how sure, the plain rule beside it, and what has to be sent
// before. Says why where no number can be given (no day of return, no order).
QStringList carryLines(const SnapshotIndex &agency, PatientId patient, Date from, std::optional<Date> back);
// Of the hold with drains going on that is open or still to come, the first; empty where there is none.
QStringList carryLines(const SnapshotIndex &agency, PatientId patient);
// The hold these lines are about, or nullptr.
const Hold *drainingAway(const SnapshotIndex &agency, PatientId patient);

} // namespace kitround::desk
