#include "core/calendar/Weeks.h"

#include "core/base/Require.h"

namespace kitround::calendar {
namespace {

int daysAfterWeekStart(Date date, Weekday weekStart) {
    return (int(date.weekday()) - int(weekStart) + 7) % 7;
}

} // namespace

Date weekStartOf(Date date, Weekday weekStart) {
    KITROUND_REQUIRE(weekStart == Weekday::Sunday || weekStart == Weekday::Monday);
    return date.plusDays(-daysAfterWeekStart(date, weekStart));
}

DateRange weekOf(Date date, Weekday weekStart) {
    const Date from = weekStartOf(date, weekStart);
    return {from, from.plusDays(7)};
}

IsoWeek isoWeekOf(Date date) {
    // The week belongs to the year that holds its Thursday.
    const Date thursday = weekStartOf(date, Weekday::Monday).plusDays(3);
    const Days since = thursday - Date::of(thursday.year(), 1, 1);
    return {thursday.year(), int(since.count() / 7) + 1};
}

int weeksTouched(Date start, Days length, Weekday weekStart) {
    if (length.count() <= 0)
        return 0;
    return int((daysAfterWeekStart(start, weekStart) + length.count() + 6) / 7);
}

} // namespace kitround::calendar
