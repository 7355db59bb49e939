#include "core/calendar/Zone.h"
#include "tests/reference/CheckValues.h"

#include <gtest/gtest.h>

namespace kitround::calendar {
namespace {

using test::CheckRow;
using test::checkValues;

// "2026-03-08T01:59:59" to the minute below, and the seconds left over.
LocalTime minuteOf(const std::string &text) {
    return *localTimeFromIso(text.substr(0, 16));
}
std::int64_t secondsOf(const std::string &text) {
    return std::stoll(text.substr(17, 2));
}
std::int64_t offsetSeconds(const std::string &text) { // "-05:00"
    const std::int64_t sign = text.at(0) == '-' ? -1 : 1;
    return sign * (std::stoll(text.substr(1, 2)) * 3600 + std::stoll(text.substr(4, 2)) * 60);
}
std::int64_t localSeconds(LocalTime at) {
    return at.date.dayNumber() * 86400 + at.minute.count() * 60;
}

TEST(ZoneReferenceTest, ClocksChangeAtTheMomentsOfTheLaw) {
    for (const CheckRow &row : checkValues("us-dst.csv")) {
        const Zone zone = *Zone::named(row.at("tzid"));
        const auto offsetAt = [&](Instant at) { return localSeconds(zone.toLocal(at)) - at.unixSeconds(); };
        if (row.at("kind") == "none") {
            const Date first = *Date::fromIso(row.at("date").substr(0, 10));
            for (Date day = first; day.year() == first.year(); day = day.plusDays(1)) {
                ASSERT_EQ(zone.lengthOfDay(day), Minutes::of(1440)) << row.at("id") << day.toIso();
                ASSERT_EQ(offsetAt(zone.toUtc({day, Minutes::of(720)})),
                          offsetSeconds(row.at("offset_before")));
            }
            continue;
        }
        const Instant change = *Instant::fromIso(row.at("transition_utc"));
        EXPECT_EQ(offsetAt(change + Minutes::of(-1)), offsetSeconds(row.at("offset_before"))) << row.at("id");
        EXPECT_EQ(offsetAt(change), offsetSeconds(row.at("offset_after"))) << row.at("id");
        EXPECT_EQ(zone.lengthOfDay(*Date::fromIso(row.at("date"))).count(),
                  60 * std::stoll(row.at("local_day_hours")))
            << row.at("id");
    }
}

TEST(ZoneReferenceTest, MissingAndRepeatedTimesFollowRfc5545) {
    int repeated = 0, missing = 0;
    for (const CheckRow &row : checkValues("local-to-utc.csv")) {
        const Zone zone = *Zone::named(row.at("tzid"));
        const Instant utc = zone.toUtc(minuteOf(row.at("local")));
        EXPECT_EQ(Instant::fromUnixSeconds(utc.unixSeconds() + secondsOf(row.at("local"))).toIso(),
                  row.at("utc_per_rfc5545_3.3.5"))
            << row.at("id");
        repeated += row.at("kind") == "repeated" ? 1 : 0;
        missing += row.at("kind") == "gap" ? 1 : 0;
        if (const std::string &second = row.at("second_occurrence_utc"); !second.empty()) {
            EXPECT_EQ(zone.toLocal(*Instant::fromIso(second)), minuteOf(row.at("local"))) << row.at("id");
        }
    }
    EXPECT_GE(repeated, 2);
    EXPECT_GE(missing, 2);
}

// The number before `unit` in a duration such as P1DT2H; 0 where it has none.
std::int64_t part(const std::string &duration, char unit) {
    const std::size_t end = duration.find(unit);
    if (end == std::string::npos)
        return 0;
    std::size_t from = end;
    while (from > 0 && duration[from - 1] >= '0' && duration[from - 1] <= '9')
        --from;
    return from == end ? 0 : std::stoll(duration.substr(from, end - from));
}

TEST(ZoneReferenceTest, DaysKeepTheWallClockAndHoursAreElapsed) {
    for (const CheckRow &row : checkValues("duration-add.csv")) {
        const Zone zone = *Zone::named(row.at("tzid"));
        const std::string &duration = row.at("duration");
        LocalTime at = minuteOf(row.at("start_local"));
        at.date = at.date.plusDays(7 * part(duration, 'W') + part(duration, 'D'));
        const Instant end = zone.toUtc(at) + Minutes::of(60 * part(duration, 'H'));
        // Seconds are below what a local time of ours holds.
        EXPECT_EQ(end.toIso().substr(0, 16), row.at("end_utc").substr(0, 16)) << row.at("id");
        EXPECT_EQ(toIso(zone.toLocal(end)), row.at("end_local").substr(0, 16)) << row.at("id");
    }
}

} // namespace
} // namespace kitround::calendar
