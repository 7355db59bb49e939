#include "core/base/Id.h"
#include "core/base/Money.h"
#include "core/base/Quantity.h"

#include <gtest/gtest.h>

#include <type_traits>

namespace kitround {
namespace {

using PersonId = Id<struct PersonTag>;
using ThingId = Id<struct ThingTag>;

template <class A, class B>
concept Adds = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept Compares = requires(A a, B b) {
    a < b;
};
template <class A, class B>
concept Equals = requires(A a, B b) {
    a == b;
};

// What must not compile, does not.
static_assert(!std::is_convertible_v<PersonId, ThingId> && !std::is_constructible_v<PersonId, ThingId>);
static_assert(!std::is_convertible_v<std::int64_t, PersonId>, "a number is not an id by itself");
static_assert(!Equals<PersonId, ThingId> && Equals<PersonId, PersonId>);
static_assert(!Adds<PersonId, PersonId> && !Adds<PersonId, int>, "ids have no arithmetic");
static_assert(!std::is_convertible_v<Millilitres, Bottles> && !std::is_constructible_v<Millilitres, Bottles>);
static_assert(!std::is_convertible_v<int, Millilitres> && !std::is_constructible_v<Millilitres, int>);
static_assert(!Adds<Millilitres, Bottles> && Adds<Millilitres, Millilitres>);
static_assert(!Adds<Minutes, Days> && !Compares<Minutes, Days>, "a day is not 1440 minutes");
static_assert(!Adds<Eaches, Cases> && !Compares<Eaches, Cases>,
              "a case becomes eaches only by its pack size");
static_assert(!Adds<Money, int> && !Adds<Kits, Sessions>);

TEST(IdTest, IsUnsetUntilTheStoreGivesOne) {
    EXPECT_FALSE(PersonId().isSet());
    EXPECT_FALSE(PersonId(0).isSet());
    EXPECT_TRUE(PersonId(7).isSet());
    EXPECT_LT(PersonId(7), PersonId(8));
}

TEST(QuantityTest, CountsUpAndDown) {
    Millilitres volume = Millilitres::of(400);
    volume += Millilitres::of(150);
    EXPECT_EQ(volume.count(), 550);
    volume -= Millilitres::of(600);
    EXPECT_TRUE(volume.isNegative());
    EXPECT_EQ((-volume).count(), 50);
    EXPECT_EQ((Millilitres::of(500) * 3).count(), 1500);
    EXPECT_TRUE(Millilitres().isZero());
}

TEST(PackSizeTest, FewestCasesCoverTheNeed) {
    for (std::int64_t pack = 1; pack <= 12; ++pack)
        for (std::int64_t need = -3; need <= 60; ++need) {
            const PackSize size{Eaches::of(pack)};
            const Cases cases = casesCovering(Eaches::of(need), size);
            const std::int64_t held = toEaches(cases, size).count();
            EXPECT_GE(held, need) << need << " by " << pack;
            EXPECT_TRUE(cases.isZero() ? need <= 0 : held - pack < need) << need << " by " << pack;
        }
}

} // namespace
} // namespace kitround
