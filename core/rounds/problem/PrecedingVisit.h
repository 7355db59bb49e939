#pragma once
// Which visit another one comes after: the visit of the other order with the same number in the same week, or
// for an added visit the first that its days leave room for.
#include "core/rounds/due/VisitsDue.h"

namespace kitround::rounds {

// What a visit comes after: as its order says, or, where it has none, as it says itself.
ComesAfter comesAfterOf(const SnapshotIndex &agency, const Visit &visit);

struct PrecedingVisit {
    std::int32_t job = -1;       // among the due
    const Visit *made = nullptr; // made already, or planned for a day gone by
};
// Of due[index], which comes `after` something; both unset where there is no such visit.
PrecedingVisit precedingVisit(const SnapshotIndex &agency, DateRange days, const std::vector<DueVisit> &due,
                              std::size_t index, const ComesAfter &after);

} // namespace kitround::rounds
