#pragma once
// Doors nobody opened. At the home of a frail person that is followed up the same day, until somebody was
// reached: a fall, an emergency or a hospital stay may be behind it (common practice of care at home, from
// memory; local policy comes first). Pure.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::safety {

struct WelfareCall {
    PatientId patient;
    VisitId visit;   // the newest at which nobody was home
    LocalTime since; // when the nurse stood there, by the plan
};
// Of patients on service, by patient: a visit was missed because nobody was home, and nothing on record since
// tells that the patient was seen or spoken to: a visit that was made, a drain of the log, a home away on
// hold, a call about a refill or a changed visit that a person answered, or a clinical call about the patient
// that was closed with what came of it. A call to the prescriber is none of these.
std::vector<WelfareCall> welfareCalls(const SnapshotIndex &agency);

} // namespace kitround::safety
