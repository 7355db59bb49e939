#include "core/caseload/OnCall.h"

#include "core/calendar/Holidays.h"
#include "core/caseload/Evenness.h"

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

CallKind kindOf(const AgencySettings &settings, Date on) {
    if (calendar::holidayOn(on) || std::ranges::find(settings.ownHolidays, on) != settings.ownHolidays.end())
        return CallKind::Holiday;
    const bool isWeekend = on.weekday() == Weekday::Saturday || on.weekday() == Weekday::Sunday;
    return isWeekend ? CallKind::Weekend : CallKind::WeekdayNight;
}

double unitsOf(const AgencySettings &settings, CallKind kind) {
    const SettingKey key = kind == CallKind::Holiday   ? SettingKey::CallUnitsHoliday100
                           : kind == CallKind::Weekend ? SettingKey::CallUnitsWeekend100
                                                       : SettingKey::CallUnitsNight100;
    return static_cast<double>(settings[key]) / 100;
}

} // namespace

std::vector<CallDuty> callDuties(const Snapshot &agency, DateRange days) {
    const std::vector<Shift> shifts = shiftsIn({days.from, days.to.plusDays(2)}, agency.nurses,
                                               agency.shiftPatterns, agency.extraShifts, agency.timeOff);
    const Minutes least = Minutes::of(agency.settings[SettingKey::RestAfterCallHours] * 60);
    std::vector<CallDuty> duties;
    for (const Shift &call : shifts) {
        if (!call.isOnCall || !days.contains(call.on))
            continue;
        CallDuty duty;
        duty.nurse = call.nurse;
        duty.on = call.on;
        duty.from = call.from;
        duty.to = call.from + Minutes::of(lengthOf(call));
        duty.kind = kindOf(agency.settings, call.on);
        duty.units = unitsOf(agency.settings, duty.kind);
        const std::int64_t end = startOf(call) + lengthOf(call);
        for (const Shift &work : shifts) {
            // Work that begins while the turn still runs leaves no rest at all.
            const std::int64_t rest = std::max<std::int64_t>(0, startOf(work) - end);
            const bool isAfter = startOf(work) > startOf(call) && startOf(work) < end + kDay;
            if (work.isOnCall || work.nurse != call.nurse || !isAfter)
                continue;
            duty.restAfter = Minutes::of(duty.restAfter ? std::min(duty.restAfter->count(), rest) : rest);
        }
        duty.isTooShort = duty.restAfter && *duty.restAfter < least;
        duties.push_back(duty);
    }
    std::ranges::stable_sort(duties, {}, [](const CallDuty &d) { return std::tuple(d.on, d.from, d.nurse); });
    return duties;
}

CallFairness callFairness(const Snapshot &agency, DateRange days) {
    CallFairness fairness;
    fairness.days = days;
    for (const CallDuty &duty : callDuties(agency, days)) {
        auto at = std::ranges::find(fairness.shares, duty.nurse, &CallShare::nurse);
        if (at == fairness.shares.end())
            at = fairness.shares.insert(fairness.shares.end(), CallShare{.nurse = duty.nurse});
        ++(duty.kind == CallKind::Holiday   ? at->holidays
           : duty.kind == CallKind::Weekend ? at->weekends
                                            : at->nights);
        at->units += duty.units;
        at->tooShort += duty.isTooShort ? 1 : 0;
        fairness.evenShare += duty.units;
    }
    for (const Nurse &nurse : agency.nurses)
        if (nurse.isActive &&
            std::ranges::find(fairness.shares, nurse.id, &CallShare::nurse) == fairness.shares.end())
            fairness.withoutTurns.push_back(nurse.id);
    if (fairness.shares.empty())
        return fairness;
    fairness.evenShare /= static_cast<double>(fairness.shares.size());
    std::vector<double> units;
    for (CallShare &share : fairness.shares) {
        share.beyondEven = share.units - fairness.evenShare;
        units.push_back(share.units);
    }
    fairness.gini = gini(units);
    std::ranges::stable_sort(fairness.shares, [](const CallShare &a, const CallShare &b) {
        return std::tuple(b.units, a.nurse) < std::tuple(a.units, b.nurse);
    });
    return fairness;
}

} // namespace kitround::caseload
