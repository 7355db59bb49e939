#include "core/calendar/VisitWeeks.h"

#include "core/calendar/VisitNotation.h"

#include <gtest/gtest.h>

#include <memory>

namespace kitround::calendar {
namespace {

const DateRange kAlways{Date::of(2025, 1, 1), Date::of(2028, 1, 1)};

VisitOrder orderOf(std::string_view notation, Date start) {
    VisitOrder order;
    order.start = start;
    order.segments = *parseVisitOrder(notation);
    return order;
}

TEST(VisitWeeksTest, TheFirstWeekIsTheOneThatHoldsTheStart) {
    // Thursday 5 March 2026: the first week is 1 to 7 March, of which three days are left.
    const auto weeks = weeksOwed(orderOf("2W2, 1W1", Date::of(2026, 3, 5)), kAlways, Weekday::Sunday);
    ASSERT_EQ(weeks.size(), 3U);
    EXPECT_EQ(weeks[0], (WeekOwed{{Date::of(2026, 3, 5), Date::of(2026, 3, 8)}, 2, 2, true}));
    EXPECT_EQ(weeks[1], (WeekOwed{{Date::of(2026, 3, 8), Date::of(2026, 3, 15)}, 2, 2, false}));
    EXPECT_EQ(weeks[2], (WeekOwed{{Date::of(2026, 3, 15), Date::of(2026, 3, 22)}, 1, 1, false}));
}

TEST(VisitWeeksTest, AMondayWeekMovesTheBoundary) {
    const auto weeks = weeksOwed(orderOf("1W2", Date::of(2026, 3, 8)), kAlways, Weekday::Monday);
    ASSERT_EQ(weeks.size(), 2U);
    EXPECT_EQ(weeks[0].days, (DateRange{Date::of(2026, 3, 8), Date::of(2026, 3, 9)})); // the Sunday alone
    EXPECT_EQ(weeks[1].days.from, Date::of(2026, 3, 9));
}

TEST(VisitWeeksTest, APartialWeekOwesNoMoreThanItsDaysCanHold) {
    // Saturday: one day of the first week is left, so 3 a week can be 1 at most.
    const auto weeks = weeksOwed(orderOf("3W2", Date::of(2026, 3, 7)), kAlways, Weekday::Sunday);
    EXPECT_EQ(weeks[0].least, 1);
    EXPECT_EQ(weeks[1].least, 3);
    VisitOrder order = orderOf("2W2", Date::of(2026, 3, 5));
    order.allowedDays = {Weekday::Monday, Weekday::Thursday};
    EXPECT_EQ(weeksOwed(order, kAlways, Weekday::Sunday)[0].most, 1); // Thursday only
    EXPECT_EQ(weeksOwed(orderOf("14W1", Date::of(2026, 3, 7)), kAlways, Weekday::Sunday)[0].most, 2);
}

TEST(VisitWeeksTest, TheOrdersEndCutsTheWeeks) {
    VisitOrder order = orderOf("3W10", Date::of(2026, 3, 1));
    order.end = Date::of(2026, 3, 10);
    const auto weeks = weeksOwed(order, kAlways, Weekday::Sunday);
    ASSERT_EQ(weeks.size(), 2U);
    EXPECT_EQ(weeks[1], (WeekOwed{{Date::of(2026, 3, 8), Date::of(2026, 3, 10)}, 2, 2, true}));
    order.end = order.start;
    EXPECT_TRUE(weeksOwed(order, kAlways, Weekday::Sunday).empty());
}

TEST(VisitWeeksTest, OnlyWeeksThatOverlapTheRangeAreGiven) {
    const VisitOrder order = orderOf("1W9", Date::of(2026, 3, 1));
    const auto weeks = weeksOwed(order, {Date::of(2026, 3, 14), Date::of(2026, 3, 16)}, Weekday::Sunday);
    ASSERT_EQ(weeks.size(), 2U);
    EXPECT_EQ(weeks[0].days.from, Date::of(2026, 3, 8));
    EXPECT_EQ(weeks[1].days.from, Date::of(2026, 3, 15));
    EXPECT_TRUE(weeksOwed(order, {Date::of(2026, 5, 3), Date::of(2026, 6, 1)}, Weekday::Sunday).empty());
    EXPECT_TRUE(weeksOwed(order, {Date::of(2026, 2, 1), Date::of(2026, 3, 1)}, Weekday::Sunday).empty());
}

TEST(VisitWeeksTest, AsNeededVisitsAreNotOwedAndTakeNoWeek) {
    const auto weeks = weeksOwed(orderOf("1W1, 2PRN, 3W1", Date::of(2026, 3, 1)), kAlways, Weekday::Sunday);
    ASSERT_EQ(weeks.size(), 2U);
    EXPECT_EQ(weeks[1].least, 3);
}

TEST(VisitWeeksTest, WholeWeeksAddUpToTheTotals) {
    for (const char *text : {"2W4", "2-3W4, 1W5", "7W1, 3W2, 1-2W6, 2PRN"}) {
        const VisitOrder order = orderOf(text, Date::of(2026, 3, 1)); // a Sunday: no partial week
        int least = 0, most = 0;
        const auto weeks = weeksOwed(order, kAlways, Weekday::Sunday);
        for (const WeekOwed &week : weeks) {
            EXPECT_FALSE(week.isPartial);
            least += week.least;
            most += week.most;
        }
        const VisitTotals sum = totals(order.segments);
        EXPECT_EQ(least, sum.least) << text;
        EXPECT_EQ(most, sum.most) << text;
        EXPECT_EQ(int(weeks.size()), sum.weeks) << text;
    }
}

TEST(VisitWeeksTest, UsualSpacingHoldsTheWeeklyPatternsOfTheTrade) {
    EXPECT_EQ(usualSpacing(2), (Spacing{Days::of(2), Days::of(5)}));
    EXPECT_EQ(usualSpacing(3), (Spacing{Days::of(2), Days::of(3)}));
    EXPECT_EQ(usualSpacing(7), (Spacing{Days::of(1), Days::of(1)}));
    EXPECT_EQ(usualSpacing(14), (Spacing{Days::of(0), Days::of(1)}));
    // Every spacing must leave room for n visits in a week that repeats: least * n <= 7 <= most * n.
    for (int n = 1; n <= 14; ++n) {
        EXPECT_LE(usualSpacing(n).least.count() * n, 7) << n;
        EXPECT_GE(usualSpacing(n).most.count() * n, 7) << n;
    }
}

class SharedWeekTest : public ::testing::Test {
protected:
    // Weeks run from Sunday 1 March 2026; the one in question is 8 to 14 March.
    const VisitOrder &add(std::string_view notation, Date start, std::optional<Date> end = std::nullopt) {
        orders_.push_back(std::make_unique<VisitOrder>(orderOf(notation, start)));
        orders_.back()->id = VisitOrderId(static_cast<std::int64_t>(orders_.size()));
        orders_.back()->end = end;
        pointers_.push_back(orders_.back().get());
        return *orders_.back();
    }
    WeekOwed inWeek(const VisitOrder &order) const {
        const auto weeks = weeksOwed(order, pointers_, kWeek, Weekday::Sunday);
        EXPECT_EQ(weeks.size(), 1U);
        return weeks.empty() ? WeekOwed{} : weeks.front();
    }

    static constexpr Date kSunday = Date::of(2026, 3, 8);
    static constexpr DateRange kWeek{Date::of(2026, 3, 8), Date::of(2026, 3, 15)};
    std::vector<std::unique_ptr<VisitOrder>> orders_;
    std::vector<const VisitOrder *> pointers_;
};

TEST_F(SharedWeekTest, TheSameNumberOnBothSidesIsOwedOnce) {
    const VisitOrder &before = add("2W4", kSunday.plusDays(-14), kSunday.plusDays(3));
    const VisitOrder &after = add("2W9", kSunday.plusDays(3));
    // 2 x 3/7 = 6/7 and 2 x 4/7 = 8/7: 0 and 1 whole, the one left goes to 6/7.
    EXPECT_EQ(inWeek(before).least, 1);
    EXPECT_EQ(inWeek(after).least, 1);
    EXPECT_EQ(inWeek(before).together, 2);
    EXPECT_EQ(weeksOwed(after, kWeek, Weekday::Sunday).front().least, 2) << "alone it would owe both";
}

TEST_F(SharedWeekTest, TogetherNeverMoreThanTheLargerNumberAndNothingIsRoundedAway) {
    const VisitOrder &before = add("3W4", kSunday.plusDays(-14), kSunday.plusDays(2));
    const VisitOrder &after = add("1W9", kSunday.plusDays(2));
    // 3 x 2/7 + 1 x 5/7 = 11/7, rounded up 2: one each.
    EXPECT_EQ(inWeek(before).least, 1);
    EXPECT_EQ(inWeek(after).least, 1);
    EXPECT_EQ(inWeek(after).together, 2);
}

TEST_F(SharedWeekTest, DaysThatCannotHoldTheirPartLeaveItToTheOther) {
    VisitOrder &before = const_cast<VisitOrder &>(add("5W4", kSunday.plusDays(-14), kSunday.plusDays(4)));
    before.allowedDays.insert(Weekday::Monday); // one of the four days
    const VisitOrder &after = add("5W9", kSunday.plusDays(4));
    EXPECT_EQ(inWeek(before).least, 1);
    EXPECT_EQ(inWeek(after).least, 3) << "Thursday to Saturday";
}

TEST_F(SharedWeekTest, AnotherKindOrAnotherWeekIsNotShared) {
    VisitOrder &teaching = const_cast<VisitOrder &>(add("2W4", kSunday.plusDays(-14), kSunday.plusDays(3)));
    teaching.kind = VisitKind::Teaching;
    const VisitOrder &routine = add("2W9", kSunday.plusDays(3));
    EXPECT_EQ(inWeek(routine).least, 2);
    EXPECT_EQ(inWeek(routine).together, 0);
    EXPECT_TRUE(sharedWeek(routine, pointers_, kWeek, Weekday::Sunday).empty());
}

TEST_F(SharedWeekTest, AnOrderThatEndsWithTheWeekSharesNothing) {
    const VisitOrder &before = add("2W4", kSunday.plusDays(-14), kSunday.plusDays(7));
    const VisitOrder &after = add("3W9", kSunday.plusDays(7));
    EXPECT_EQ(inWeek(before).least, 2);
    EXPECT_EQ(weeksOwed(after, pointers_, {kSunday, kSunday.plusDays(14)}, Weekday::Sunday).front().least, 3);
}

TEST_F(SharedWeekTest, TheOrdersOfTwoCathetersGoOnEachWithItsOwn) {
    // Renewed in one week, two days apart.
    const VisitOrder &one = add("1W4", kSunday.plusDays(-21), kSunday.plusDays(2));
    const VisitOrder &other = add("3W5", kSunday.plusDays(-28), kSunday.plusDays(4));
    const VisitOrder &oneAgain = add("1W9", kSunday.plusDays(2));
    const VisitOrder &otherAgain = add("3W9", kSunday.plusDays(4));
    const auto series = [this](const VisitOrder &order) {
        return ordersInSeries(order, pointers_, Weekday::Sunday);
    };
    EXPECT_EQ(series(one), (std::vector{one.id, oneAgain.id}));
    EXPECT_EQ(series(oneAgain), series(one));
    EXPECT_EQ(series(otherAgain), (std::vector{other.id, otherAgain.id}));
    EXPECT_EQ(inWeek(oneAgain).together, 1);
    EXPECT_EQ(inWeek(otherAgain).together, 3) << "the week is shared with its own catheter's order";
}

TEST_F(SharedWeekTest, AnOrderGoesOnWithTheOneOfItsSiteWhereBothSayWhich) {
    const auto of = [this](Skill site, Date start, std::optional<Date> end) {
        const VisitOrderId id = add("2W9", start, end).id;
        orders_.back()->needs = SkillSet{site, Skill::Teach};
        return id;
    };
    const Date middle = kSunday.plusDays(3);
    const VisitOrderId chest = of(Skill::DrainChest, kSunday.plusDays(-14), middle);
    const VisitOrderId abdomen = of(Skill::DrainAbdomen, kSunday.plusDays(-13), middle);
    const VisitOrderId abdomenAgain = of(Skill::DrainAbdomen, middle, std::nullopt);
    const VisitOrderId chestAgain = of(Skill::DrainChest, middle.plusDays(1), std::nullopt);
    const auto series = [this](std::size_t order) {
        return ordersInSeries(*orders_[order], pointers_, Weekday::Sunday);
    };
    EXPECT_EQ(series(0), (std::vector{chest, chestAgain}));
    EXPECT_EQ(series(1), (std::vector{abdomen, abdomenAgain}));
}

TEST_F(SharedWeekTest, AnOrderForVisitsAsNeededStandsInNobodysWay) {
    const VisitOrder &before = add("2W4", kSunday.plusDays(-14), kSunday.plusDays(3));
    const VisitOrder &asNeeded = add("2PRN", kSunday.plusDays(3));
    const VisitOrder &after = add("2W9", kSunday.plusDays(3));
    EXPECT_EQ(ordersInSeries(after, pointers_, Weekday::Sunday), (std::vector{before.id, after.id}));
    EXPECT_EQ(ordersInSeries(asNeeded, pointers_, Weekday::Sunday), std::vector{asNeeded.id});
    EXPECT_EQ(inWeek(after).together, 2);
}

} // namespace
} // namespace kitround::calendar
