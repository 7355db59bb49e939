#pragma once
// Days of care, the denominator of rates: holds are none of them, unless the patient goes on draining
// elsewhere.
#include "core/records/Snapshot.h"

#include <optional>

namespace kitround::caseload {

// The day on which care ended, by the agency's clock; nothing: it has not. It is no day of care any more.
std::optional<Date> careEndedOn(const SnapshotIndex &agency, const Patient &patient);
// In place, the patient on service, at home or draining elsewhere.
bool isCatheterDay(const SnapshotIndex &agency, const Patient &patient, const Catheter &catheter, Date day);
// With at least one such catheter.
bool isPatientDay(const SnapshotIndex &agency, const Patient &patient, Date day);

} // namespace kitround::caseload
