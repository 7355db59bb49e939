#include "core/forecast/UnitsTable.h"

#include <gtest/gtest.h>

#include <numeric>

using namespace kitround;
using namespace kitround::forecast;

namespace {

double chanceIn(const RowTable::Row &row, std::size_t n) {
    return n < row.least || n >= row.end() ? 0.0 : row.p[n - row.least];
}

// Units of n sessions one convolution after another, level by level.
Pmf unitsBySum(const ItemUse &use, std::size_t n) {
    const auto sumOf = [n](const Pmf &perSession) {
        Pmf sum;
        for (std::size_t i = 0; i < n; ++i)
            sum = sum.plus(perSession);
        return sum;
    };
    if (use.levels.empty())
        return sumOf(use.perSession);
    std::vector<Pmf> levels;
    std::vector<double> weights;
    for (const UnitLevel &level : use.levels) {
        levels.push_back(sumOf(level.perSession));
        weights.push_back(level.weight);
    }
    return Pmf::mixture(levels, weights);
}

ItemUse useOf(std::vector<UnitLevel> levels) {
    std::vector<Pmf> parts;
    std::vector<double> weights;
    for (const UnitLevel &level : levels) {
        parts.push_back(level.perSession);
        weights.push_back(level.weight);
    }
    return {ItemId(1), Pmf::mixture(parts, weights), std::move(levels), 1};
}

ItemUse fourLevels() {
    return useOf({{0.25, Pmf({0.0, 0.9, 0.1})},
                  {0.25, Pmf({0.0, 0.6, 0.4})},
                  {0.25, Pmf({0.1, 0.2, 0.6, 0.1})},
                  {0.25, Pmf({0.0, 0.0, 0.7, 0.3})}});
}

void expectRows(UnitsTable &table, const ItemUse &use, std::size_t most) {
    for (std::size_t n = 0; n <= most; ++n) {
        const Pmf expected = unitsBySum(use, n);
        const RowTable::Row row = table.row(n);
        for (std::size_t u = 0; u < expected.size() + 8; ++u)
            ASSERT_NEAR(chanceIn(row, u), expected[u], 1e-13) << n << " sessions, " << u << " units";
    }
}

} // namespace

TEST(UnitsTableTest, EachRowIsTheSumOfItsSessionsByLevel) {
    UnitsTable table;
    const ItemUse levels = fourLevels();
    table.begin(levels);
    expectRows(table, levels, 84);
    const ItemUse none{ItemId(1), Pmf({0.02, 0.97, 0.01}), {}, 1}; // begins afresh, narrower
    table.begin(none);
    expectRows(table, none, 84);
    const ItemUse two = useOf({{0.3, Pmf({0.5, 0.5})}, {0.7, Pmf({0.0, 1.0})}});
    table.begin(two);
    expectRows(table, two, 30);
}

TEST(UnitsTableTest, ASessionMayUseManyUnitsOrNone) {
    UnitsTable table;
    std::vector<double> many(13, 0.0);
    many[0] = 0.5;
    many[5] = 0.25;
    many[12] = 0.25;
    const ItemUse wide = useOf({{0.5, Pmf(many)}, {0.5, Pmf({1.0})}});
    table.begin(wide);
    expectRows(table, wide, 12);
    const ItemUse nothing{ItemId(1), Pmf(), {}, 0};
    table.begin(nothing);
    expectRows(table, nothing, 9);
}

// What is left out at the ends of the rows is less than any figure shows, and is not lost from the middle.
TEST(UnitsTableTest, EveryRowIsWhole) {
    UnitsTable table;
    table.begin(fourLevels());
    for (std::size_t n = 0; n <= 120; ++n) {
        const RowTable::Row row = table.row(n);
        EXPECT_NEAR(std::accumulate(row.p.begin(), row.p.end(), 0.0), 1.0, 1e-12) << n;
    }
    EXPECT_LT(table.row(120).p.size(), 300U) << "of 361 places those that chances reach";
}

TEST(UnitsTableTest, AMixIsTheSumOverTheNumberOfSessions) {
    UnitsTable table;
    const ItemUse use = fourLevels();
    table.begin(use);
    const std::vector counts{0.125, 0.25, 0.5, 0.125};
    RowTable mixed;
    for (const std::size_t least : {0U, 1U, 2U, 3U, 7U, 40U, 5U}) { // within a four, over its end, and back
        const std::size_t at = table.addMix({least, counts}, mixed);
        std::vector<Pmf> parts;
        for (std::size_t k = 0; k < counts.size(); ++k)
            parts.push_back(unitsBySum(use, least + k));
        const Pmf expected = Pmf::mixture(parts, counts);
        for (std::size_t u = 0; u < expected.size() + 8; ++u)
            ASSERT_NEAR(chanceIn(mixed[at], u), expected[u], 1e-13) << "from " << least << ", " << u;
    }
    EXPECT_EQ(mixed.size(), 7U);
}

TEST(RowTableTest, ARowMadeInPlaceIsTrimmedAndLeavesTheOthers) {
    RowTable table;
    table.add({3, std::vector{0.5, 0.5}});
    const std::span<double> room = table.room(21);
    for (const double value : room)
        ASSERT_EQ(value, 0.0);
    room[9] = 0.75;
    room[10] = 0.25;
    ASSERT_EQ(table.addFromRoom(100), 1U);
    EXPECT_EQ(chanceIn(table[1], 109), 0.75);
    EXPECT_EQ(chanceIn(table[1], 110), 0.25);
    EXPECT_GE(table[1].least, 106U);
    EXPECT_LE(table[1].end(), 114U);
    EXPECT_EQ(table[0].least, 3U);
    EXPECT_EQ(table[0].p[1], 0.5);
}
