#include "core/calendar/Holidays.h"

#include "core/calendar/YearlyRule.h"

namespace kitround::calendar {
namespace {

// Saturday: the Friday before (6103(b)); Sunday: the Monday after (Executive Order 11582).
Date observedFor(Date on) {
    switch (on.weekday()) {
    case Weekday::Saturday:
        return on.plusDays(-1);
    case Weekday::Sunday:
        return on.plusDays(1);
    default:
        return on;
    }
}

} // namespace

std::vector<Holiday> federalHolidays(int year) {
    if (year < 2021 || year > 2199)
        return {};
    using enum FederalHoliday;
    using enum Weekday;
    std::vector<Holiday> holidays;
    const auto add = [&](FederalHoliday which, Date on) { holidays.push_back({which, on, observedFor(on)}); };
    add(NewYear, Date::of(year, 1, 1));
    add(MartinLutherKing, nthWeekday(year, 1, Monday, Nth::Third));
    add(Washington, nthWeekday(year, 2, Monday, Nth::Third));
    add(Memorial, nthWeekday(year, 5, Monday, Nth::Last));
    add(Juneteenth, Date::of(year, 6, 19));
    add(Independence, Date::of(year, 7, 4));
    add(Labor, nthWeekday(year, 9, Monday, Nth::First));
    add(Columbus, nthWeekday(year, 10, Monday, Nth::Second));
    add(Veterans, Date::of(year, 11, 11));
    add(Thanksgiving, nthWeekday(year, 11, Thursday, Nth::Fourth));
    add(Christmas, Date::of(year, 12, 25));
    return holidays;
}

std::optional<Holiday> holidayOn(Date date) {
    std::optional<Holiday> observed;
    for (const int year : {date.year(), date.year() + 1}) // 1 January may be observed in December
        for (const Holiday &holiday : federalHolidays(year)) {
            if (holiday.on == date)
                return holiday;
            if (holiday.observed == date)
                observed = holiday;
        }
    return observed;
}

std::string_view englishName(FederalHoliday holiday) {
    switch (holiday) {
    case FederalHoliday::NewYear:
        return "New Year's Day";
    case FederalHoliday::MartinLutherKing:
        return "Birthday of Martin Luther King, Jr.";
    case FederalHoliday::Washington:
        return "Washington's Birthday";
    case FederalHoliday::Memorial:
        return "Memorial Day";
    case FederalHoliday::Juneteenth:
        return "Juneteenth National Independence Day";
    case FederalHoliday::Independence:
        return "Independence Day";
    case FederalHoliday::Labor:
        return "Labor Day";
    case FederalHoliday::Columbus:
        return "Columbus Day";
    case FederalHoliday::Veterans:
        return "Veterans Day";
    case FederalHoliday::Thanksgiving:
        return "Thanksgiving Day";
    case FederalHoliday::Christmas:
        return "Christmas Day";
    }
    return {};
}

} // namespace kitround::calendar
