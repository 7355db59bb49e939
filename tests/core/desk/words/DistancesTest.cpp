#include "core/desk/words/Distances.h"
#include "core/desk/words/Words.h"

#include <gtest/gtest.h>

namespace kitround::desk {
namespace {

constexpr auto kMiles = DistanceUnit::Miles;
constexpr auto kKilometres = DistanceUnit::Kilometres;

std::int64_t metres(const char *text, DistanceUnit unit) {
    const auto read = distanceFrom(QString::fromUtf8(text), unit, "driven_m");
    EXPECT_TRUE(read) << text;
    return read && *read ? (*read)->count() : -1;
}
Problem problem(const char *text) {
    const auto read = distanceFrom(QString::fromUtf8(text), kMiles, "driven_m");
    EXPECT_FALSE(read) << text;
    return read ? Problem{} : read.error();
}

TEST(DistancesTest, ANumberIsReadInTheAgencysUnitUnlessItNamesAnother) {
    EXPECT_EQ(metres("12.4", kKilometres), 12400);
    EXPECT_EQ(metres("12,4", kKilometres), 12400);
    EXPECT_EQ(metres("7.7", kMiles), 12392); // 7.7 x 1609.344 = 12391.95
    EXPECT_EQ(metres("7.7 mi", kKilometres), 12392);
    EXPECT_EQ(metres("12.4 km", kMiles), 12400);
    EXPECT_EQ(metres(" 3 Miles ", kKilometres), 4828);
    EXPECT_EQ(metres("0", kMiles), 0);
    EXPECT_EQ(metres("5.", kKilometres), 5000);
    EXPECT_EQ(metres("1.10", kKilometres), 1100);
    EXPECT_EQ(metres("", kMiles), -1) << "not written down is not zero";
}

TEST(DistancesTest, WhatWasTypedComesBackAsItWasTyped) {
    for (const DistanceUnit unit : {kMiles, kKilometres})
        for (int hundredths = 0; hundredths < 30000; hundredths += 7) {
            const QString typed = QString::number(hundredths / 100.0, 'f', 2);
            const auto read = distanceFrom(typed, unit, "driven_m");
            ASSERT_TRUE(read && *read);
            QString shown = distanceText(**read, unit);
            EXPECT_DOUBLE_EQ(shown.section(u' ', 0, 0).toDouble(), hundredths / 100.0) << typed.toStdString();
        }
    EXPECT_EQ(distanceText(Metres::of(12392), kMiles), QStringLiteral("7.7 mi"));
    EXPECT_EQ(distanceText(Metres::of(12400), kKilometres), QStringLiteral("12.4 km"));
    EXPECT_EQ(aboutDistanceText(Metres::of(12500), kKilometres), QStringLiteral("13 km"));
    EXPECT_EQ(aboutDistanceText(Metres::of(12500), kMiles), QStringLiteral("8 mi"));
    EXPECT_EQ(oneOf(kMiles), Metres::of(1609));
}

TEST(DistancesTest, NothingIsRoundedAwayAndNonsenseIsToldFromANumber) {
    EXPECT_EQ(problem("7.123").args.front(), "too_fine");
    EXPECT_EQ(metres("7.120", kKilometres), 7120) << "a zero says nothing more";
    EXPECT_EQ(problem("-3").code, ProblemCode::Negative);
    for (const char *text : {"far", "12 leagues", "1.2.3", "12 km 400", "km"})
        EXPECT_EQ(problem(text).args.front(), "not_a_distance") << text;
    EXPECT_TRUE(words(problem("far")).contains(QStringLiteral("7.7 mi")))
        << words(problem("far")).toStdString();
}

} // namespace
} // namespace kitround::desk
