#include "core/caseload/OnCall.h"

#include "core/calendar/Holidays.h"
#include "core/caseload/Evenness.h"

#include <algorithm>
#include <iterator>
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

std::int64_t endOf(const Shift &shift) {
    return startOf(shift) + lengthOf(shift);
}

Minutes leastRest(const AgencySettings &settings) {
    return Minutes::of(settings[SettingKey::RestAfterCallHours] * 60);
}

// How long after its end work is looked for: a longer rest than a day may be asked for.
std::int64_t reachOf(const AgencySettings &settings) {
    return std::max(kDay, leastRest(settings).count());
}
// Days between the first of a turn and the last on which work may begin that follows it: a turn may run into
// the next day.
std::int64_t reachDays(const AgencySettings &settings) {
    return 1 + (reachOf(settings) + kDay - 1) / kDay;
}

// Nothing where the one does not follow the other within the reach, or they are parts of one day's work. Work
// that begins while a turn still runs leaves no rest at all.
std::optional<Minutes> restBetween(const Shift &before, const Shift &work, std::int64_t reach) {
    const bool isAfter = startOf(work) > startOf(before) && startOf(work) < endOf(before) + reach;
    if (work.isOnCall || work.nurse != before.nurse || !isAfter || (!before.isOnCall && before.on == work.on))
        return std::nullopt;
    return Minutes::of(std::max<std::int64_t>(0, startOf(work) - endOf(before)));
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
    const DateRange looked{days.from, days.to.plusDays(reachDays(agency.settings))};
    const std::vector<Shift> shifts =
        shiftsIn(looked, agency.nurses, agency.shiftPatterns, agency.extraShifts, agency.timeOff);
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
        for (const Shift &work : shifts)
            if (const auto rest = restBetween(call, work, reachOf(agency.settings)))
                duty.restAfter = std::min(duty.restAfter.value_or(*rest), *rest);
        duty.isTooShort = duty.restAfter && *duty.restAfter < leastRest(agency.settings);
        duties.push_back(duty);
    }
    std::ranges::stable_sort(duties, {}, [](const CallDuty &d) { return std::tuple(d.on, d.from, d.nurse); });
    return duties;
}

std::vector<ShortRest> shortRests(const Snapshot &agency, DateRange days) {
    const DateRange looked{days.from.plusDays(-reachDays(agency.settings)), days.to};
    const std::vector<Shift> shifts =
        shiftsIn(looked, agency.nurses, agency.shiftPatterns, agency.extraShifts, agency.timeOff);
    const Minutes least = leastRest(agency.settings);
    std::vector<ShortRest> found;
    for (auto work = shifts.begin(); work != shifts.end(); ++work) {
        if (work->isOnCall || !days.contains(work->on))
            continue;
        std::optional<ShortRest> shortest;
        for (auto before = work; before != shifts.begin() && std::prev(before)->nurse == work->nurse;) {
            --before;
            if (const auto rest = restBetween(*before, *work, reachOf(agency.settings));
                rest && *rest < (shortest ? shortest->rest : least))
                shortest = ShortRest{*before, *work, *rest};
        }
        if (shortest)
            found.push_back(*shortest);
    }
    std::ranges::stable_sort(found, {},
                             [](const ShortRest &r) { return std::tuple(r.work.on, r.work.nurse); });
    return found;
}

std::vector<Date> daysWithoutCall(const std::vector<CallDuty> &duties, DateRange days) {
    std::vector<Date> bare;
    for (Date day = days.from; day < days.to; ++day) {
        const auto covers = [&](const CallDuty &duty) {
            const std::int64_t after = day.dayNumber() - duty.on.dayNumber();
            return after == 0 || (after > 0 && duty.to.count() >= (after + 1) * 1440);
        };
        if (std::ranges::none_of(duties, covers))
            bare.push_back(day);
    }
    return bare;
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
