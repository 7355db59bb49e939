#include "core/calendar/Weeks.h"

#include <gtest/gtest.h>

#include <cmath>

namespace kitround::calendar {
namespace {

TEST(WeeksTest, AWeekHoldsItsDayAndStartsOnItsWeekday) {
    for (const Weekday weekStart : {Weekday::Sunday, Weekday::Monday})
        for (Date day = Date::of(1969, 12, 1); day < Date::of(1970, 2, 1); day = day.plusDays(1)) {
            const DateRange week = weekOf(day, weekStart);
            EXPECT_EQ(week.from.weekday(), weekStart);
            EXPECT_EQ(week.length(), Days::of(7));
            EXPECT_TRUE(week.contains(day)) << day.toIso();
        }
}

TEST(WeeksTest, SundayBelongsToTheWeekThatTheAgencySays) {
    const Date sunday = Date::of(2026, 3, 8);
    EXPECT_EQ(weekStartOf(sunday, Weekday::Sunday), sunday);
    EXPECT_EQ(weekStartOf(sunday, Weekday::Monday), Date::of(2026, 3, 2));
}

TEST(WeeksTest, IsoWeeksFollowOneAnotherWithoutAGap) {
    IsoWeek before = isoWeekOf(Date::of(1999, 12, 31));
    for (Date day = Date::of(2000, 1, 1); day < Date::of(2040, 1, 1); day = day.plusDays(1)) {
        const IsoWeek now = isoWeekOf(day);
        if (day.weekday() != Weekday::Monday)
            ASSERT_EQ(now, before) << day.toIso();
        else
            ASSERT_TRUE(now.week == before.week + 1 || (now.week == 1 && now.year == before.year + 1))
                << day.toIso();
        before = now;
    }
}

TEST(WeeksTest, WeeksTouchedCountsThemOneByOne) {
    for (const Weekday weekStart : {Weekday::Sunday, Weekday::Monday})
        for (int offset = 0; offset < 7; ++offset)
            for (int length = 0; length <= 70; ++length) {
                const Date start = Date::of(2026, 3, 1).plusDays(offset);
                int touched = 0;
                std::optional<Date> last;
                for (Date day = start; day < start.plusDays(length); day = day.plusDays(1)) {
                    const Date week = weekStartOf(day, weekStart);
                    touched += week != last ? 1 : 0;
                    last = week;
                }
                ASSERT_EQ(weeksTouched(start, Days::of(length), weekStart), touched)
                    << offset << " " << length;
            }
}

TEST(WeeksDeathTest, AWeekThatStartsOnWednesdayIsABug) {
    EXPECT_DEATH(static_cast<void>(weekStartOf(Date(), Weekday::Wednesday)), "internal check failed");
}

} // namespace
} // namespace kitround::calendar
