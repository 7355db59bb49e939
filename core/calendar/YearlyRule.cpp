#include "core/calendar/YearlyRule.h"

#include "core/base/Require.h"

#include <boost/date_time/gregorian/gregorian_types.hpp>

namespace kitround::calendar {
namespace {

// Boost counts Julian days, we count from 1970-01-01, which is Julian day 2440588.
Date fromBoost(const boost::gregorian::date &date) {
    return Date::fromDayNumber(std::int64_t(date.julian_day()) - 2440588);
}

} // namespace

Date nthWeekday(int year, unsigned month, Weekday weekday, Nth nth) {
    using namespace boost::gregorian;
    // Checked here, so that Boost never has a reason to throw.
    KITROUND_REQUIRE(year >= 1900 && year <= 2199 && month >= 1 && month <= 12);
    const auto boostMonth = static_cast<unsigned short>(month);
    const greg_weekday boostDay(static_cast<unsigned short>(weekday)); // Boost counts from Sunday too
    const auto boostYear = static_cast<unsigned short>(year);
    if (nth == Nth::Last)
        return fromBoost(last_day_of_the_week_in_month(boostDay, boostMonth).get_date(boostYear));
    using Generator = nth_day_of_the_week_in_month;
    const auto week = static_cast<Generator::week_num>(int(nth) + 1);
    return fromBoost(Generator(week, boostDay, boostMonth).get_date(boostYear));
}

} // namespace kitround::calendar
