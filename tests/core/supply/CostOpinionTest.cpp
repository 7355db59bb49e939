// What costs alone would say of a shelf: by hand where it can be, else by which way it has to go.
#include "core/supply/CostOpinion.h"
#include "tests/core/supply/HandMade.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::supply {
namespace {

using test::Home;
using test::SmallAgency;
using test::steadyHome;

constexpr Date kMonday = Date::of(2026, 3, 2);

// Six homes that use a kit a day, nobody new; the supplier's offer is in the agency.
struct Shelf {
    Shelf() {
        agency.edit([](Snapshot &s) { s.settings.set(SettingKey::ReferralsPerWeekHundredths, 0); });
        for (int i = 0; i < 6; ++i) {
            const Home home = agency.addHome();
            agency.order(home, test::everyDays(1, kMonday));
            forecasts.push_back(steadyHome(home.catheter, home.patient, SmallAgency::kKit500, 3 * i, 1, 0.9));
        }
    }
    std::optional<CostOpinion> opinion(const std::vector<double> &left = {}) const {
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        const StoreroomModel model(index, forecasts);
        TermsBook terms(index);
        const auto offers = offersFor(index, SmallAgency::kKit500);
        return costOpinion(snapshot.settings, model, SmallAgency::kKit500, terms.of(SmallAgency::kSupplier),
                           offers.empty() ? nullptr : offers.front(), left);
    }
    void set(SettingKey key, std::int64_t value) {
        agency.edit([=](Snapshot &s) { s.settings.set(key, value); });
    }
    SmallAgency agency{kMonday};
    std::vector<forecast::ItemForecast> forecasts;
};

TEST(CostOpinionTest, ShipmentsHaveTheMeanAndTheVarianceAskedFor) {
    for (const auto &[mean, variance] : {std::pair(2.0, 11.0), {0.3, 4.4}, {5.0, 5.0}, {1.0, 30.0}}) {
        const Shipments made = shipmentsOf(mean, variance);
        const double second = made.size.variance() + made.size.mean() * made.size.mean();
        EXPECT_NEAR(made.rate * made.size.mean(), mean, 1e-12);
        EXPECT_NEAR(made.rate * second, variance, 1e-9) << mean << ' ' << variance;
    }
    // Steadier than pieces one by one can come: they come one by one.
    EXPECT_NEAR(shipmentsOf(2, 0.5).size.mean(), 1, 1e-12);
    EXPECT_EQ(shipmentsOf(0, 0).rate, 0);
}

TEST(CostOpinionTest, ADearerOrderIsALargerOneAndALongerWaitAHigherShelf) {
    Shelf shelf;
    const auto plain = shelf.opinion();
    ASSERT_TRUE(plain);
    EXPECT_GT(plain->watched.most, plain->watched.least);
    EXPECT_GT(plain->perDay, 0);
    shelf.set(SettingKey::OrderCostMinor, 40 * AgencySettings()[SettingKey::OrderCostMinor]);
    const auto dear = shelf.opinion();
    EXPECT_GT(dear->watched.most - dear->watched.least, plain->watched.most - plain->watched.least);
    EXPECT_LE(dear->watched.least, plain->watched.least) << "fewer orders, fewer times near the end";
    shelf.set(SettingKey::OrderCostMinor, AgencySettings()[SettingKey::OrderCostMinor]);
    shelf.agency.edit([](Snapshot &s) { s.suppliers.front().promisedLead = Days::of(20); });
    EXPECT_GT(shelf.opinion()->watched.least, plain->watched.least);
}

// Many homes: the exact algorithm and the power approximation meet, so that nothing jumps where one takes
// over.
TEST(CostOpinionTest, LargeDemandIsApproximatedCloseToWhatIsExact) {
    const auto withHomes = [](int homes) {
        Shelf shelf;
        for (int i = 6; i < homes; ++i) {
            const Home home = shelf.agency.addHome();
            shelf.agency.order(home, test::everyDays(1, kMonday));
            shelf.forecasts.push_back(
                steadyHome(home.catheter, home.patient, SmallAgency::kKit500, 0, 1, 0.9));
        }
        return shelf.opinion();
    };
    const auto exact = withHomes(32), large = withHomes(120);
    ASSERT_TRUE(exact && large);
    ASSERT_LT(exact->perDay, 60);
    ASSERT_GT(large->perDay, 60);
    const auto daysOf = [](const CostOpinion &o, std::int64_t level) {
        return static_cast<double>(level) / o.perDay;
    };
    EXPECT_NEAR(daysOf(*large, large->watched.least), daysOf(*exact, exact->watched.least), 4);
    EXPECT_GT(large->watched.most, large->watched.least);
}

TEST(CostOpinionTest, OrdersComeOnlyForWeeksThatRunShort) {
    Shelf shelf;
    const auto none = shelf.opinion({30, 20, 10});
    EXPECT_EQ(none->orders.orders, (std::vector<double>{0, 0, 0}));
    // Five short in the second week, nine more in the third: one order where keeping nine for a week costs
    // less than an order, two where an order costs next to nothing.
    EXPECT_EQ(shelf.opinion({10, -5, -14})->orders.orders, (std::vector<double>{0, 14, 0}));
    shelf.set(SettingKey::OrderCostMinor, 1);
    shelf.set(SettingKey::HoldingPermilleAYear, 2000);
    EXPECT_EQ(shelf.opinion({10, -5, -14})->orders.orders, (std::vector<double>{0, 5, 9}));
}

TEST(CostOpinionTest, WithoutDemandPriceOrSellerThereIsNone) {
    Shelf shelf;
    shelf.set(SettingKey::HoldingPermilleAYear, 0);
    EXPECT_FALSE(shelf.opinion());
    shelf.set(SettingKey::HoldingPermilleAYear, 200);
    EXPECT_TRUE(shelf.opinion());
    shelf.agency.edit([](Snapshot &s) { s.supplierItems.clear(); });
    EXPECT_FALSE(shelf.opinion());
    Shelf unused;
    unused.forecasts.clear();
    EXPECT_FALSE(unused.opinion());
}

} // namespace
} // namespace kitround::supply
