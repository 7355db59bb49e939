#include "core/base/Date.h"

#include <gtest/gtest.h>

namespace kitround {
namespace {

TEST(DateTest, CountsDaysFrom1970) {
    EXPECT_EQ(Date().toIso(), "1970-01-01");
    EXPECT_EQ(Date::of(1970, 1, 2).dayNumber(), 1);
    EXPECT_EQ(Date::of(2000, 3, 1).dayNumber(), 11017); // 30 years, 7 leap days, 31 + 29 days
    EXPECT_EQ(Date::of(1969, 12, 31).dayNumber(), -1);
}

TEST(DateTest, KnowsTheWeekdayBeforeAndAfter1970) {
    EXPECT_EQ(Date::of(1970, 1, 1).weekday(), Weekday::Thursday);
    EXPECT_EQ(Date::of(1969, 12, 31).weekday(), Weekday::Wednesday);
    EXPECT_EQ(Date::of(1900, 1, 1).weekday(), Weekday::Monday);
    EXPECT_EQ(Date::of(2026, 11, 25).weekday(), Weekday::Wednesday);
}

TEST(DateTest, ReadsBackEveryDayItWrites) {
    for (Date day = Date::of(1900, 1, 1); day <= Date::of(2199, 12, 31); day = day.plusDays(1)) {
        const auto read = Date::fromIso(day.toIso());
        ASSERT_TRUE(read.has_value()) << day.toIso();
        ASSERT_EQ(*read, day);
    }
}

TEST(DateTest, RefusesWhatIsNotADate) {
    for (const char *text :
         {"", "2026", "2026-1-01", "2026-13-01", "2026-00-10", "2026-02-29", "2100-02-29", "2026-04-31",
          "2026-01-32", "1899-12-31", "2200-01-01", "2026/01/01", "2026-01-01 ", " 2026-01-01", "2026-01-0a",
          "20260-1-01", "-026-01-01", "2026-01-01T00:00"})
        EXPECT_FALSE(Date::fromIso(text)) << text;
    EXPECT_TRUE(Date::fromIso("2000-02-29"));
    EXPECT_TRUE(Date::fromIso("2028-02-29"));
}

TEST(DateTest, LeapYearsFollowTheGregorianRule) {
    // ISO 8601 uses the Gregorian rule: every 4th year, not every 100th, but every 400th.
    for (int year = 1900; year < 2200; ++year) {
        const bool isLeap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        EXPECT_EQ((Date::of(year + 1, 1, 1) - Date::of(year, 1, 1)).count(), isLeap ? 366 : 365) << year;
    }
}

TEST(DateTest, RangeIsHalfOpen) {
    const DateRange range{Date::of(2026, 3, 1), Date::of(2026, 3, 3)};
    EXPECT_TRUE(range.contains(Date::of(2026, 3, 1)));
    EXPECT_TRUE(range.contains(Date::of(2026, 3, 2)));
    EXPECT_FALSE(range.contains(Date::of(2026, 3, 3)));
    EXPECT_EQ(range.length(), Days::of(2));
    EXPECT_FALSE((DateRange{range.from, range.from}.contains(range.from)));
}

TEST(WeekdaySetTest, HoldsWhatWasPutIn) {
    WeekdaySet days{Weekday::Monday, Weekday::Friday};
    EXPECT_EQ(days.size(), 2);
    EXPECT_TRUE(days.contains(Weekday::Monday));
    EXPECT_FALSE(days.contains(Weekday::Sunday));
    days.erase(Weekday::Monday);
    EXPECT_EQ(days, WeekdaySet{Weekday::Friday});
    EXPECT_TRUE(WeekdaySet().isEmpty());
    EXPECT_EQ(WeekdaySet::mondayToFriday().size(), 5);
    EXPECT_FALSE(WeekdaySet::mondayToFriday().contains(Weekday::Saturday));
    EXPECT_EQ(WeekdaySet::fromBits(0xffU), WeekdaySet::all()); // the eighth bit is no weekday
}

TEST(ClockTextTest, ReadsBackEveryMinute) {
    for (int m = 0; m <= 1440; ++m) {
        const auto read = clockFromText(clockText(Minutes::of(m)));
        ASSERT_TRUE(read.has_value()) << m;
        ASSERT_EQ(read->count(), m);
    }
    EXPECT_EQ(clockText(Minutes::of(545)), "09:05");
    for (const char *text :
         {"", "9:05", "24:01", "12:60", "12-30", "1230", "ab:cd", "12:3", "12:300", "-1:30"})
        EXPECT_FALSE(clockFromText(text)) << text;
}

TEST(ClockTextTest, APersonMayLeaveOutTheFirstNoughtAndTheColon) {
    for (const char *text : {"9:05", "09:05", "905", "0905"})
        EXPECT_EQ(clockAsTyped(text), Minutes::of(545)) << text;
    EXPECT_EQ(clockAsTyped("1230"), Minutes::of(750));
    for (const char *text :
         {"", ":05", "9:5", "9.05", "09.05", "24:01", "2401", "0960", "95", "90:5", "09050"})
        EXPECT_FALSE(clockAsTyped(text)) << text;
}

TEST(LocalTimeTest, ReadsWhatItWrites) {
    const LocalTime at{Date::of(2026, 3, 8), Minutes::of(150)};
    EXPECT_EQ(toIso(at), "2026-03-08T02:30");
    EXPECT_EQ(localTimeFromIso("2026-03-08T02:30"), at);
    EXPECT_EQ(localTimeFromIso("2026-03-08 02:30"), at);
    for (const char *text : {"2026-03-08T24:00", "2026-03-08", "2026-03-08T2:30", "2026-03-08x02:30"})
        EXPECT_FALSE(localTimeFromIso(text)) << text;
}

TEST(InstantTest, ReadsWhatItWrites) {
    for (const std::int64_t s :
         {0LL, 1LL, -1LL, 86399LL, 86400LL, -86400LL, -86401LL, 1772928000LL, 4102444800LL}) {
        const Instant at = Instant::fromUnixSeconds(s);
        const auto read = Instant::fromIso(at.toIso());
        ASSERT_TRUE(read.has_value()) << at.toIso();
        EXPECT_EQ(read->unixSeconds(), s);
    }
    EXPECT_EQ(Instant::fromUnixSeconds(-1).toIso(), "1969-12-31T23:59:59Z");
    for (const char *text : {"2026-03-08T02:30:00", "2026-03-08T24:00:00Z", "2026-03-08T02:60:00Z",
                             "2026-03-08T02:30:60Z", "2026-03-08 02:30:00Z", "2026-02-30T02:30:00Z"})
        EXPECT_FALSE(Instant::fromIso(text)) << text;
}

} // namespace
} // namespace kitround
