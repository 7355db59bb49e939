#include "core/calendar/VisitNotation.h"

#include "core/base/Random.h"
#include "core/records/Validate.h"

#include <gtest/gtest.h>

#include <charconv>

namespace kitround::calendar {
namespace {

VisitSegment scheduled(int least, int most, int weeks) {
    return {least, most, weeks, false, {}};
}
VisitSegment prn(int visits, std::string reason = {}) {
    return {0, visits, 0, true, std::move(reason)};
}

TEST(VisitNotationTest, ReadsTheTradesForms) {
    struct Row {
        const char *text;
        std::vector<VisitSegment> expected;
    };
    const Row rows[] = {
        {"2W4", {scheduled(2, 2, 4)}},
        {"2w4", {scheduled(2, 2, 4)}},
        {"2W4, 1W5, 2PRN", {scheduled(2, 2, 4), scheduled(1, 1, 5), prn(2)}},
        {"2w4,1w5,2prn", {scheduled(2, 2, 4), scheduled(1, 1, 5), prn(2)}},
        {" 2 W 4 ; 1W5 ", {scheduled(2, 2, 4), scheduled(1, 1, 5)}},
        {"2w3 1w6", {scheduled(2, 2, 3), scheduled(1, 1, 6)}},
        {"2-3W4", {scheduled(2, 3, 4)}},
        {"2 - 3 w 4", {scheduled(2, 3, 4)}},
        {"2\xe2\x80\x93"
         "3W4",
         {scheduled(2, 3, 4)}},
        {"2-2W4", {scheduled(2, 2, 4)}},
        {"14W26", {scheduled(14, 14, 26)}},
        {"3W1 + 3 PRN for leak, 1W2", {scheduled(3, 3, 1), prn(3, "leak"), scheduled(1, 1, 2)}},
        {"2PRN (leak)", {prn(2, "leak")}},
        {"2prn(wet dressing, leak)", {prn(2, "wet dressing, leak")}},
        {"2PRN ( caf\xc3\xa9 )", {prn(2, "caf\xc3\xa9")}},
        {"1W1 2PRN 1W2", {scheduled(1, 1, 1), prn(2), scheduled(1, 1, 2)}},
        {"002W004", {scheduled(2, 2, 4)}},
        {"20PRN", {prn(20)}},
    };
    for (const Row &row : rows) {
        const auto read = parseVisitOrder(row.text);
        ASSERT_TRUE(read) << row.text << ": " << debugText(read.error());
        EXPECT_EQ(*read, row.expected) << row.text;
    }
}

TEST(VisitNotationTest, PointsAtTheCharacterThatDoesNotFit) {
    struct Row {
        const char *text;
        int offset;
        std::string_view wanted;
    };
    const std::string longReason = "1PRN (" + std::string(201, 'x') + ")";
    const Row rows[] = {
        {"", 0, expected::kVisits},
        {"   ", 3, expected::kVisits},
        {"W4", 0, expected::kVisits},
        {"two a week", 0, expected::kVisits},
        {"-2W4", 0, expected::kVisits},
        {"2", 1, expected::kLetter},
        {"2X4", 1, expected::kLetter},
        {"2 per week", 2, expected::kLetter},
        {"2W", 2, expected::kWeeks},
        {"2W4, 1W", 7, expected::kWeeks},
        {"2W0", 2, expected::kWeeks},
        {"2W27", 2, expected::kWeeks},
        {"0W4", 0, expected::kVisits},
        {"15W4", 0, expected::kVisits},
        {"2W4, 15W4", 5, expected::kVisits},
        {"99999999999999999999W4", 0, expected::kVisits},
        {"2W99999999999999999999", 2, expected::kWeeks},
        {"3-2W4", 2, expected::kUpperVisits},
        {"2-15W4", 2, expected::kUpperVisits},
        {"2-W4", 2, expected::kUpperVisits},
        {"0-2W4", 0, expected::kVisits},
        {"1-2PRN", 3, expected::kWeek},
        {"0PRN", 0, expected::kAsNeeded},
        {"21PRN", 0, expected::kAsNeeded},
        {"2PRM", 1, expected::kLetter},
        {"2PRN (leak", 10, expected::kClose},
        {"2PRN ()", 6, expected::kReason},
        {"2PRN (a(b))", 7, expected::kReason},
        {"2PRN (a\nb)", 7, expected::kReason},
        {"2PRN for", 8, expected::kReason},
        {"2PRN forleak", 8, expected::kReason},
        {"2PRN for a)", 10, expected::kReason},
        {longReason.c_str(), 6, expected::kReason},
        {"2W4,", 4, expected::kVisits},
        {"2W4,,1W5", 4, expected::kVisits},
        {"2W4. 1W5", 3, expected::kSeparator},
        {"2W4 then 1W5", 4, expected::kSeparator},
        {"2W4x", 3, expected::kSeparator},
        {"2PRN (caf\xc3\xa9) x", 12, expected::kSeparator}, // characters, not bytes
    };
    for (const Row &row : rows) {
        const auto read = parseVisitOrder(row.text);
        ASSERT_FALSE(read) << row.text;
        const Problem &problem = read.error();
        EXPECT_EQ(problem.code, ProblemCode::BadNotation);
        ASSERT_EQ(problem.args.size(), 3U);
        EXPECT_EQ(problem.args[0], row.text);
        EXPECT_EQ(problem.args[1], std::to_string(row.offset)) << row.text;
        EXPECT_EQ(problem.args[2], row.wanted) << row.text;
    }
}

TEST(VisitNotationTest, TakesTwentySegmentsAndNotOneMore) {
    std::string text = "1W1";
    for (int i = 1; i < 20; ++i)
        text += ", 1W1";
    EXPECT_TRUE(parseVisitOrder(text));
    const auto read = parseVisitOrder(text + ", 1W1");
    ASSERT_FALSE(read);
    EXPECT_EQ(read.error().args[2], expected::kEnd);
    EXPECT_EQ(read.error().args[1], std::to_string(text.size()));
}

TEST(VisitNotationTest, PrintsTheCanonicalForm) {
    EXPECT_EQ(printVisitOrder({scheduled(2, 2, 4), scheduled(1, 3, 5), prn(2), prn(1, "leak")}),
              "2W4, 1-3W5, 2PRN, 1PRN (leak)");
    EXPECT_EQ(printVisitOrder({}), "");
}

TEST(VisitNotationTest, TotalsLeaveAsNeededApart) {
    EXPECT_EQ(totals({scheduled(2, 3, 4), scheduled(1, 1, 5), prn(2)}), (VisitTotals{13, 17, 9, 2}));
    EXPECT_EQ(totals({}), VisitTotals{});
}

std::string randomReason(Random &random) {
    static const std::string_view pieces[] = {"leak", "wet dressing", "a, b",        "x;y",
                                              "1W2",  "for",          "caf\xc3\xa9", "+3",
                                              "-",    "PRN",          "\"quoted\"",  "\xe2\x80\x93"};
    std::string reason;
    for (std::int64_t i = random.between(1, 4); i > 0; --i)
        reason.append(reason.empty() ? "" : " ").append(pieces[random.below(std::size(pieces))]);
    return reason;
}

std::vector<VisitSegment> randomSegments(Random &random) {
    std::vector<VisitSegment> segments;
    for (std::int64_t i = random.between(1, 20); i > 0; --i) {
        if (random.chance(0.3)) {
            segments.push_back(
                prn(int(random.between(1, 20)), random.chance(0.5) ? randomReason(random) : ""));
        } else {
            const int least = int(random.between(1, 14));
            segments.push_back(scheduled(least, int(random.between(least, 14)), int(random.between(1, 26))));
        }
    }
    return segments;
}

TEST(VisitNotationPropertyTest, WhatIsPrintedReadsBackTheSame) {
    Random random(20261125);
    for (int round = 0; round < 5000; ++round) {
        const auto segments = randomSegments(random);
        const std::string text = printVisitOrder(segments);
        const auto read = parseVisitOrder(text);
        ASSERT_TRUE(read) << text << ": " << debugText(read.error());
        ASSERT_EQ(*read, segments) << text;
    }
}

// Whatever the bytes: an answer that a valid order could hold, or a place inside the text.
void expectSoundAnswer(const std::string &text) {
    const auto read = parseVisitOrder(text);
    if (!read) {
        const Problem &problem = read.error();
        ASSERT_EQ(problem.args.size(), 3U);
        std::size_t offset = text.size() + 1;
        const std::string &digits = problem.args[1];
        std::from_chars(digits.data(), digits.data() + digits.size(), offset);
        ASSERT_LE(offset, text.size());
        ASSERT_FALSE(problem.args[2].empty());
        return;
    }
    VisitOrder order;
    order.patient = PatientId(1);
    order.segments = *read;
    const Problems problems = validate(order);
    ASSERT_TRUE(problems.empty()) << text << ": " << debugText(problems.front());
    const auto again = parseVisitOrder(printVisitOrder(*read));
    ASSERT_TRUE(again) << text;
    ASSERT_EQ(*again, *read) << text;
}

TEST(VisitNotationFuzzTest, AnyBytesGetASoundAnswer) {
    Random random(99);
    for (int round = 0; round < 20000; ++round) {
        std::string text;
        for (std::int64_t i = random.between(0, 40); i > 0; --i)
            text += static_cast<char>(random.below(256));
        expectSoundAnswer(text);
    }
}

TEST(VisitNotationFuzzTest, DamagedOrdersGetASoundAnswer) {
    static constexpr std::string_view kAlphabet = "0123456789WwPRNprn-,;+() \tforx\xe2\x80\x93\n";
    Random random(100);
    int refused = 0;
    for (int round = 0; round < 20000; ++round) {
        std::string text = printVisitOrder(randomSegments(random));
        for (std::int64_t i = random.between(1, 4); i > 0 && !text.empty(); --i) {
            const std::size_t at = random.below(text.size());
            const char c = kAlphabet[random.below(kAlphabet.size())];
            switch (random.below(4)) {
            case 0:
                text[at] = c;
                break;
            case 1:
                text.insert(at, 1, c);
                break;
            case 2:
                text.erase(at, 1);
                break;
            default:
                text.resize(at);
            }
        }
        refused += parseVisitOrder(text) ? 0 : 1;
        expectSoundAnswer(text);
    }
    EXPECT_GT(refused, 2000); // the damage is real
    EXPECT_LT(refused, 19000);
}

} // namespace
} // namespace kitround::calendar
