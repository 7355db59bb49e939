#include "core/forecast/backtest/UsePattern.h"

#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

using namespace kitround::forecast;
using namespace kitround::test;

namespace {

bool says(const CheckRow &row, const std::string &column, const std::string &part) {
    return row.at(column).find(part) != std::string::npos;
}

UsePattern patternIn(const CheckRow &row) { // "class: lumpy (sample), lumpy (population); ..."
    return says(row, "note", "class: smooth")         ? UsePattern::Smooth
           : says(row, "note", "class: intermittent") ? UsePattern::Intermittent
           : says(row, "note", "class: erratic")      ? UsePattern::Erratic
                                                      : UsePattern::Lumpy;
}

} // namespace

// Sources stand in each row of intermittent_classification.csv. Rows with n in the variance are our n - 1
// times (n - 1) / n.
TEST(UsePatternTest, ShapesAndPatternsMatchTheCheckValues) {
    int patterns = 0;
    for (const CheckRow &row : checkRows("intermittent_classification.csv", "CLS-")) {
        SCOPED_TRACE(row.at("id"));
        const double expected = std::stod(row.at("expected"));
        if (says(row, "quantity", "cut-off")) {
            EXPECT_EQ(says(row, "quantity", "ADI") ? kLongestOftenInterval : kMostAlikeVariation, expected);
            continue;
        }
        const UseShape shape = shapeOf(seriesIn(row));
        const auto n = static_cast<double>(shape.uses);
        const double got = says(row, "quantity", "ADI")          ? shape.interval
                           : says(row, "quantity", "population") ? shape.sizeVariation * (n - 1) / n
                                                                 : shape.sizeVariation;
        EXPECT_NEAR(got, expected, tolerance(row));
        if (says(row, "note", "class: ")) {
            EXPECT_EQ(patternOf(shape), patternIn(row));
            ++patterns;
        }
    }
    EXPECT_EQ(patterns, 4);
}

TEST(UsePatternTest, ValuesOnTheCutOffsAreOftenAndAlike) {
    EXPECT_EQ(patternOf({10, 1.32, 0.49}), UsePattern::Smooth);
    EXPECT_EQ(patternOf({10, 1.33, 0.49}), UsePattern::Intermittent);
    EXPECT_EQ(patternOf({10, 1.32, 0.50}), UsePattern::Erratic);
    EXPECT_EQ(patternOf({10, 1.33, 0.50}), UsePattern::Lumpy);
}

TEST(UsePatternTest, NothingUsedIsSeldomAndOneUseHasNoSpread) {
    EXPECT_EQ(patternOf(shapeOf(std::vector<double>(30, 0.0))), UsePattern::Intermittent);
    const UseShape one = shapeOf(std::vector<double>{0, 0, 7, 0});
    EXPECT_EQ(one.uses, 1);
    EXPECT_EQ(one.interval, 4.0);
    EXPECT_EQ(one.sizeVariation, 0.0);
}
