#include "core/base/Result.h"

#include <gtest/gtest.h>

#include <memory>
#include <string>

namespace kitround {
namespace {

Problem problemAt(std::string field) {
    return {ProblemCode::Missing, std::move(field), {}, 0, 0, {}};
}

TEST(ResultTest, HoldsAValueOrAProblem) {
    const Result<int> good = 7;
    ASSERT_TRUE(good);
    EXPECT_EQ(*good, 7);
    const Result<int> bad = problemAt("code");
    ASSERT_FALSE(bad.has_value());
    EXPECT_EQ(bad.error().field, "code");
}

TEST(ResultTest, GivesItsValueAway) {
    Result<std::unique_ptr<int>> held = std::make_unique<int>(3);
    const std::unique_ptr<int> taken = *std::move(held);
    EXPECT_EQ(*taken, 3);
}

TEST(ResultTest, OfNothingIsFineUntilAProblemComes) {
    const Result<void> fine;
    EXPECT_TRUE(fine);
    const Result<void> bad = problemAt("file");
    EXPECT_FALSE(bad);
    EXPECT_EQ(bad.error().code, ProblemCode::Missing);
}

TEST(ResultTest, ATextValueIsNotTakenForAProblem) {
    const Result<std::string> text = std::string("plain");
    ASSERT_TRUE(text);
    EXPECT_EQ(text->size(), 5U);
}

TEST(ResultDeathTest, AskingForWhatIsNotThereStopsInEveryBuild) {
    const Result<int> bad = problemAt("code");
    EXPECT_DEATH(static_cast<void>(bad.value()), "internal check failed");
    const Result<int> good = 1;
    EXPECT_DEATH(static_cast<void>(good.error()), "internal check failed");
}

TEST(ProblemTest, JoinedProblemsComeApartInOrder) {
    const Problem one = joined({problemAt("a"), problemAt("b")});
    const Problem all = joined({one, problemAt("c")});
    const Problems flat = flattened(all);
    ASSERT_EQ(flat.size(), 3U);
    EXPECT_EQ(flat[0].field, "a");
    EXPECT_EQ(flat[1].field, "b");
    EXPECT_EQ(flat[2].field, "c");
    for (const Problem &p : flat)
        EXPECT_TRUE(p.also.empty());
}

} // namespace
} // namespace kitround
