#pragma once
// What a nurse can give in a range of days: shift minutes after patterns, extra shifts and time off, less
// breaks, at most the contract in proportion. On call is no capacity.
#include "core/records/Snapshot.h"

#include <map>

namespace kitround::caseload {

// Every active nurse, also those with none.
std::map<NurseId, Minutes> capacityIn(const Snapshot &agency, DateRange days);
Minutes wholeCapacity(const Snapshot &agency, DateRange days);

} // namespace kitround::caseload
