#pragma once
// What the lists of changed visits share (desk/views/WeekRepair, desk/views/PublishedChanges): who and what a
// row is about, in which order, and what to mind of it.
#include "core/desk/views/WeekRepair.h"

#include <vector>

namespace kitround::desk::parts {

PlanChange planChangeAt(const WeekPicture &week, std::int32_t job); // no places yet
// What needs a decision comes first, as it was found: what lost its place before what had none.
void sortPlanChanges(const WeekPicture &week, std::vector<PlanChange> &changes);
QString joinedNotes(QStringList notes); // sentences; empty ones are left out
// What to mind of a visit that stood elsewhere before.
QString moveNote(const WeekPicture &week, std::int32_t job, const VisitPlace &was);

} // namespace kitround::desk::parts
