#include "core/records/Nurses.h"

#include <gtest/gtest.h>

namespace kitround {
namespace {

const Date kMonday = Date::of(2026, 3, 2);
const DateRange kWeek{kMonday, kMonday.plusDays(7)};

Nurse nurse(std::int64_t id) {
    Nurse n;
    n.id = NurseId(id);
    return n;
}
ShiftPattern pattern(std::int64_t nurse, Weekday day, int from, int to) {
    ShiftPattern p;
    p.nurse = NurseId(nurse);
    p.weekday = day;
    p.from = Minutes::of(from);
    p.to = Minutes::of(to);
    p.validFrom = Date::of(2026, 1, 1);
    return p;
}
ExtraShift extra(std::int64_t nurse, Date on, int from, int to, bool replaces) {
    ExtraShift e;
    e.nurse = NurseId(nurse);
    e.on = on;
    e.from = Minutes::of(from);
    e.to = Minutes::of(to);
    e.replacesPattern = replaces;
    return e;
}
TimeOff off(std::int64_t nurse, Date from, Date to) {
    TimeOff t;
    t.nurse = NurseId(nurse);
    t.from = from;
    t.to = to;
    return t;
}

TEST(SkillsTest, EndOnTheFirstDayNoLongerValid) {
    Nurse n = nurse(1);
    n.skills = {{Skill::Teach, std::nullopt}, {Skill::DrainChest, kMonday}};
    EXPECT_TRUE(skillsOn(n, kMonday.plusDays(-1)).contains(Skill::DrainChest));
    EXPECT_FALSE(skillsOn(n, kMonday).contains(Skill::DrainChest));
    EXPECT_TRUE(skillsOn(n, kMonday).covers({Skill::Teach}));
    EXPECT_FALSE(skillsOn(n, kMonday).covers({Skill::Teach, Skill::DrainChest}));
    EXPECT_TRUE(SkillSet().covers({}));
}

TEST(ShiftsTest, ComeByNurseThenDayThenStart) {
    const auto shifts =
        shiftsIn(kWeek, {nurse(1), nurse(2)},
                 {pattern(2, Weekday::Monday, 480, 960), pattern(1, Weekday::Tuesday, 780, 960),
                  pattern(1, Weekday::Tuesday, 480, 720), pattern(1, Weekday::Monday, 480, 960)},
                 {}, {});
    ASSERT_EQ(shifts.size(), 4U);
    EXPECT_EQ(shifts[0].on, kMonday);
    EXPECT_EQ(shifts[1].from, Minutes::of(480));
    EXPECT_EQ(shifts[2].from, Minutes::of(780));
    EXPECT_EQ(shifts[3].nurse, NurseId(2));
}

TEST(ShiftsTest, AnExtraShiftReplacesThePatternOrComesOnTop) {
    const std::vector<ShiftPattern> patterns{pattern(1, Weekday::Monday, 480, 960)};
    const auto replaced = shiftsIn(kWeek, {nurse(1)}, patterns, {extra(1, kMonday, 600, 700, true)}, {});
    ASSERT_EQ(replaced.size(), 1U);
    EXPECT_EQ(replaced[0].from, Minutes::of(600));
    const auto both = shiftsIn(kWeek, {nurse(1)}, patterns, {extra(1, kMonday, 1000, 1100, false)}, {});
    ASSERT_EQ(both.size(), 2U);
    EXPECT_EQ(both[1].from, Minutes::of(1000));
    // Another nurse's extra shift and another day's change nothing.
    EXPECT_EQ(shiftsIn(kWeek, {nurse(1)}, patterns, {extra(2, kMonday, 600, 700, true)}, {}).size(), 1U);
    EXPECT_EQ(
        shiftsIn(kWeek, {nurse(1)}, patterns, {extra(1, kMonday.plusDays(1), 600, 700, true)}, {}).size(),
        2U);
}

TEST(ShiftsTest, TimeOffTakesTheWholeDayAndTheLastDayIsFreeAgain) {
    std::vector<ShiftPattern> patterns;
    for (const Weekday day : kAllWeekdays)
        patterns.push_back(pattern(1, day, 480, 960));
    const auto shifts = shiftsIn(kWeek, {nurse(1)}, patterns, {extra(1, kMonday, 600, 700, true)},
                                 {off(1, kMonday, kMonday.plusDays(2))});
    ASSERT_EQ(shifts.size(), 5U);
    EXPECT_EQ(shifts[0].on, kMonday.plusDays(2));
}

TEST(ShiftsTest, PatternsHoldFromTheirFirstDayToTheDayBeforeTheirEnd) {
    ShiftPattern p = pattern(1, Weekday::Monday, 480, 960);
    p.validFrom = kMonday;
    p.validTo = kMonday.plusDays(7);
    const DateRange month{kMonday.plusDays(-14), kMonday.plusDays(21)};
    const auto shifts = shiftsIn(month, {nurse(1)}, {p}, {}, {});
    ASSERT_EQ(shifts.size(), 1U);
    EXPECT_EQ(shifts[0].on, kMonday);
}

TEST(ShiftsTest, WhoNoLongerWorksHereHasNone) {
    Nurse gone = nurse(1);
    gone.isActive = false;
    EXPECT_TRUE(shiftsIn(kWeek, {gone}, {pattern(1, Weekday::Monday, 480, 960)}, {}, {}).empty());
}

TEST(ShiftsTest, TheBreakIsNoWork) {
    ShiftPattern withBreak = pattern(1, Weekday::Monday, 480, 960);
    withBreak.breakLength = Minutes::of(30);
    const auto shifts = shiftsIn(kWeek, {nurse(1)}, {withBreak}, {}, {});
    ASSERT_EQ(shifts.size(), 1U);
    EXPECT_EQ(shifts[0].working(), Minutes::of(450));
}

} // namespace
} // namespace kitround
