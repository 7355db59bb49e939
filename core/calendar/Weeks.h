#pragma once
// Weeks as the agency counts them (from Sunday or Monday), and ISO 8601 week numbers beside them.
#include "core/base/Date.h"

namespace kitround::calendar {

// First day of the week that holds `date`. Precondition: weekStart is Sunday or Monday.
Date weekStartOf(Date date, Weekday weekStart);
DateRange weekOf(Date date, Weekday weekStart); // 7 days

struct IsoWeek {
    int year = 0; // may differ from the calendar year around 1 January
    int week = 1; // 1..53
    friend bool operator==(const IsoWeek &, const IsoWeek &) = default;
};
IsoWeek isoWeekOf(Date date); // ISO 8601: weeks start on Monday, week 1 holds the first Thursday

// Calendar weeks touched by `length` days from `start`: ceil((weekday + length) / 7), the weekday counted
// from the week's start.
int weeksTouched(Date start, Days length, Weekday weekStart);

} // namespace kitround::calendar
