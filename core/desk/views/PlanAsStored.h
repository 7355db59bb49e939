#pragma once
// A week's plan as it would be stored, saved as a draft or published: desk/tasks/WeekWork writes it so, and
// desk/views/PublishNews foretells from it whom that touches.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::desk {

// Done, missed or called off: no plan changes it any more.
constexpr bool hasHappened(VisitStatus status) {
    return status == VisitStatus::Done || status == VisitStatus::Missed || status == VisitStatus::Cancelled;
}
// The visits of a plan, those that are new without an id. One that is new and stands nowhere is left out: the
// order owes it still.
std::vector<Visit> visitsAsStored(const std::vector<Visit> &planned, const SnapshotIndex &index,
                                  bool publish);
// Where they stand in the plan; the way there and what is carried are not filled in.
std::vector<PlannedVisit> placesAsStored(const std::vector<Visit> &visits);

} // namespace kitround::desk
