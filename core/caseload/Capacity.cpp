#include "core/caseload/Capacity.h"

#include <algorithm>

namespace kitround::caseload {

std::map<NurseId, Minutes> capacityIn(const Snapshot &agency, DateRange days) {
    std::map<NurseId, Minutes> capacity;
    for (const Nurse &nurse : agency.nurses)
        if (nurse.isActive)
            capacity[nurse.id] = Minutes::of(0);
    for (const Shift &shift :
         shiftsIn(days, agency.nurses, agency.shiftPatterns, agency.extraShifts, agency.timeOff))
        if (!shift.isOnCall && capacity.contains(shift.nurse))
            capacity[shift.nurse] += shift.to - shift.from - shift.breakLength;
    for (const Nurse &nurse : agency.nurses)
        if (nurse.isActive)
            capacity[nurse.id] = std::min(
                capacity[nurse.id], Minutes::of(nurse.contractPerWeek.count() * days.length().count() / 7));
    return capacity;
}

Minutes wholeCapacity(const Snapshot &agency, DateRange days) {
    Minutes sum = Minutes::of(0);
    for (const auto &[nurse, minutes] : capacityIn(agency, days))
        sum += minutes;
    return sum;
}

} // namespace kitround::caseload
