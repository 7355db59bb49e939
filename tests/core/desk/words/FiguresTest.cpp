// The figures of the settings in the unit people read, there and back.
#include "core/desk/words/Figures.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <gtest/gtest.h>

namespace kitround::desk {
namespace {

using enum SettingKey;

Problem refusedFigure(const char *typed, SettingKey key) {
    const auto figure = figureFrom(QString::fromUtf8(typed), key, "value");
    EXPECT_FALSE(figure) << typed;
    return figure ? Problem{} : figure.error();
}

TEST(FiguresTest, StandInTheLargeUnitWithItsName) {
    EXPECT_EQ(figureText(PointsStart, 150), QStringLiteral("1.50"));
    EXPECT_EQ(figureUnit(PointsStart, "USD"), QStringLiteral("points"));
    EXPECT_EQ(figureWithUnit(PointsStart, 150, "USD"), QStringLiteral("1.50 points"));
    EXPECT_EQ(figureWithUnit(CourierCostMinor, 1250, "EUR"), QStringLiteral("12.50 EUR"));
    EXPECT_EQ(figureWithUnit(StopMinutes, 5, "USD"), QStringLiteral("5 min"));
    EXPECT_EQ(figureWithUnit(DayStart, 480, "USD"), QStringLiteral("08:00"));
    EXPECT_EQ(figureText(CourierDays, std::int64_t{0b10}), QStringLiteral("Mon"));
}

TEST(FiguresTest, ADifferenceHasItsSign) {
    EXPECT_EQ(signedText(12), QStringLiteral("+12"));
    EXPECT_EQ(signedText(-3), QStringLiteral("\u22123"));
    EXPECT_EQ(signedText(0), QStringLiteral("0"));
}

TEST(FiguresTest, WhatIsShownIsReadBackAsItIsStored) {
    for (const SettingInfo &info : settingTable()) {
        if (info.unit == "weekdays")
            continue; // ticked, not typed
        for (const std::int64_t value : {info.least, info.preset, info.most}) {
            const auto back = figureFrom(figureText(info.key, value), info.key, "value");
            ASSERT_TRUE(back) << info.name << " " << value;
            EXPECT_EQ(*back, value) << info.name;
        }
    }
    EXPECT_EQ(*figureFrom(QStringLiteral(" 9:30 "), DayStart, "value"), 570);
}

TEST(FiguresTest, ARefusedFigureIsToldInTheUnitThatWasTyped) {
    EXPECT_EQ(refusedFigure("", PointsStart).code, ProblemCode::Missing);
    EXPECT_EQ(refusedFigure("many", PointsStart).code, ProblemCode::NotANumber);
    for (const char *decimal : {"1.5", "1,5"})
        EXPECT_EQ(refusedFigure(decimal, StopMinutes).code, ProblemCode::NotANumber)
            << "fifteen is not meant";
    EXPECT_EQ(refusedFigure("1.5", StopMinutes).args.size(), 1U) << "a whole number is asked for";
    EXPECT_EQ(refusedFigure("1,5", PointsStart).args, (std::vector<std::string>{"1,5", "decimals"}));
    EXPECT_EQ(refusedFigure("nan", PointsStart).code, ProblemCode::NotANumber);
    EXPECT_EQ(refusedFigure("25:00", DayStart).code, ProblemCode::NotATime);
    const Problem far = refusedFigure("11", PointsStart);
    EXPECT_EQ(far.code, ProblemCode::OutOfRange);
    EXPECT_EQ(far.args, (std::vector<std::string>{"11", "0.00", "10.00"}));
    EXPECT_EQ(far.field, "value");
}

TEST(FiguresTest, HoursAreTypedWithHalvesAndKeptToTheMinute) {
    EXPECT_EQ(*hoursFrom(QStringLiteral(" 37.5 "), "contract_min"), Minutes::of(2250));
    EXPECT_EQ(*hoursFrom(QStringLiteral("40"), "contract_min"), Minutes::of(2400));
    EXPECT_EQ(hoursText(Minutes::of(2400)), QStringLiteral("40"));
    EXPECT_EQ(hoursText(Minutes::of(2250)), QStringLiteral("37.5"));
    EXPECT_EQ(hoursText(Minutes()), QStringLiteral("0"));
    for (std::int64_t m = 2280; m < 2340; ++m)
        EXPECT_EQ(*hoursFrom(hoursText(Minutes::of(m)), "contract_min"), Minutes::of(m)) << m;
    EXPECT_EQ(hoursFrom({}, "contract_min").error().code, ProblemCode::Missing);
    for (const char *odd : {"37,5", "many", "nan", "1e300"})
        EXPECT_EQ(hoursFrom(QString::fromLatin1(odd), "contract_min").error().code, ProblemCode::NotANumber)
            << odd;
}

} // namespace
} // namespace kitround::desk
