#include "core/caseload/Capacity.h"

#include "core/rounds/due/VisitsDue.h"

#include <algorithm>

namespace kitround::caseload {
namespace {

void addMinutes(std::map<NurseId, Minutes> &capacity, const AgencySettings &settings,
                const std::vector<Shift> &shifts, bool onVisitingDays) {
    for (const Shift &shift : shifts)
        if (!shift.isOnCall && capacity.contains(shift.nurse) &&
            rounds::isVisitingDay(settings, shift.on) == onVisitingDays)
            capacity[shift.nurse] += shift.working();
}

std::map<NurseId, Minutes> capacityWith(const Snapshot &agency, const AgencySettings &settings,
                                        DateRange days, const std::vector<TimeOff> &off) {
    std::map<NurseId, Minutes> capacity;
    for (const Nurse &nurse : agency.nurses)
        if (nurse.isActive)
            capacity[nurse.id] = Minutes::of(0);
    addMinutes(capacity, settings,
               shiftsIn(days, agency.nurses, agency.shiftPatterns, agency.extraShifts, off), true);
    // Where the agency does not visit only those work whom somebody put down for that very day.
    addMinutes(capacity, settings, shiftsIn(days, agency.nurses, {}, agency.extraShifts, off), false);
    for (const Nurse &nurse : agency.nurses)
        if (nurse.isActive)
            capacity[nurse.id] = std::min(
                capacity[nurse.id], Minutes::of(nurse.contractPerWeek.count() * days.length().count() / 7));
    return capacity;
}

} // namespace

std::map<NurseId, Minutes> capacityIn(const Snapshot &agency, DateRange days) {
    return capacityWith(agency, agency.settings, days, agency.timeOff);
}

std::map<NurseId, double> shareAtWork(const Snapshot &agency, DateRange days) {
    AgencySettings withoutHolidays = agency.settings;
    withoutHolidays.holidaysAreWorked = true;
    withoutHolidays.ownHolidays.clear();
    const std::map<NurseId, Minutes> full = capacityWith(agency, withoutHolidays, days, {});
    std::map<NurseId, double> shares;
    for (const auto &[nurse, minutes] : capacityIn(agency, days)) {
        const std::int64_t whole = full.at(nurse).count();
        shares[nurse] = whole > 0 ? static_cast<double>(minutes.count()) / static_cast<double>(whole) : 1;
    }
    return shares;
}

Minutes wholeCapacity(const Snapshot &agency, DateRange days) {
    Minutes sum = Minutes::of(0);
    for (const auto &[nurse, minutes] : capacityIn(agency, days))
        sum += minutes;
    return sum;
}

} // namespace kitround::caseload
