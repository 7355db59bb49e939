#include "core/calendar/DrainCalendar.h"

#include "core/base/Random.h"

#include <gtest/gtest.h>

#include <cmath>

namespace kitround::calendar {
namespace {

const Date kMonday = Date::of(2026, 3, 2);

DrainOrder every(int days, Date anchor, Date start) {
    DrainOrder order;
    order.pattern.kind = DrainPatternKind::EveryNDays;
    order.pattern.everyDays = days;
    order.pattern.anchor = anchor;
    order.start = start;
    return order;
}
DrainPattern weekly(int times, WeekdaySet days = {}) {
    DrainPattern pattern;
    pattern.kind = DrainPatternKind::TimesAWeek;
    pattern.timesAWeek = times;
    pattern.weekdays = days;
    return pattern;
}
DrainPattern asNeeded(std::optional<int> day, std::optional<int> week) {
    DrainPattern pattern;
    pattern.kind = DrainPatternKind::AsNeeded;
    pattern.mostPerDay = day;
    pattern.mostPerWeek = week;
    return pattern;
}
Hold holdFrom(Date from, std::optional<Date> to) {
    Hold hold;
    hold.from = from;
    hold.to = to;
    return hold;
}
template <class T>
std::vector<const T *> pointers(const std::vector<T> &rows) {
    std::vector<const T *> all;
    for (const T &row : rows)
        all.push_back(&row);
    return all;
}
std::vector<std::string> daysOf(const std::vector<DrainOrder> &orders, const std::vector<Hold> &holds,
                                DateRange range) {
    std::vector<std::string> days;
    for (const PlannedDrain &drain : plannedDrains(pointers(orders), pointers(holds), range))
        days.push_back(drain.on.toIso());
    return days;
}

TEST(DrainCalendarTest, EveryOtherDayCountsFromTheAnchorThroughAHold) {
    // Anchor on the 2nd: even days. Away from the 5th to the 8th: the 6th and 8th fall out, the 10th stays.
    const std::vector<DrainOrder> orders{every(2, kMonday, kMonday)};
    const std::vector<Hold> holds{holdFrom(Date::of(2026, 3, 5), Date::of(2026, 3, 9))};
    EXPECT_EQ(daysOf(orders, holds, {kMonday, Date::of(2026, 3, 13)}),
              (std::vector<std::string>{"2026-03-02", "2026-03-04", "2026-03-10", "2026-03-12"}));
}

TEST(DrainCalendarTest, TheAnchorMayLieAfterTheStart) {
    const std::vector<DrainOrder> orders{every(3, Date::of(2026, 3, 10), kMonday)};
    EXPECT_EQ(daysOf(orders, {}, {kMonday, Date::of(2026, 3, 11)}),
              (std::vector<std::string>{"2026-03-04", "2026-03-07", "2026-03-10"}));
}

TEST(DrainCalendarTest, TheDayOfReturnIsADrainDayAgain) {
    const std::vector<DrainOrder> orders{every(1, kMonday, kMonday)};
    const std::vector<Hold> holds{holdFrom(kMonday, Date::of(2026, 3, 4))};
    EXPECT_EQ(daysOf(orders, holds, {kMonday, Date::of(2026, 3, 5)}),
              (std::vector<std::string>{"2026-03-04"}));
}

TEST(DrainCalendarTest, AnOpenHoldCoversEveryLaterDayWhateverReturnIsExpected) {
    const std::vector<DrainOrder> orders{every(1, kMonday, kMonday)};
    std::vector<Hold> holds{holdFrom(kMonday, std::nullopt)};
    holds.front().expectedReturn = kMonday.plusDays(1);
    EXPECT_TRUE(daysOf(orders, holds, {kMonday, kMonday.plusDays(60)}).empty());
}

TEST(DrainCalendarTest, ATravellerWhoStillDrainsKeepsTheDrains) {
    const std::vector<DrainOrder> orders{every(1, kMonday, kMonday)};
    std::vector<Hold> holds{holdFrom(kMonday, kMonday.plusDays(3))};
    holds.front().stillDraining = true;
    EXPECT_EQ(daysOf(orders, holds, {kMonday, kMonday.plusDays(3)}).size(), 3U);
    const auto held = pointers(holds);
    EXPECT_TRUE(isOnHold(held, kMonday));
    EXPECT_FALSE(isDrainingPaused(held, kMonday));
}

TEST(DrainCalendarTest, ANewOrderTakesOverOnItsDay) {
    std::vector<DrainOrder> orders{every(1, kMonday, kMonday),
                                   every(2, kMonday.plusDays(3), kMonday.plusDays(3))};
    orders[0].end = kMonday.plusDays(3);
    EXPECT_EQ(
        daysOf(orders, {}, {kMonday, kMonday.plusDays(7)}),
        (std::vector<std::string>{"2026-03-02", "2026-03-03", "2026-03-04", "2026-03-05", "2026-03-07"}));
    orders[0].end = std::nullopt; // nobody ended the old one: the later start still wins, and no day has two
    EXPECT_EQ(daysOf(orders, {}, {kMonday, kMonday.plusDays(7)}).size(), 5U);
}

TEST(DrainCalendarTest, AsNeededPlansNothingAndHidesTheOrderBefore) {
    std::vector<DrainOrder> orders{every(1, kMonday, kMonday), every(1, kMonday, kMonday.plusDays(2))};
    orders[1].pattern = asNeeded(1, 3);
    EXPECT_EQ(daysOf(orders, {}, {kMonday, kMonday.plusDays(7)}).size(), 2U);
}

TEST(DrainCalendarTest, FreeDaysAreSpreadAndSaySo) {
    std::vector<DrainOrder> orders{every(1, kMonday, kMonday)};
    orders[0].pattern = weekly(3);
    const auto drains = plannedDrains(pointers(orders), {}, {Date::of(2026, 3, 8), Date::of(2026, 3, 15)});
    ASSERT_EQ(drains.size(), 3U); // floor(k * 7 / 3): days 0, 2, 4 after Sunday the 8th
    EXPECT_EQ(drains[0].on, Date::of(2026, 3, 8));
    EXPECT_EQ(drains[1].on, Date::of(2026, 3, 10));
    EXPECT_EQ(drains[2].on, Date::of(2026, 3, 12));
    EXPECT_TRUE(drains[0].dayIsFree);
    orders[0].pattern = weekly(1, {Weekday::Tuesday});
    EXPECT_FALSE(plannedDrains(pointers(orders), {}, {kMonday, kMonday.plusDays(7)}).at(0).dayIsFree);
}

TEST(DrainCalendarTest, FreeDaysGiveExactlyNInEveryWholeWeek) {
    for (const Weekday weekStart : {Weekday::Sunday, Weekday::Monday})
        for (int n = 1; n <= 7; ++n) {
            Date week = weekStart == Weekday::Sunday ? Date::of(2026, 3, 1) : kMonday;
            int found = 0;
            for (int d = 0; d < 7; ++d)
                found += isDrainDay(weekly(n), week.plusDays(d), weekStart) ? 1 : 0;
            EXPECT_EQ(found, n);
        }
}

TEST(DrainCalendarTest, MeanUseFollowsThePattern) {
    EXPECT_DOUBLE_EQ(drainsPerDay(every(2, kMonday, kMonday).pattern), 0.5);
    EXPECT_DOUBLE_EQ(drainsPerDay(weekly(3)), 3.0 / 7.0);
    EXPECT_DOUBLE_EQ(drainsPerDay(weekly(2, {Weekday::Monday, Weekday::Thursday})), 2.0 / 7.0);
    EXPECT_DOUBLE_EQ(drainsPerDay(asNeeded(1, std::nullopt)), 1.0);
    EXPECT_DOUBLE_EQ(drainsPerDay(asNeeded(1, 3)), 3.0 / 7.0);
    EXPECT_DOUBLE_EQ(drainsPerDay(asNeeded(1, 14)), 1.0);
    EXPECT_DOUBLE_EQ(drainsPerDay(asNeeded(std::nullopt, 2)), 2.0 / 7.0);
    EXPECT_DOUBLE_EQ(drainsPerDay(asNeeded(std::nullopt, std::nullopt)), 0.0);
}

TEST(DrainCalendarTest, AsNeededIsNeverLate) {
    EXPECT_FALSE(longestGap(asNeeded(1, 3)).has_value());
    EXPECT_EQ(longestGap(weekly(2)), Days::of(4)); // ceil(7 / 2)
    EXPECT_EQ(longestGap(weekly(2, {Weekday::Monday, Weekday::Tuesday})), Days::of(6));
    EXPECT_EQ(longestGap(weekly(1, {Weekday::Saturday})), Days::of(7));
}

TEST(DrainCalendarTest, ABrokenPatternPlansNothing) {
    EXPECT_FALSE(isDrainDay(every(0, kMonday, kMonday).pattern, kMonday));
    EXPECT_FALSE(isDrainDay(weekly(0), kMonday));
    EXPECT_DOUBLE_EQ(drainsPerDay(every(-3, kMonday, kMonday).pattern), 0.0);
    EXPECT_FALSE(longestGap(every(0, kMonday, kMonday).pattern).has_value());
}

// The definition, written out as plainly as possible: is day `on` a drain day under these orders and holds?
bool isPlannedByDefinition(const std::vector<DrainOrder> &orders, const std::vector<Hold> &holds, Date on) {
    const DrainOrder *inForce = nullptr;
    for (const DrainOrder &order : orders) {
        const bool covers = order.start <= on && !(order.end && *order.end <= on);
        if (covers && (!inForce || order.start >= inForce->start))
            inForce = &order;
    }
    if (!inForce)
        return false;
    for (const Hold &hold : holds)
        if (!hold.stillDraining && hold.from <= on && !(hold.to && *hold.to <= on))
            return false;
    const DrainPattern &p = inForce->pattern;
    if (p.kind == DrainPatternKind::AsNeeded)
        return false;
    if (p.kind == DrainPatternKind::EveryNDays) {
        for (Date day = p.anchor; day <= on; day = day.plusDays(p.everyDays))
            if (day == on)
                return true;
        for (Date day = p.anchor; day >= on; day = day.plusDays(-p.everyDays))
            if (day == on)
                return true;
        return false;
    }
    if (!p.weekdays.isEmpty())
        return p.weekdays.contains(on.weekday());
    Date sunday = on;
    while (sunday.weekday() != Weekday::Sunday)
        sunday = sunday.plusDays(-1);
    for (int k = 0; k < p.timesAWeek; ++k)
        if (sunday.plusDays(static_cast<std::int64_t>(std::floor(k * 7.0 / p.timesAWeek))) == on)
            return true;
    return false;
}

DrainPattern randomPattern(Random &random, Date near) {
    switch (random.below(4)) {
    case 0: {
        return every(int(random.between(1, 14)), near.plusDays(random.between(-40, 40)), near).pattern;
    }
    case 1:
        return weekly(int(random.between(1, 7)));
    case 2: {
        const WeekdaySet days = WeekdaySet::fromBits(unsigned(random.between(1, 127)));
        return weekly(days.size(), days);
    }
    default:
        return asNeeded(1, 3);
    }
}

TEST(DrainCalendarPropertyTest, AgreesDayByDayWithTheDefinition) {
    for (std::uint64_t seed = 1; seed <= 400; ++seed) {
        Random random(seed);
        std::vector<DrainOrder> orders;
        std::vector<Hold> holds;
        Date start = kMonday.plusDays(random.between(-10, 10));
        for (std::int64_t i = random.between(0, 3); i > 0; --i) {
            DrainOrder order;
            order.pattern = randomPattern(random, start);
            order.start = start;
            if (random.chance(0.5))
                order.end = start.plusDays(random.between(0, 40));
            orders.push_back(order);
            start = start.plusDays(random.between(0, 30));
        }
        Date from = kMonday.plusDays(random.between(-10, 20));
        for (std::int64_t i = random.between(0, 3); i > 0; --i) {
            Hold hold = holdFrom(from, std::nullopt);
            if (random.chance(0.8))
                hold.to = from.plusDays(random.between(0, 15));
            hold.stillDraining = random.chance(0.3);
            holds.push_back(hold);
            from = from.plusDays(random.between(1, 20));
        }
        const DateRange range{kMonday.plusDays(-15), kMonday.plusDays(90)};
        std::vector<std::string> expected;
        for (Date day = range.from; day < range.to; day = day.plusDays(1))
            if (isPlannedByDefinition(orders, holds, day))
                expected.push_back(day.toIso());
        ASSERT_EQ(daysOf(orders, holds, range), expected) << "seed " << seed;
    }
}

TEST(DrainCalendarPropertyTest, NoTwoDrainDaysLieFurtherApartThanTheLongestGap) {
    Random random(3);
    for (int round = 0; round < 300; ++round) {
        const DrainPattern pattern = randomPattern(random, kMonday);
        const auto gap = longestGap(pattern);
        if (!gap)
            continue;
        std::optional<Date> last;
        std::int64_t longest = 0;
        for (Date day = kMonday; day < kMonday.plusDays(120); day = day.plusDays(1)) {
            if (!isDrainDay(pattern, day))
                continue;
            if (last)
                longest = std::max(longest, (day - *last).count());
            last = day;
        }
        EXPECT_EQ(longest, gap->count()) << "kind " << int(pattern.kind) << " n " << pattern.timesAWeek;
    }
}

} // namespace
} // namespace kitround::calendar
