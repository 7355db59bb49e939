#pragma once
// What the whole caseload teaches about one home of which little is known yet.
#include "core/forecast/CaseloadWander.h"
#include "core/forecast/ExitOutlook.h"

namespace kitround::forecast {

struct AgencyFigures {
    ExitOutlook exits;
    CaseloadWander wander;
};
// Cost: one pass over the catheters, and over the logs of a few hundred of them. Compute once for a snapshot
// and share between homes.
AgencyFigures learnFigures(const SnapshotIndex &agency);

} // namespace kitround::forecast
