#include "core/calendar/DrainCalendar.h"
#include "core/calendar/Holidays.h"
#include "core/calendar/Weeks.h"
#include "tests/reference/CheckValues.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <sstream>

namespace kitround::calendar {
namespace {

using test::CheckRow;
using test::checkValues;

TEST(IsoWeekReferenceTest, AgreesWithIso8601AtTheYearsEnds) {
    for (const CheckRow &row : checkValues("iso-week.csv")) {
        const Date date = *Date::fromIso(row.at("date"));
        const IsoWeek week = isoWeekOf(date);
        const int weekday = (int(date.weekday()) + 6) % 7 + 1; // Monday is 1
        char text[32];
        std::snprintf(text, sizeof text, "%04d-W%02d-%d", week.year, week.week, weekday);
        EXPECT_EQ(text, row.at("iso_week_extended")) << row.at("id");
        // The 28th of December always lies in the last week of its year.
        EXPECT_EQ(std::to_string(isoWeekOf(Date::of(week.year, 12, 28)).week), row.at("weeks_in_iso_year"))
            << row.at("id");
    }
}

TEST(HolidayReferenceTest, DatesAndObservedDaysAreThoseOfTheLaw) {
    for (const CheckRow &row : checkValues("us-federal-holidays.csv")) {
        const auto holidays = federalHolidays(std::stoi(row.at("year")));
        const auto found = std::ranges::find(holidays, row.at("name"), [](const Holiday &h) {
            // The table says "Thanksgiving Day" and "Columbus Day" as the law does.
            return std::string(englishName(h.which));
        });
        ASSERT_NE(found, holidays.end()) << row.at("name");
        EXPECT_EQ(found->on.toIso(), row.at("date")) << row.at("id");
        EXPECT_EQ(found->observed.toIso(), row.at("observed_mon_fri")) << row.at("id");
        EXPECT_EQ(holidayOn(*Date::fromIso(row.at("observed_mon_fri")))->which, found->which) << row.at("id");
    }
}

// What a rule of RFC 5545 says, as far as our patterns can say it too.
struct Rule {
    bool isWeekly = false;
    int interval = 1;
    WeekdaySet days;
    Weekday weekStart = Weekday::Monday; // the standard's default
};

Rule ruleOf(const std::string &text) {
    static const std::vector<std::string> kDays = {"SU", "MO", "TU", "WE", "TH", "FR", "SA"};
    const auto weekday = [](const std::string &word) {
        return static_cast<Weekday>(std::ranges::find(kDays, word) - kDays.begin());
    };
    Rule rule;
    std::istringstream parts(text);
    for (std::string part; std::getline(parts, part, ';');) {
        const std::string name = part.substr(0, part.find('=')), value = part.substr(part.find('=') + 1);
        if (name == "FREQ")
            rule.isWeekly = value == "WEEKLY";
        else if (name == "INTERVAL")
            rule.interval = std::stoi(value);
        else if (name == "WKST")
            rule.weekStart = weekday(value);
        else if (name == "BYDAY") {
            std::istringstream words(value);
            for (std::string word; std::getline(words, word, ',');)
                rule.days.insert(weekday(word));
        }
    }
    return rule;
}

// A daily rule is every N days. A weekly one on its start's weekday is every 7 N days; on named weekdays of
// every week it is named days. Named days of every second week have no pattern of ours: there the weeks are
// ours.
bool isInRule(const Rule &rule, Date start, Date on) {
    DrainPattern pattern;
    pattern.anchor = start;
    if (!rule.isWeekly || rule.days.isEmpty() || rule.days == WeekdaySet{start.weekday()}) {
        pattern.kind = DrainPatternKind::EveryNDays;
        pattern.everyDays = rule.isWeekly ? 7 * rule.interval : rule.interval;
        return isDrainDay(pattern, on);
    }
    pattern.kind = DrainPatternKind::TimesAWeek;
    pattern.timesAWeek = rule.days.size();
    pattern.weekdays = rule.days;
    const Days between = weekStartOf(on, rule.weekStart) - weekStartOf(start, rule.weekStart);
    return isDrainDay(pattern, on) && between.count() / 7 % rule.interval == 0;
}

TEST(RecurrenceReferenceTest, PatternsGiveTheDaysOfRfc5545) {
    for (const CheckRow &row : checkValues("recurrence.csv")) {
        const Rule rule = ruleOf(row.at("rrule"));
        const std::string &expected = row.at("expected");
        const Date start = *Date::fromIso(expected.substr(0, 10));
        const Date last = *Date::fromIso(expected.substr(expected.size() - 10));
        std::string found;
        for (Date day = start; day <= last; day = day.plusDays(1))
            if (isInRule(rule, start, day))
                found.append(found.empty() ? "" : " ").append(day.toIso());
        EXPECT_EQ(found, expected) << row.at("id") << " " << row.at("rrule");
    }
}

} // namespace
} // namespace kitround::calendar
