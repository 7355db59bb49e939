#include "core/records/Validate.h"
#include "tests/reference/CheckValues.h"

#include <gtest/gtest.h>

namespace kitround {
namespace {

TEST(GtinReferenceTest, CheckDigitsAreThoseOfGs1) {
    for (const test::CheckRow &row : test::checkValues("gtin-check-digits.csv")) {
        const std::string &number = row.at("number");
        if (number.empty())
            continue; // no article number at all is allowed
        Item item;
        item.code = item.name = "x";
        item.bottleVolume = Millilitres::of(500);
        // Shorter forms stand in fourteen digits with zeros before them; the check digit is the same.
        item.gtin = std::string(14 - std::min<std::size_t>(14, number.size()), '0') + number;
        const Problems found = validate(item);
        if (row.at("verdict") == "valid") {
            EXPECT_TRUE(found.empty()) << row.at("id") << " " << debugText(found.front());
            continue;
        }
        ASSERT_EQ(found.size(), 1U) << row.at("id");
        EXPECT_EQ(found[0].field, "gtin");
        if (row.at("verdict") == "bad check digit") {
            EXPECT_EQ(found[0].code, ProblemCode::Conflict) << row.at("id");
            EXPECT_EQ(found[0].args.at(1), row.at("right_check_digit")) << row.at("id");
        }
    }
}

} // namespace
} // namespace kitround
