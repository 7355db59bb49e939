#include "core/calendar/Zone.h"
#include "core/calendar/LocalDay.h"

#include <gtest/gtest.h>

namespace kitround::calendar {
namespace {

Zone zone(std::string_view name) {
    return *Zone::named(name);
}

TEST(ZoneTest, RefusesWhatItDoesNotKnowAndListsWhatItDoes) {
    for (const char *name :
         {"", "America/Nowhere", "Europe/London", "america/new_york", "EST", "America/New_York "}) {
        const auto found = Zone::named(name);
        ASSERT_FALSE(found) << name;
        EXPECT_EQ(found.error().code, ProblemCode::UnknownChoice);
        ASSERT_EQ(found.error().args.size(), 2U);
        EXPECT_EQ(found.error().args[0], name);
        EXPECT_NE(found.error().args[1].find("America/Chicago"), std::string::npos);
    }
    for (const std::string &name : Zone::names())
        EXPECT_TRUE(Zone::named(name)) << name;
}

TEST(ZoneTest, EveryMomentComesBackFromLocalTimeExceptTheRepeatedHour) {
    // Every hour of a year, in every zone: to local and back gives the same moment, or one hour
    // earlier in the hour that the clock shows twice (its first showing is meant).
    for (const std::string &name : Zone::names()) {
        const Zone z = zone(name);
        int moved = 0;
        for (std::int64_t s = Instant::fromIso("2026-01-01T00:00:00Z")->unixSeconds();
             s < Instant::fromIso("2027-01-01T00:00:00Z")->unixSeconds(); s += 3600) {
            const Instant at = Instant::fromUnixSeconds(s);
            const std::int64_t back = z.toUtc(z.toLocal(at)).unixSeconds();
            if (back == s)
                continue;
            ++moved;
            ASSERT_EQ(back, s - 3600) << name << " " << at.toIso();
        }
        EXPECT_EQ(moved, z.lengthOfDay(Date::of(2026, 11, 1)) == Minutes::of(1500) ? 1 : 0) << name;
    }
}

TEST(ZoneTest, AMissingTimeIsShownAnHourLater) {
    const Zone z = zone("America/New_York");
    const LocalTime missing{Date::of(2026, 3, 8), Minutes::of(150)};
    EXPECT_EQ(z.toUtc(missing).toIso(), "2026-03-08T07:30:00Z");
    EXPECT_EQ(toIso(z.toLocal(z.toUtc(missing))), "2026-03-08T03:30");
}

TEST(ZoneTest, DaysAreAsLongAsTheirInstantsSay) {
    for (const std::string &name : Zone::names()) {
        const Zone z = zone(name);
        for (Date day = Date::of(2026, 1, 1); day < Date::of(2027, 1, 1); day = day.plusDays(1)) {
            const std::int64_t seconds =
                z.toUtc({day.plusDays(1), {}}).unixSeconds() - z.toUtc({day, {}}).unixSeconds();
            ASSERT_EQ(z.lengthOfDay(day).count() * 60, seconds) << name << " " << day.toIso();
        }
    }
}

TEST(ZoneTest, SecondsAreDroppedAlsoBefore1970) {
    const Zone z = zone("America/Phoenix");
    EXPECT_EQ(toIso(z.toLocal(Instant::fromUnixSeconds(-1))), "1969-12-31T16:59");
    EXPECT_EQ(toIso(z.toLocal(Instant::fromUnixSeconds(59))), "1969-12-31T17:00");
}

TEST(ZoneTest, AnInstantFallsOnTheDayOfTheAgencysClock) {
    AgencySettings settings;
    settings.timeZone = "America/New_York";
    const auto dayOf = [&](const char *utc) { return localDayOf(settings, *Instant::fromIso(utc)); };
    EXPECT_EQ(dayOf("2026-03-03T04:59:00Z"), Date::of(2026, 3, 2)); // five hours behind
    EXPECT_EQ(dayOf("2026-03-03T05:00:00Z"), Date::of(2026, 3, 3));
    EXPECT_EQ(dayOf("2026-03-09T04:00:00Z"), Date::of(2026, 3, 9)); // four since the clocks went forward
    EXPECT_EQ(dayOf("1969-12-31T23:00:00Z"), Date::of(1969, 12, 31));
    settings.timeZone = "Guam/Nowhere";
    EXPECT_EQ(dayOf("2026-03-03T00:00:00Z"), Date::of(2026, 3, 3));
    EXPECT_EQ(dayOf("1969-12-31T23:00:00Z"), Date::of(1969, 12, 31));
}

TEST(ZoneTest, TheTerritoriesKeepStandardTime) {
    const LocalTime noon{Date::of(2026, 7, 1), Minutes::of(720)};
    EXPECT_EQ(zone("America/Puerto_Rico").toUtc(noon).toIso(), "2026-07-01T16:00:00Z");
    EXPECT_EQ(zone("Pacific/Guam").toUtc(noon).toIso(), "2026-07-01T02:00:00Z");
    EXPECT_EQ(zone("Pacific/Honolulu").toUtc(noon).toIso(), "2026-07-01T22:00:00Z");
}

} // namespace
} // namespace kitround::calendar
