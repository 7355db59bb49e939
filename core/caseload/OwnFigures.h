#pragma once
// The agency's own figures, learned from what happened, beside the setting each would replace.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::caseload {

// Visit minutes by kind from Done visits with start and end (median).
std::vector<LearnedFigure> ownVisitMinutes(const Snapshot &agency);
// Average door-to-door speeds by area from logged miles and times are left to a later version; none here.

} // namespace kitround::caseload
