#include "core/supply/MonthEnd.h"
#include "core/records/Validate.h"
#include "core/supply/Budget.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::supply {
namespace {

using test::Home;
using test::SmallAgency;

const Date kFebruary = Date::of(2026, 2, 1);
constexpr ItemId kKit = SmallAgency::kKit500;

MovementSum flow(PlaceKind from, PlaceKind to, std::int64_t eaches, bool wasExpired = false) {
    return {kKit, from, to, wasExpired, Eaches::of(eaches)};
}

// 50 at the start; 100 came, 5 went back to the supplier; 60 went out to homes and 4 came back; 3 were
// written off, 2 of them expired; a count found 1 too few. 50 + 100 - 5 - 56 - 3 - 1 = 85.
std::vector<MovementSum> februaryFlows() {
    return {flow(PlaceKind::Supplier, PlaceKind::Storeroom, 100),
            flow(PlaceKind::Quarantine, PlaceKind::Supplier, 5),
            flow(PlaceKind::Storeroom, PlaceKind::Transit, 60),
            flow(PlaceKind::Transit, PlaceKind::Home, 55),
            flow(PlaceKind::Car, PlaceKind::Home, 5),
            flow(PlaceKind::Home, PlaceKind::Transit, 4),
            flow(PlaceKind::Storeroom, PlaceKind::Wasted, 1),
            flow(PlaceKind::Quarantine, PlaceKind::Wasted, 2, true),
            flow(PlaceKind::Storeroom, PlaceKind::Variance, 1),
            flow(PlaceKind::Home, PlaceKind::Used, 30),
            flow(PlaceKind::Used, PlaceKind::Home, 2),
            flow(PlaceKind::Home, PlaceKind::Wasted, 4)};
}
std::vector<StockBalance> standing(std::int64_t storeroom, std::int64_t car) {
    return {{Place::storeroom(), kKit, std::nullopt, Eaches::of(storeroom)},
            {Place::car(SmallAgency::kNurse), kKit, std::nullopt, Eaches::of(car)},
            {Place::home(CatheterId(1)), kKit, std::nullopt, Eaches::of(999)}};
}

TEST(MonthEndTest, OpeningAndWhatMovedLeadToTheClosingAndTheLedger) {
    SmallAgency agency;
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto flows = februaryFlows();
    const auto opening = standing(45, 5), closing = standing(80, 5);
    const MonthBooks books = monthBooks(index, {kFebruary, flows, opening, closing});
    ASSERT_EQ(books.close.lines.size(), 1U);
    const MonthLine &line = books.close.lines.front();
    EXPECT_EQ(line.opening, Eaches::of(50)) << "homes are not ours";
    EXPECT_EQ(line.received, Eaches::of(100));
    EXPECT_EQ(line.returned, Eaches::of(5));
    EXPECT_EQ(line.issued, Eaches::of(56));
    EXPECT_EQ(line.wasted, Eaches::of(3));
    EXPECT_EQ(line.expired, Eaches::of(2));
    EXPECT_EQ(line.adjusted, Eaches::of(-1));
    EXPECT_EQ(line.closing, Eaches::of(85));
    EXPECT_EQ(line.homeUsed, Eaches::of(28));
    EXPECT_EQ(line.homeWasted, Eaches::of(4));
    EXPECT_TRUE(books.untied.empty());
    EXPECT_TRUE([&] {
        MonthClose close = books.close;
        close.closedBy = "somebody";
        return validate(close).empty();
    }());
    // No receipt on record: today's offer, 100.00 for ten. Spoilage (3 + 4) / 56.
    EXPECT_EQ(line.price, PriceSource::Offer);
    EXPECT_EQ(valueOf(line, line.closing), Money::of(85000));
    const MonthTotals totals = totalsOf(books.close);
    EXPECT_EQ(totals.closing, Money::of(85000));
    EXPECT_EQ(totals.expired, Money::of(2000));
    EXPECT_DOUBLE_EQ(spoilageOf(totals).value(), 7.0 / 56.0);
}

TEST(MonthEndTest, ALedgerThatSaysOtherwiseIsToldItemByItem) {
    SmallAgency agency;
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto flows = februaryFlows();
    const auto opening = standing(45, 5), closing = standing(80, 6);
    const MonthBooks books = monthBooks(index, {kFebruary, flows, opening, closing});
    EXPECT_EQ(books.untied, (std::vector<Untied>{{kKit, Eaches::of(85), Eaches::of(86)}}));
}

TEST(MonthEndTest, TheCostIsTheLastPricePaidUpToTheMonthsEnd) {
    SmallAgency agency;
    agency.edit([](Snapshot &s) {
        const auto buy = [&](std::int64_t number, Date on, std::int64_t perCase) {
            PurchaseOrder order;
            order.id = PurchaseOrderId(number);
            order.supplier = SmallAgency::kSupplier;
            order.status = PurchaseStatus::Received;
            order.lines.push_back(
                {kKit, Cases::of(1), {Eaches::of(10)}, Money::of(perCase), Eaches::of(10), std::nullopt, {}});
            s.purchaseOrders.push_back(order);
            Receipt receipt;
            receipt.id = ReceiptId(number);
            receipt.order = order.id;
            receipt.supplier = order.supplier;
            receipt.at = {on, Minutes::of(600)};
            receipt.lines.push_back({kKit, LotId(1), Eaches::of(10), {}});
            s.receipts.push_back(receipt);
        };
        buy(1, Date::of(2026, 2, 20), 9500);
        buy(2, Date::of(2026, 2, 3), 9000);
        buy(3, Date::of(2026, 3, 1), 12000); // after the month
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_EQ(casePriceOn(index, kKit, Date::of(2026, 2, 28)).perCase, Money::of(9500));
    EXPECT_EQ(casePriceOn(index, kKit, Date::of(2026, 2, 28)).source, PriceSource::LastPaid);
    EXPECT_EQ(casePriceOn(index, kKit, Date::of(2026, 2, 10)).perCase, Money::of(9000));
    EXPECT_EQ(casePriceOn(index, kKit, Date::of(2026, 1, 31)).source, PriceSource::Offer);
}

// February 2026 has 28 days. One home all of them, 3 taken out for a hospital stay (a stay on which it drains
// counts); one from the 20th: 9 days; one that left in the evening of the 10th, the 11th in UTC: 9 days.
TEST(MonthEndTest, PatientDaysAreThoseOnServiceHoldsTakenOut) {
    SmallAgency agency;
    const Home away = agency.addHome();
    const Home late = agency.addHome();
    const Home left = agency.addHome();
    agency.hold(away, Date::of(2026, 2, 5), Date::of(2026, 2, 8))
        .hold(away, Date::of(2026, 2, 15), Date::of(2026, 2, 18), std::nullopt, true)
        .edit([&](Snapshot &s) {
            s.patients[static_cast<std::size_t>(late.patient.value()) - 1].startOfCare =
                Date::of(2026, 2, 20);
            Patient &gone = s.patients[static_cast<std::size_t>(left.patient.value()) - 1];
            gone.status = CareStatus::Discharged;
            gone.exitedAt = Instant::fromIso("2026-02-11T01:30:00Z");
        });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_EQ(patientDays(index, kFebruary), 25 + 9 + 9);
    MonthClose close;
    close.patientDays = 44;
    EXPECT_DOUBLE_EQ(usePerPatientDay(close, Eaches::of(22)).value(), 0.5);
    EXPECT_FALSE(usePerPatientDay(MonthClose{}, Eaches::of(22)));
}

TEST(MonthEndTest, TheFirstOpenDayFollowsTheLastClosedMonth) {
    EXPECT_FALSE(firstOpenDay({}));
    MonthClose january, february;
    january.month = Date::of(2026, 1, 1);
    february.month = kFebruary;
    const std::vector<MonthClose> both{february, january};
    EXPECT_EQ(firstOpenDay(both), Date::of(2026, 3, 1));
    february.isClosed = false;
    const std::vector<MonthClose> reopened{january, february};
    EXPECT_EQ(firstOpenDay(reopened), kFebruary);
    EXPECT_EQ(monthAfter(Date::of(2026, 12, 31)), Date::of(2027, 1, 1));
    EXPECT_EQ(monthOf(Date::of(2026, 2, 28)), kFebruary);
}

// Budget 1,000.00. Sent this month: 600.00; of a cancelled order half a case of 100.00 came: 50.00. Last
// month's orders do not count.
TEST(BudgetTest, CountsWhatWasSentInTheMonthAndWhatCameOfACancelledOrder) {
    SmallAgency agency;
    agency.edit([](Snapshot &s) {
        s.settings.set(SettingKey::SupplyBudgetMinor, 100000);
        const auto order = [&](PurchaseStatus status, Date on, std::int64_t cases, std::int64_t received) {
            PurchaseOrder o;
            o.supplier = SmallAgency::kSupplier;
            o.status = status;
            o.orderedOn = on;
            o.lines.push_back({kKit,
                               Cases::of(cases),
                               {Eaches::of(10)},
                               Money::of(10000),
                               Eaches::of(received),
                               std::nullopt,
                               {}});
            s.purchaseOrders.push_back(o);
        };
        order(PurchaseStatus::Sent, Date::of(2026, 3, 1), 6, 0);
        order(PurchaseStatus::Cancelled, Date::of(2026, 3, 2), 3, 5);
        order(PurchaseStatus::Received, Date::of(2026, 2, 27), 9, 90);
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const BudgetState state = budgetOf(index, Date::of(2026, 3, 2));
    EXPECT_EQ(state.ordered, Money::of(65000));
    EXPECT_EQ(state.overBy(Money::of(35000)), Money{});
    EXPECT_EQ(state.overBy(Money::of(35001)), Money::of(1));
    BudgetState none = state;
    none.budget = {};
    EXPECT_EQ(none.overBy(Money::of(1'000'000)), Money{}) << "no budget, nothing is over";
}

} // namespace
} // namespace kitround::supply
