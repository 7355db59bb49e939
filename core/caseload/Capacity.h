#pragma once
// What a nurse can give in a range of days: shift minutes after patterns, extra shifts and time off, less
// breaks, at most the contract in proportion. On call is no capacity, nor is a usual shift on a day on which
// the agency does not visit; an extra shift entered for that very day is.
#include "core/records/Snapshot.h"

#include <map>

namespace kitround::caseload {

// Every active nurse, also those with none.
std::map<NurseId, Minutes> capacityIn(const Snapshot &agency, DateRange days);
// Of each nurse's capacity without time off and holidays, the part that they leave (0..1); 1 where there is
// none.
std::map<NurseId, double> shareAtWork(const Snapshot &agency, DateRange days);
Minutes wholeCapacity(const Snapshot &agency, DateRange days);

} // namespace kitround::caseload
