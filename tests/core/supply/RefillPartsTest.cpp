// The rules a refill is made of, each by itself: its quantity, what stands in, and the courier's days.
#include "core/base/Random.h"
#include "core/supply/DeliveryDays.h"
#include "core/supply/RefillQuantity.h"
#include "core/supply/Substitutes.h"

#include <gtest/gtest.h>

namespace kitround::supply {
namespace {

RefillNeed monthEveryOtherDay(std::int64_t stock) {
    RefillNeed need;
    need.stock = Eaches::of(stock);
    need.useToNext = Eaches::of(15);
    need.plainHeld = Eaches::of(15);
    need.pack = {Eaches::of(10)};
    return need;
}

// Common practice: 15 sets are 30 days every other day; two packs of 10 would be 40 days, over a 30-day cap.
TEST(RefillQuantityTest, RoundsDownToWholeCasesWhereRoundingUpPassesTheDaysHeld) {
    RefillNeed need = monthEveryOtherDay(0);
    EXPECT_EQ(refillQuantity(need).quantity, Eaches::of(15));
    need.wholeCases = true;
    const RefillAmount amount = refillQuantity(need);
    EXPECT_EQ(amount.exactNeed, Eaches::of(15));
    EXPECT_EQ(amount.quantity, Eaches::of(10));
    EXPECT_EQ(amount.limitedBy, RefillLimit::CasePack);
    need.plainHeld = Eaches::of(20); // 40 days may be held
    EXPECT_EQ(refillQuantity(need).quantity, Eaches::of(20));
    EXPECT_EQ(refillQuantity(need).limitedBy, RefillLimit::None);
}

TEST(RefillQuantityTest, OpensACaseWhereOneWouldPassTheDaysHeld) {
    RefillNeed need = monthEveryOtherDay(9);
    need.wholeCases = true;
    const RefillAmount amount = refillQuantity(need);
    EXPECT_EQ(amount.quantity, Eaches::of(6));
    EXPECT_EQ(amount.limitedBy, RefillLimit::CasePack);
}

TEST(RefillQuantityTest, ATaperingPatientIsNotSentMoreThanTheForecastsNinetieth) {
    RefillNeed need = monthEveryOtherDay(2);
    need.mostUseToNext = Eaches::of(7);
    const RefillAmount amount = refillQuantity(need);
    EXPECT_EQ(amount.quantity, Eaches::of(5));
    EXPECT_EQ(amount.limitedBy, RefillLimit::TaperExpected);
}

TEST(RefillQuantityTest, MoreStockNeverMeansALargerQuantity) {
    for (std::uint64_t seed = 1; seed <= 500; ++seed) {
        Random random(seed);
        const auto any = [&](std::uint64_t most) {
            return Eaches::of(static_cast<std::int64_t>(random.below(most)));
        };
        RefillNeed need;
        need.useBefore = any(15);
        need.useToNext = need.useBefore + any(40);
        need.buffer = any(5);
        need.plainBefore = any(15);
        need.plainHeld = any(35);
        need.bufferCountsAsHeld = random.below(2) == 0;
        if (random.below(2) == 0)
            need.mostUseToNext = any(40);
        need.pack = {Eaches::of(static_cast<std::int64_t>(1 + random.below(12)))};
        need.wholeCases = random.below(2) == 0;
        Eaches before = Eaches::of(1000);
        for (std::int64_t stock = 0; stock < 60; ++stock) {
            need.stock = Eaches::of(stock);
            const RefillAmount amount = refillQuantity(need);
            EXPECT_GE(amount.quantity.count(), 0);
            EXPECT_LE(amount.quantity, before) << "seed " << seed << " stock " << stock;
            before = amount.quantity;
        }
    }
}

// Rows K06 and K07 of the worked checks of the trade. Common practice: by volume, one 1000 is two 500; two
// connections, one dressing pack a session.
TEST(SubstitutesTest, TenLargeSessionsTakeTwentySmallBottlesAndTenDressingPacks) {
    const std::vector<Millilitres> large(6, Millilitres::of(700));
    const auto need = substitutionNeed(Sessions::of(10), large, Millilitres::of(500), Eaches::of(2));
    EXPECT_EQ(need, (SubstitutionNeed{Bottles::of(20), Eaches::of(10), 20}));
    const std::vector<Millilitres> small(6, Millilitres::of(500));
    EXPECT_EQ(substitutionNeed(Sessions::of(10), small, Millilitres::of(500), Eaches::of(2)).bottles,
              Bottles::of(10));
    EXPECT_EQ(substitutionNeed(Sessions::of(10), {}, Millilitres::of(500), Eaches::of(2)).bottles,
              Bottles::of(20));
}

TEST(SubstitutesTest, TheMeanVolumeDoesNotHideBottles) {
    // K05: 400, 400, 700 mL: mean 500 would be 3 bottles, true is 4.
    const std::vector<Millilitres> volumes = {Millilitres::of(400), Millilitres::of(400),
                                              Millilitres::of(700)};
    EXPECT_EQ(substitutionNeed(Sessions::of(3), volumes, Millilitres::of(500), Eaches::of(2)).bottles,
              Bottles::of(4));
}

TEST(DeliveryDaysTest, TheCourierMissesWeekendsHolidaysAndTheCutOff) {
    AgencySettings settings;                    // Monday to Friday, one day, cut-off 14:00
    const Date thursday = Date::of(2026, 7, 2); // Friday 3 July is the observed holiday
    const CourierCalendar morning(settings, {thursday, Minutes::of(9 * 60)}, Days::of(84));
    EXPECT_EQ(morning.earliest(), Date::of(2026, 7, 6));
    const CourierCalendar afternoon(settings, {thursday, Minutes::of(14 * 60)}, Days::of(84));
    EXPECT_EQ(afternoon.earliest(), Date::of(2026, 7, 7));
    EXPECT_EQ(morning.handOverFor(Date::of(2026, 7, 7)), Date::of(2026, 7, 6));
    settings.ownHolidays = {Date::of(2026, 7, 6)};
    const CourierCalendar closed(settings, {thursday, Minutes::of(9 * 60)}, Days::of(84));
    EXPECT_EQ(closed.earliest(), Date::of(2026, 7, 7));
    settings.set(SettingKey::CourierDays, 0);
    EXPECT_FALSE(CourierCalendar(settings, {thursday, Minutes::of(0)}, Days::of(84)).earliest());
}

} // namespace
} // namespace kitround::supply
