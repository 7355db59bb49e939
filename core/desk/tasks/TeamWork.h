#pragma once
// Who may be named for a patient; asked wherever a patient is saved. Private to core/desk.
#include "core/desk/Desk.h"

namespace kitround::desk {

// Of the nurses newly named, main and backup. Problems NotAllowed at "primary_nurse_id" or "backup_nurse_id":
// {"nurse_inactive", code}, {"skill_expired", skill, day, code}, {"skill_lacking", skill, code}.
Result<void> checkAssignment(const Agency &agency, const Patient *before, const Patient &after);
// The same of one nurse, for a patient of the index.
Result<void> checkNamed(const SnapshotIndex &index, Date today, PatientId patient, NurseId id,
                        const char *field);

} // namespace kitround::desk
