#include "core/caseload/OnCall.h"

#include <algorithm>
#include <tuple>

namespace kitround::caseload {
namespace {

constexpr std::int64_t kDay = 1440;

std::int64_t startOf(const Shift &shift) {
    return shift.on.dayNumber() * kDay + shift.from.count();
}
// A shift whose end is not after its start ends on the next day.
std::int64_t lengthOf(const Shift &shift) {
    const std::int64_t length = (shift.to - shift.from).count();
    return length > 0 ? length : length + kDay;
}

} // namespace

std::vector<CallDuty> callDuties(const Snapshot &agency, DateRange days) {
    const std::vector<Shift> shifts = shiftsIn({days.from, days.to.plusDays(2)}, agency.nurses,
                                               agency.shiftPatterns, agency.extraShifts, agency.timeOff);
    std::vector<CallDuty> duties;
    for (const Shift &call : shifts) {
        if (!call.isOnCall || !days.contains(call.on))
            continue;
        CallDuty duty;
        duty.nurse = call.nurse;
        duty.on = call.on;
        duty.from = call.from;
        duty.to = call.from + Minutes::of(lengthOf(call));
        duty.isWeekend = call.on.weekday() == Weekday::Saturday || call.on.weekday() == Weekday::Sunday;
        const std::int64_t end = startOf(call) + lengthOf(call);
        for (const Shift &work : shifts) {
            const std::int64_t rest = startOf(work) - end;
            if (work.isOnCall || work.nurse != call.nurse || rest < 0 || rest >= kDay)
                continue;
            duty.restAfter = Minutes::of(duty.restAfter ? std::min(duty.restAfter->count(), rest) : rest);
        }
        duties.push_back(duty);
    }
    std::ranges::stable_sort(duties, {}, [](const CallDuty &d) { return std::tuple(d.on, d.from, d.nurse); });
    return duties;
}

} // namespace kitround::caseload
