#pragma once
// "The n-th weekday of a month", the form in which holidays and the change of clocks are written into law.
// Private to this folder. Boost.Date_Time's generators do the work and stay inside YearlyRule.cpp.
#include "core/base/Date.h"

namespace kitround::calendar {

enum class Nth : std::uint8_t { First, Second, Third, Fourth, Last };
// Precondition: year 1900..2199, month 1..12.
Date nthWeekday(int year, unsigned month, Weekday weekday, Nth nth);

} // namespace kitround::calendar
