#pragma once
// The ties of visits that come after others: as pairs where both are to be placed, as days and hours left
// where the first is made already.
#include "core/rounds/due/VisitsDue.h"
#include "core/rounds/problem/WeekProblem.h"

namespace kitround::rounds {

// Precondition: the problem's nurses and jobs are filled, its jobs in the order of `due`.
void addFollows(WeekProblem &problem, const SnapshotIndex &agency, DateRange days,
                const std::vector<DueVisit> &due);

} // namespace kitround::rounds
