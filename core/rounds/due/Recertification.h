#pragma once
// A recertification that was not made in its window is owed until it is made: one rule for the visits due,
// the start page and the list of deadlines.
#include "core/calendar/Deadlines.h"
#include "core/records/Snapshot.h"

#include <optional>

namespace kitround::rounds {

// The period before today's, where no recertification was done since its window opened; a planned one settles
// nothing yet. Nothing where the records of the patient begin after that window, and nothing further back: a
// new agency does not begin with everybody overdue.
std::optional<calendar::CertificationPeriod> missedRecertification(const SnapshotIndex &agency,
                                                                   const Patient &patient);

} // namespace kitround::rounds
