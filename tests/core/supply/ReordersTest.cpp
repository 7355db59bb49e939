#include "core/supply/Reorders.h"
#include "core/supply/LeadTimes.h"
#include "core/supply/OrderTerms.h"
#include "core/supply/Outdates.h"
#include "tests/core/supply/HandMade.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>

namespace kitround::supply {
namespace {

using forecast::Pmf;
using test::Home;
using test::poisson;
using test::SmallAgency;
using test::steadyHome;

const Date kMonday = Date::of(2026, 3, 2);
constexpr ItemId kKit = SmallAgency::kKit500;

// ROP formula d L + z sqrt(L s_d^2 + d^2 s_L^2) (e.g. Silver, Pyke and Peterson, from memory); computed
// values. Rows K13 and K14 of the worked checks of the trade are the first three and the last.
TEST(LeadTimesTest, TheTextbookReorderPointAgreesWithWorkedValues) {
    EXPECT_NEAR(textbookSafetyStock(12, 4, 5, 1, 1.645), 24.62, 0.01);
    EXPECT_NEAR(textbookReorderPoint(12, 4, 5, 1, 1.645), 84.62, 0.01);
    EXPECT_NEAR(ruleOfThumbSafetyStock(12, 5), 23.24, 0.01); // inventory note for hospitals
    // Taylor, Introduction to Management Science, ch. 16 (inputs read; 448.5 from memory).
    EXPECT_NEAR(textbookReorderPoint(30, 5, 10, 0, 1.65), 326.1, 0.05);
    EXPECT_NEAR(textbookReorderPoint(30, 0, 10, 3, 1.65), 448.5, 0.05);
    // Spread of lead-time demand (Hadley and Whitin, 1963, random sum); computed.
    EXPECT_NEAR(textbookSafetyStock(12, 5, 6, 0, 1), 12.24744871391589, 1e-9);
    EXPECT_NEAR(textbookSafetyStock(8.4, 3.1, 2, 0.7, 1), 7.334466579104441, 1e-9);
    // Safety factor on the mean absolute deviation: 1.25 x 1.645 is near the trade's 2.0 at 95 %.
    EXPECT_NEAR(1.25 * textbookSafetyStock(0, 1, 1, 0, 1.645), 2.06, 0.005);
}

TEST(LeadTimesTest, DayChancesKeepTheMeanAndTheSpread) {
    LeadTime lead;
    lead.meanDays = 5;
    lead.spreadDays = 2;
    const auto chances = leadTimeChances(lead);
    double sum = 0, mean = 0, second = 0;
    for (std::size_t d = 0; d < chances.size(); ++d) {
        sum += chances[d];
        mean += chances[d] * static_cast<double>(d);
        second += chances[d] * static_cast<double>(d * d);
    }
    EXPECT_NEAR(sum, 1, 1e-12);
    EXPECT_NEAR(mean, 5, 0.02);
    EXPECT_NEAR(second - mean * mean, 4, 0.15); // + 1/12 from cutting into days
    lead.spreadDays = 0;
    lead.meanDays = 2.25;
    EXPECT_EQ(leadTimeChances(lead), (std::vector{0.0, 0.0, 0.75, 0.25}));
    lead.meanDays = 0;
    EXPECT_EQ(leadTimeChances(lead).front(), 1.0);
}

TEST(LeadTimesTest, TheSuppliersPromiseHoldsUntilEnoughOrdersAreSeen) {
    SmallAgency agency(kMonday);
    agency.edit([](Snapshot &s) {
        s.settings.set(SettingKey::OwnFigureLeastN, 3);
        for (int i = 0; i < 3; ++i) {
            PurchaseOrder order;
            order.id = PurchaseOrderId(i + 1);
            order.supplier = SmallAgency::kSupplier;
            order.status = PurchaseStatus::Received;
            order.orderedOn = kMonday.plusDays(-60 + 10 * i);
            s.purchaseOrders.push_back(order);
            for (const int days : {7 + i, 30}) { // the rest of the order, later, is no first receipt
                Receipt receipt;
                receipt.id = ReceiptId(static_cast<std::int64_t>(s.receipts.size()) + 1);
                receipt.order = order.id;
                receipt.supplier = order.supplier;
                receipt.at = {order.orderedOn->plusDays(days), Minutes::of(600)};
                receipt.lines = {{kKit, LotId(1), Eaches::of(10), {}}};
                s.receipts.push_back(receipt);
            }
        }
    });
    Snapshot snapshot = agency.build();
    {
        const SnapshotIndex index(snapshot);
        const LeadTime lead = leadTimeOf(index, snapshot.suppliers.front());
        EXPECT_TRUE(lead.isLearned);
        EXPECT_EQ(lead.n, 3);
        EXPECT_DOUBLE_EQ(lead.meanDays, 8); // 7, 8, 9
        EXPECT_DOUBLE_EQ(lead.spreadDays, 1);
    }
    snapshot.settings.set(SettingKey::OwnFigureLeastN, 4);
    const SnapshotIndex index(snapshot);
    const LeadTime lead = leadTimeOf(index, snapshot.suppliers.front());
    EXPECT_FALSE(lead.isLearned);
    EXPECT_EQ(lead.n, 3);
    EXPECT_DOUBLE_EQ(lead.meanDays, 5);
}

struct MixtureCase { // exact mixture of convolutions; computed here by another program
    std::vector<double> daily;
    std::map<int, double> lead;
    double mean, variance;
    std::int64_t q90, q95, q99;
    std::int64_t r;
    double shortage;
};

TEST(ReordersTest, TheLevelIsTheExactMixtureOverTheLeadTime) {
    const std::vector<MixtureCase> cases = {
        {{0.2, 0.5, 0.3}, {{1, .2}, {2, .6}, {3, .2}}, 2.2, 1.464, 4, 4, 5, 4, 0.0378},
        {{0.1, 0.2, 0.3, 0.4}, {{7, .9}, {14, .1}}, 15.4, 25.34, 20, 28, 33, 28, 0.14891286720436006},
        {{0.6, 0.4}, {{3, .25}, {4, .5}, {6, .25}}, 1.7, 1.21, 3, 4, 5, 4, 0.011264},
    };
    for (const MixtureCase &c : cases) {
        std::vector<Pmf> demand;
        std::vector<double> weights;
        for (const auto &[days, weight] : c.lead) {
            Pmf sum;
            for (int d = 0; d < days; ++d)
                sum = sum.plus(Pmf(c.daily));
            demand.push_back(sum);
            weights.push_back(weight);
        }
        const Pmf total = Pmf::mixture(demand, weights);
        EXPECT_NEAR(total.mean(), c.mean, 1e-9);
        EXPECT_NEAR(total.variance(), c.variance, 1e-9);
        EXPECT_EQ(orderUpToLevel(demand, weights, 0.90), c.q90);
        EXPECT_EQ(orderUpToLevel(demand, weights, 0.95), c.q95);
        EXPECT_EQ(orderUpToLevel(demand, weights, 0.99), c.q99);
        double shortage = 0;
        for (std::int64_t k = c.r + 1; k < static_cast<std::int64_t>(total.size()); ++k)
            shortage += static_cast<double>(k - c.r) * total[static_cast<std::size_t>(k)];
        EXPECT_NEAR(shortage, c.shortage, 1e-8);
    }
}

// Poisson demand, order-up-to with backorders (Hadley and Whitin, 1963; definition), computed.
TEST(ReordersTest, CycleServiceOfAnOrderUpToLevelAgreesWithTheDefinition) {
    EXPECT_NEAR(poisson(9).cdf(14), 0.9585336745270963, 1e-10);
    EXPECT_NEAR(poisson(40).cdf(52), 0.9719427746465225, 1e-10);
    const std::vector<Pmf> demand = {poisson(9)};
    const std::vector<double> weights = {1.0};
    EXPECT_EQ(orderUpToLevel(demand, weights, 0.9585336745), 14);
    EXPECT_EQ(orderUpToLevel(demand, weights, 0.9585336746), 15);
}

struct PackCase { // rule (R, s, nQ) with a least line; integer arithmetic
    int upTo, at, position, pack, least, expected;
};
TEST(OrderTermsTest, WholePacksAndTheLeastLine) {
    for (const PackCase &c : std::vector<PackCase>{{52, 40, 33, 10, 0, 20},
                                                   {52, 40, 41, 10, 0, 0},
                                                   {17, 11, -3, 5, 0, 20},
                                                   {100, 80, 80, 24, 48, 48},
                                                   {60, 45, 30, 20, 40, 40},
                                                   {31, 20, 19, 10, 50, 50}}) {
        const PackSize pack{Eaches::of(c.pack)};
        const Cases cases = casesToOrder({Eaches::of(c.position), Eaches::of(c.at), Eaches::of(c.upTo), pack,
                                          casesCovering(Eaches::of(c.least), pack)});
        EXPECT_EQ(toEaches(cases, pack), Eaches::of(c.expected)) << c.upTo << " from " << c.position;
    }
}

TEST(OrderTermsTest, AnOrderAfterTheCutOffGoesOnTheNextOpenDay) {
    Supplier supplier; // Monday to Friday, 14:00
    const Date friday = Date::of(2026, 3, 6);
    EXPECT_EQ(nextOrderDay(supplier, {friday, Minutes::of(839)}), (OrderDay{friday, false}));
    supplier.closedOn = {Date::of(2026, 3, 9)};
    EXPECT_EQ(nextOrderDay(supplier, {friday, Minutes::of(840)}), (OrderDay{Date::of(2026, 3, 10), true}));
    EXPECT_EQ(expectedArrival(&supplier, friday, 1.2), Date::of(2026, 3, 10)); // Sunday, closed Monday
    LeadTime lead;
    lead.meanDays = 4;
    const LocalTime late{friday, Minutes::of(840)};
    EXPECT_EQ(arrivalIfSent(&supplier, late, lead), Date::of(2026, 3, 16)); // Tuesday and four: a Saturday
    lead.isLearned = true;                                                  // counted from sending
    EXPECT_EQ(arrivalIfSent(&supplier, late, lead), Date::of(2026, 3, 10));
}

TEST(OrderTermsTest, PriceBreaksCountForAllUnits) {
    SupplierItem offer;
    offer.perCase = Money::of(100);
    offer.breaks = {{Cases::of(10), Money::of(80)}, {Cases::of(5), Money::of(90)}};
    EXPECT_EQ(priceFor(offer, Cases::of(4)), Money::of(100));
    EXPECT_EQ(priceFor(offer, Cases::of(5)), Money::of(90));
    EXPECT_EQ(priceFor(offer, Cases::of(12)), Money::of(80));
}

// E[(Q - D)+] and an exact state enumeration; computed by another program (concept: Nahmias, Perishable
// Inventory Systems, 2011).
TEST(OutdatesTest, ExpectedLossAgreesWithTheClosedFormAndTheEnumeration) {
    const auto lot = [](int quantity, double rate) { return AgeingLot{Eaches::of(quantity), poisson(rate)}; };
    EXPECT_NEAR(expectedOutdates({lot(10, 9)}).total, 1.7732090044176467, 1e-9);
    EXPECT_NEAR(expectedOutdates({lot(60, 48)}).total, 12.141750268909956, 1e-9);
    EXPECT_NEAR(expectedOutdates({lot(15, 12)}).total, 3.4019403991102166, 1e-9);
    const auto first = expectedOutdates({lot(6, 4), lot(10, 8), lot(8, 12)});
    EXPECT_NEAR(first.byLot.at(0), 2.1954345814629366, 1e-9);
    EXPECT_NEAR(first.total, 4.638679430798162, 1e-9);
    const auto second = expectedOutdates({lot(10, 7), lot(20, 7), lot(20, 21)});
    EXPECT_NEAR(second.byLot.at(0), 3.2013204982201544, 1e-9);
    EXPECT_NEAR(second.total, 17.350048858083483, 1e-9);
}

struct Agency {
    Agency() : agency(kMonday) {
        for (int i = 0; i < 8; ++i) {
            const Home home = agency.addHome();
            forecasts.push_back(steadyHome(home.catheter, home.patient, kKit, 2 * i, 1, 0.9));
        }
    }
    SmallAgency agency;
    std::vector<forecast::ItemForecast> forecasts;

    std::vector<SupplierReorder> list() const {
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        return reorderList(index, forecasts);
    }
    const ReorderLine *kitLine(const std::vector<SupplierReorder> &all) const {
        for (const SupplierReorder &order : all)
            for (const ReorderLine &line : order.lines)
                if (line.item == kKit)
                    return &line;
        return nullptr;
    }
};

bool has(const ReorderLine &line, ReorderFlag flag) {
    return std::ranges::find(line.flags, flag) != line.flags.end();
}

TEST(ReordersTest, OrdersAreWholePacksAndLiftThePositionToTheLevel) {
    const Agency a;
    const auto all = a.list();
    ASSERT_EQ(all.size(), 1U);
    EXPECT_EQ(all[0].orderOn, kMonday);
    const ReorderLine *line = a.kitLine(all);
    ASSERT_NE(line, nullptr);
    EXPECT_EQ(line->exactNeed, line->orderUpTo - line->position);
    const Eaches quantity = toEaches(line->cases, line->pack);
    EXPECT_GE(quantity, line->exactNeed);
    EXPECT_LT(quantity - line->exactNeed, line->pack.eachesPerCase);
    EXPECT_EQ(line->lineTotal, Money::of(10000) * line->cases.count());
    EXPECT_EQ(line->coverDays, Days::of(12)); // today + 7 + 5
    EXPECT_GT(static_cast<double>(line->orderUpTo.count()), line->demandMean);
    EXPECT_NEAR(
        line->fromReferrals,
        [&] {
            Agency none;
            none.agency.edit([](Snapshot &s) { s.settings.set(SettingKey::ReferralsPerWeekHundredths, 0); });
            const auto without = none.list();
            const ReorderLine *kit = none.kitLine(without);
            return line->demandMean - (kit ? kit->demandMean : 0);
        }(),
        0.5);
    EXPECT_TRUE(has(*line, ReorderFlag::ShortBeforeArrival)); // the shelf is empty
    EXPECT_GT(line->chanceShortBefore, 0.9);
}

TEST(ReordersTest, MoreStockNeverMeansALargerOrder) {
    for (const int life : {400, 6}) { // the second is lost in part, but never more than is added
        Eaches before = Eaches::of(1'000'000);
        for (int stock = 0; stock <= 480; stock += 60) {
            Agency a;
            a.agency.storeroom(kKit, stock + 1, kMonday.plusDays(life));
            const auto all = a.list();
            const ReorderLine *line = a.kitLine(all);
            const Eaches need = line ? toEaches(line->cases, line->pack) : Eaches{};
            EXPECT_LE(need, before) << "stock " << stock << ", life " << life;
            before = need;
        }
        EXPECT_EQ(before.isZero(), life == 400) << "enough lasting stock needs no order";
    }
}

TEST(ReordersTest, StockThatOutdatesDoesNotCount) {
    Agency fresh, old;
    fresh.agency.storeroom(kKit, 100, kMonday.plusDays(400));
    old.agency.storeroom(kKit, 100, kMonday.plusDays(1));
    const auto listed = old.list();
    const ReorderLine *line = old.kitLine(listed);
    ASSERT_NE(line, nullptr);
    EXPECT_GT(line->expiring.count(), 0);
    const auto freshList = fresh.list();
    const ReorderLine *freshLine = fresh.kitLine(freshList);
    EXPECT_GT(line->exactNeed.count(), freshLine ? freshLine->exactNeed.count() : 0);
}

TEST(ReordersTest, WhatIsOnOrderCountsOnlyIfItComesInTime) {
    Agency a;
    const auto withOrder = [&](Date expected) {
        a.agency.edit([&](Snapshot &s) {
            PurchaseOrder order;
            order.id = PurchaseOrderId(1);
            order.supplier = SmallAgency::kSupplier;
            order.status = PurchaseStatus::Sent;
            order.orderedOn = kMonday.plusDays(-1);
            order.expectedOn = expected;
            order.lines = {{kKit, Cases::of(5), {Eaches::of(10)}, {}, {}, {}, {}}};
            s.purchaseOrders = {order};
        });
        const auto all = a.list();
        const ReorderLine *line = a.kitLine(all);
        return line ? *line : ReorderLine{};
    };
    const ReorderLine soon = withOrder(kMonday.plusDays(3));
    const ReorderLine late = withOrder(kMonday.plusDays(40));
    EXPECT_EQ(soon.onOrder, Eaches::of(50));
    EXPECT_EQ(late.onOrder, Eaches{});
    EXPECT_EQ(late.onOrderLater, Eaches::of(50));
    EXPECT_EQ(late.exactNeed - soon.exactNeed, Eaches::of(50));
    EXPECT_LT(soon.chanceShortBefore, late.chanceShortBefore + 1e-12);
}

TEST(ReordersTest, ASmallOrderIsToppedUpToTheMinimumOrSaysThatItIsNot) {
    Agency a;
    const Home home = a.agency.addHome();
    a.forecasts.push_back(steadyHome(home.catheter, home.patient, SmallAgency::kKit1000, 5, 1));
    a.agency.storeroom(SmallAgency::kKit1000, 60);
    const Money plain = a.list().at(0).total;
    a.agency.edit([&](Snapshot &s) { s.suppliers.front().leastOrder = plain + Money::of(15000); });
    const auto topped = a.list();
    EXPECT_TRUE(topped.at(0).meetsMinimum);
    EXPECT_GE(topped.at(0).total, plain + Money::of(15000));
    EXPECT_LT(topped.at(0).total, plain + Money::of(25000)); // one pack at a time, no more than needed
    Cases extra;
    for (const ReorderLine &line : topped.at(0).lines)
        extra += line.toppedUp;
    EXPECT_EQ(extra, Cases::of(2));
    a.agency.edit([&](Snapshot &s) { s.suppliers.front().leastOrder = Money::of(1'000'000'000); });
    const auto never = a.list();
    EXPECT_FALSE(never.at(0).meetsMinimum);
    EXPECT_EQ(never.at(0).total, plain) << "nothing is bought for a minimum that is out of reach";
}

TEST(ReordersTest, ABackorderedOfferIsReplacedByAnotherSuppliers) {
    Agency a;
    a.agency.edit([](Snapshot &s) {
        for (SupplierItem &offer : s.supplierItems)
            if (offer.item == kKit)
                offer.backorderedUntil = kMonday.plusDays(30);
    });
    auto all = a.list();
    const ReorderLine *line = a.kitLine(all);
    ASSERT_NE(line, nullptr);
    EXPECT_TRUE(has(*line, ReorderFlag::Backordered));
    EXPECT_GE(line->expectedOn, kMonday.plusDays(30));
    EXPECT_GE(line->coverDays, Days::of(37)); // it must last until the order after a late arrival
    a.agency.edit([](Snapshot &s) {
        Supplier other = s.suppliers.front();
        other.id = SupplierId(2);
        other.name = "Another supplier (invented)";
        s.suppliers.push_back(other);
        SupplierItem offer = s.supplierItems.front();
        offer.id = SupplierItemId(99);
        offer.supplier = other.id;
        offer.item = kKit;
        offer.isPreferred = false;
        offer.backorderedUntil.reset();
        s.supplierItems.push_back(offer);
    });
    all = a.list();
    line = a.kitLine(all);
    ASSERT_NE(line, nullptr);
    EXPECT_EQ(line->supplier, SupplierId(2));
    EXPECT_EQ(line->cause, ReorderCause::BackorderCover);
    EXPECT_EQ(line->backorderedUntil, kMonday.plusDays(30));
}

TEST(ReordersTest, AnItemNobodySellsIsListedWithoutASupplier) {
    Agency a;
    a.agency.edit(
        [](Snapshot &s) { std::erase_if(s.supplierItems, [](const auto &o) { return o.item == kKit; }); });
    const auto all = a.list();
    ASSERT_EQ(all.size(), 1U);
    EXPECT_FALSE(all[0].supplier.isSet());
    EXPECT_TRUE(has(all[0].lines.at(0), ReorderFlag::NoSupplier));
    EXPECT_GT(all[0].lines.at(0).cases.count(), 0);
}

} // namespace
} // namespace kitround::supply
