#include "core/calendar/Holidays.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::calendar {
namespace {

TEST(HolidaysTest, ElevenInEveryYearInOrder) {
    for (int year = 2021; year <= 2199; ++year) {
        const auto holidays = federalHolidays(year);
        ASSERT_EQ(holidays.size(), 11U) << year;
        EXPECT_TRUE(std::ranges::is_sorted(holidays, {}, &Holiday::on)) << year;
        for (const Holiday &h : holidays) {
            EXPECT_EQ(h.on.year(), year);
            EXPECT_TRUE(WeekdaySet::mondayToFriday().contains(h.observed.weekday())) << h.observed.toIso();
            EXPECT_LE(std::abs((h.observed - h.on).count()), 1);
        }
    }
}

TEST(HolidaysTest, NewYearOnASaturdayIsObservedInTheYearBefore) {
    const auto found = holidayOn(Date::of(2027, 12, 31)); // 1 January 2028 is a Saturday
    ASSERT_TRUE(found);
    EXPECT_EQ(found->which, FederalHoliday::NewYear);
    EXPECT_EQ(found->on, Date::of(2028, 1, 1));
    EXPECT_TRUE(holidayOn(Date::of(2028, 1, 1)));
}

TEST(HolidaysTest, AnOrdinaryDayIsNone) {
    EXPECT_FALSE(holidayOn(Date::of(2026, 11, 25)));
    EXPECT_TRUE(holidayOn(Date::of(2026, 11, 26)));
    EXPECT_EQ(englishName(holidayOn(Date::of(2026, 11, 26))->which), "Thanksgiving Day");
}

TEST(HolidaysTest, YearsBeforeTheLawOfTodayAreNotGuessed) {
    EXPECT_TRUE(federalHolidays(2020).empty());
    EXPECT_TRUE(federalHolidays(2200).empty());
    EXPECT_FALSE(holidayOn(Date::of(2019, 7, 4)));
}

} // namespace
} // namespace kitround::calendar
