#pragma once
// How much habits and volumes wander from fortnight to fortnight, which one home's log is too short to tell:
// pooled over the caseload. A home that drains and spills just as it used to needs a narrow forecast; weeks
// of flare and weeks of weakness need a wide one.
//   drift of a mean between blocks = Var between a home's fortnights less the chance part v / n
// with v = p (1 - p) for the share p of drains done, and the variance within fortnights for units a session,
// whose mean a tilt t moves by v t. Summed over homes (method of moments), together with the assumed values,
// weighed as kPriorHomes homes.
#include "core/records/Snapshot.h"

namespace kitround::forecast {

struct CaseloadWander {
    double steadySessions = 40; // what the belief about a habit is worth over the horizon at most (assumed)
    double unitsTilt = 0.45;    // standard deviation of the tilt of units a session (assumed)
    double beyondPerDay = 0;    // drains beyond the order a day, mean of the caseload; 0 until learned
};
// Over the last eight weeks of at most kMostHomes homes, evenly chosen. The assumed values where fewer homes
// than own_figure_least_n have a log to compare.
CaseloadWander learnWander(const SnapshotIndex &agency);

} // namespace kitround::forecast
