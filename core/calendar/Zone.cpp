#include "core/calendar/Zone.h"

#include "core/calendar/YearlyRule.h"

#include <algorithm>

namespace kitround::calendar {

struct Zone::Rule {
    std::string_view name;
    int standardHours; // east of Greenwich
    bool savesDaylight;
};

namespace {

constexpr std::int64_t kHour = 60;
constexpr std::int64_t kDay = 1440;

// Local wall-clock minutes since 1970-01-01T00:00.
std::int64_t wall(Date date, std::int64_t minute) {
    return date.dayNumber() * kDay + minute;
}

std::int64_t floorDiv(std::int64_t a, std::int64_t b) {
    return a / b - (a % b < 0 ? 1 : 0);
}

// 15 U.S.C. 260a: clocks go forward at 02:00 on the second Sunday of March and back at 02:00 on the first
// Sunday of November, both on the clock that hangs there at that moment.
Date forwardDay(int year) {
    return nthWeekday(year, 3, Weekday::Sunday, Nth::Second);
}
Date backDay(int year) {
    return nthWeekday(year, 11, Weekday::Sunday, Nth::First);
}

} // namespace

std::span<const Zone::Rule> Zone::rules() {
    // Without daylight saving: Arizona outside the Navajo Nation, Hawaii and the territories (15 U.S.C.
    // 260a(a) lets them be exempt).
    static constexpr Rule kRules[] = {
        {"America/New_York", -5, true},
        {"America/Detroit", -5, true},
        {"America/Indiana/Indianapolis", -5, true},
        {"America/Kentucky/Louisville", -5, true},
        {"America/Chicago", -6, true},
        {"America/Denver", -7, true},
        {"America/Boise", -7, true},
        {"America/Phoenix", -7, false},
        {"America/Los_Angeles", -8, true},
        {"America/Anchorage", -9, true},
        {"America/Juneau", -9, true},
        {"America/Adak", -10, true},
        {"Pacific/Honolulu", -10, false},
        {"America/Puerto_Rico", -4, false},
        {"America/St_Thomas", -4, false},
        {"Pacific/Guam", 10, false},
        {"Pacific/Saipan", 10, false},
        {"Pacific/Pago_Pago", -11, false},
    };
    return kRules;
}

std::vector<std::string> Zone::names() {
    std::vector<std::string> names;
    for (const Rule &rule : rules())
        names.emplace_back(rule.name);
    return names;
}

Result<Zone> Zone::named(std::string_view name) {
    const auto found = std::ranges::find(rules(), name, &Rule::name);
    if (found != rules().end())
        return Zone(*found);
    std::string known;
    for (const Rule &rule : rules())
        known.append(known.empty() ? "" : ", ").append(rule.name);
    return Problem{ProblemCode::UnknownChoice, "time_zone", {std::string(name), known}, 0, 0, {}};
}

int Zone::standardHours() const {
    return rule_->standardHours;
}

Instant Zone::toUtc(LocalTime local) const {
    const std::int64_t here = wall(local.date, local.minute.count());
    std::int64_t offset = rule_->standardHours * kHour;
    // A missing time (02:00 to 03:00 in spring) is still on the offset before the gap; a repeated one (01:00
    // to 02:00 in autumn) means its first, so it is on the daylight offset until 02:00.
    if (rule_->savesDaylight && here >= wall(forwardDay(local.date.year()), 3 * kHour) &&
        here < wall(backDay(local.date.year()), 2 * kHour))
        offset += kHour;
    return Instant::fromUnixSeconds((here - offset) * 60);
}

LocalTime Zone::toLocal(Instant utc) const {
    std::int64_t here = floorDiv(utc.unixSeconds(), 60) + rule_->standardHours * kHour; // on standard time
    const int year = Date::fromDayNumber(floorDiv(here, kDay)).year();
    if (rule_->savesDaylight && here >= wall(forwardDay(year), 2 * kHour) &&
        here < wall(backDay(year), kHour))
        here += kHour;
    const std::int64_t day = floorDiv(here, kDay);
    return {Date::fromDayNumber(day), Minutes::of(here - day * kDay)};
}

Minutes Zone::lengthOfDay(Date date) const {
    if (rule_->savesDaylight && date == forwardDay(date.year()))
        return Minutes::of(kDay - kHour);
    if (rule_->savesDaylight && date == backDay(date.year()))
        return Minutes::of(kDay + kHour);
    return Minutes::of(kDay);
}

} // namespace kitround::calendar
