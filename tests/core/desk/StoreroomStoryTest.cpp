// Orders to suppliers, what arrives, and counts of the storeroom.
#include "core/desk/views/ReceiveScan.h"
#include "core/desk/views/StoreroomCounts.h"
#include "core/desk/words/Words.h"
#include "core/supply/Ledger.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr Date kFar = Date::of(2027, 6, 1);

PurchaseOrder draft(const Story &s, std::int64_t cases) {
    PurchaseOrder order;
    order.supplier = s.supplier;
    PurchaseLine line;
    line.item = s.kit500;
    line.cases = Cases::of(cases);
    line.pack = {Eaches::of(10)};
    line.perCase = Money::of(10000);
    order.lines = {line};
    return order;
}
ReceiveRecord arrival(const Story &s, std::int64_t eaches, const std::string &lot = "L1",
                      Date expires = kFar) {
    ReceiveRecord record;
    record.supplier = s.supplier;
    record.packingSlip = "PS-1";
    record.at = s.snapshot().now;
    record.lines = {{s.kit500, lot, expires, Eaches::of(eaches), Eaches{}, false}};
    return record;
}

TEST(StoreroomStory, AnOrderIsDraftedSentPartlyReceivedAndDone) {
    Story s;
    PurchaseOrder order = must(s.desk().saveOrder(draft(s, 4)));
    EXPECT_EQ(order.number, "PO-2026-0001");
    EXPECT_EQ(must(s.desk().saveOrder(draft(s, 1))).number, "PO-2026-0002");
    EXPECT_EQ(supply::positionOf(s.index(), s.kit500).onOrder, Eaches{}) << "a draft is not on order";
    order = must(s.desk().sendOrder(order.id));
    EXPECT_EQ(order.orderedOn, kMonday);
    EXPECT_EQ(order.expectedOn, kMonday.plusDays(7))
        << "promised in five days, a Saturday: it comes on Monday";
    EXPECT_EQ(supply::positionOf(s.index(), s.kit500).onOrder, Eaches::of(40));
    EXPECT_EQ(firstArg(refused(s.desk().sendOrder(order.id))), "sent");

    ReceiveRecord first = arrival(s, 25);
    first.order = order.id;
    first.lines.front().damaged = Eaches::of(2);
    EXPECT_TRUE(must(s.desk().receive(first)).flags.empty());
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(23));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(2));
    EXPECT_EQ(s.index().purchaseOrder(order.id)->status, PurchaseStatus::PartlyReceived);
    EXPECT_EQ(supply::positionOf(s.index(), s.kit500).onOrder, Eaches::of(15));

    // The supplier tells when the rest comes; nothing else of a sent order changes.
    PurchaseOrder told = *s.index().purchaseOrder(order.id);
    told.lines.front().backorderedUntil = kMonday.plusDays(20);
    told = must(s.desk().saveOrder(told));
    told.lines.front().cases = Cases::of(9);
    EXPECT_EQ(firstArg(refused(s.desk().saveOrder(told))), "partly_received");

    ReceiveRecord rest = arrival(s, 18, "L2");
    rest.order = order.id;
    const Received received = must(s.desk().receive(rest));
    ASSERT_EQ(received.flags.size(), 1U);
    EXPECT_EQ(received.flags.front().args,
              (std::vector<std::string>{"over_receipt", "KIT-500 (invented)", "15", "18"}));
    EXPECT_EQ(s.index().purchaseOrder(order.id)->status, PurchaseStatus::Received);
    EXPECT_FALSE(s.index().purchaseOrder(order.id)->lines.front().backorderedUntil);
    EXPECT_EQ(supply::positionOf(s.index(), s.kit500).onOrder, Eaches{});
    EXPECT_EQ(firstArg(refused(s.desk().receive(rest))), "received");
    EXPECT_EQ(firstArg(refused(s.desk().cancelOrder(order.id, "late"))), "received");
}

TEST(StoreroomStory, WhatGoesBeyondTheOrderIsKnownBeforeItIsBooked) {
    Story s;
    const PurchaseOrder order = must(s.desk().sendOrder(must(s.desk().saveOrder(draft(s, 1))).id));
    ReceiveRecord record = arrival(s, 6);
    record.order = order.id;
    EXPECT_TRUE(beyondOrder(*s.agency(), record).empty());
    record.lines.push_back({s.kit500, "L2", kFar, Eaches::of(5), Eaches{}, false});
    record.lines.push_back({s.kit1000, "L3", kFar, Eaches::of(1), Eaches{}, false});
    const Problems beyond = beyondOrder(*s.agency(), record);
    ASSERT_EQ(beyond.size(), 2U) << "two lots of one item are one question";
    EXPECT_EQ(beyond[0].args, (std::vector<std::string>{"over_receipt", "KIT-500 (invented)", "10", "11"}));
    EXPECT_EQ(beyond[1].args,
              (std::vector<std::string>{"not_on_order", "KIT-1000 (invented)", order.number}));
    EXPECT_TRUE(words(beyond[0]).contains(QStringLiteral("11 eaches came and 10 were open")));
    record.order.reset();
    EXPECT_TRUE(beyondOrder(*s.agency(), record).empty()) << "without an order nothing is checked off";
}

TEST(StoreroomStory, CasesEnteredAsEachesAreAskedAbout) {
    Story s;
    const PurchaseOrder order = must(s.desk().sendOrder(must(s.desk().saveOrder(draft(s, 2))).id));
    const auto doubts = [&](std::int64_t eaches) {
        ReceiveRecord record = arrival(s, eaches);
        record.order = order.id;
        return likelyWrongUnit(*s.agency(), record);
    };
    const Problems asCases = doubts(2);
    ASSERT_EQ(asCases.size(), 1U);
    EXPECT_EQ(asCases[0].args,
              (std::vector<std::string>{"receipt_as_cases", "KIT-500 (invented)", "2", "10"}));
    EXPECT_TRUE(words(asCases[0]).contains(QStringLiteral("just 2 cases of 10")))
        << words(asCases[0]).toStdString();
    ASSERT_EQ(doubts(13).size(), 1U);
    EXPECT_EQ(firstArg(doubts(13)[0]), "receipt_broken_case");
    EXPECT_TRUE(doubts(10).empty()) << "one case of two";
    EXPECT_TRUE(doubts(20).empty());
    EXPECT_TRUE(doubts(21).empty()) << "that it is too much is asked already";
}

TEST(StoreroomStory, NothingComesOnAnOrderBeforeItWasSent) {
    Story s;
    const PurchaseOrder order = must(s.desk().sendOrder(must(s.desk().saveOrder(draft(s, 2))).id));
    ReceiveRecord record = arrival(s, 20);
    record.order = order.id;
    record.at = at(kMonday.plusDays(-1), 9);
    const Problem early = refused(s.desk().receive(record));
    EXPECT_EQ(early.field, "received_at");
    EXPECT_EQ(early.args, (std::vector<std::string>{"before_its_order", order.number, kMonday.toIso()}));
    EXPECT_TRUE(words(early).contains(QStringLiteral("Enter the day it came"))) << words(early).toStdString();
    record.at = s.snapshot().now;
    must(s.desk().receive(record));
}

TEST(StoreroomStory, HowAnItemStandsOnAnOrderFollowsTheOtherLinesThatAreTyped) {
    const Story s;
    PurchaseOrder order = draft(s, 2); // twenty
    const auto brings = [&](std::int64_t eaches) {
        ReceiveLine line;
        line.item = s.kit500;
        line.quantity = Eaches::of(eaches);
        return line;
    };
    const auto stands = [&](const std::vector<ReceiveLine> &others) {
        return standingOn(order.lines, others, s.kit500);
    };
    EXPECT_EQ(stands({}), OrderStanding::Open);
    EXPECT_EQ(stands({brings(12)}), OrderStanding::Open);
    EXPECT_EQ(stands({brings(12), brings(8)}), OrderStanding::OnOtherLines);
    EXPECT_EQ(standingOn(order.lines, {}, s.kit1000), OrderStanding::NotOrdered);
    order.lines.front().received = Eaches::of(20);
    EXPECT_EQ(stands({}), OrderStanding::Complete);
    order.lines.front().received = Eaches::of(35);
    order.lines.push_back(draft(s, 1).lines.front());
    EXPECT_EQ(stands({}), OrderStanding::Open) << "too much of one line is not the other's";
    EXPECT_EQ(stands({brings(10)}), OrderStanding::OnOtherLines);
    EXPECT_TRUE(orderStandingText(OrderStanding::Open).isEmpty());
    EXPECT_NE(orderStandingText(OrderStanding::OnOtherLines), orderStandingText(OrderStanding::Complete));
}

TEST(StoreroomStory, AReceiptIsReversedByContraryMovementsAndItsOrderIsOpenAgain) {
    Story s;
    const PurchaseOrder order = must(s.desk().sendOrder(must(s.desk().saveOrder(draft(s, 2))).id));
    ReceiveRecord record = arrival(s, 20);
    record.order = order.id;
    record.lines.front().damaged = Eaches::of(2);
    const Receipt receipt = must(s.desk().receive(record)).receipt;
    EXPECT_EQ(refused(s.desk().reverseReceipt(receipt.id, "")).field, "why");
    const LotId lot = receipt.lines.front().lot;
    const std::size_t movements = must(s.desk().movementsOfLot(lot)).size();
    const std::size_t before = s.auditLength();

    must(s.desk().reverseReceipt(receipt.id, "booked to the wrong order"));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches{});
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches{});
    const auto all = must(s.desk().movementsOfLot(lot));
    EXPECT_EQ(all.size(), 2 * movements) << "nothing is deleted";
    EXPECT_EQ(all.back().note, "booked to the wrong order");
    EXPECT_TRUE(all.back().undoes);
    EXPECT_GT(s.auditLength(), before);
    const PurchaseOrder *open = s.index().purchaseOrder(order.id);
    EXPECT_EQ(open->status, PurchaseStatus::Sent);
    EXPECT_EQ(open->lines.front().received, Eaches{});
    EXPECT_EQ(supply::positionOf(s.index(), s.kit500).onOrder, Eaches::of(20));
    EXPECT_TRUE(s.snapshot().receipts.empty()) << "it tells nothing of the supplier's lead time";
    EXPECT_EQ(refused(s.desk().reverseReceipt(receipt.id, "again")).code, ProblemCode::UnknownRecord);
    must(s.desk().receive(record));
    EXPECT_EQ(s.index().purchaseOrder(order.id)->status, PurchaseStatus::Received);
}

TEST(StoreroomStory, AReceiptWhoseStockHasMovedIsNotReversed) {
    Story s;
    const auto home = s.addHome("A");
    const Receipt receipt = must(s.desk().receive(arrival(s, 10))).receipt;
    const Delivery parcel = must(s.desk().pick(s.promise(home, s.kit500, 4, kMonday).id));
    const Problem moved = refused(s.desk().reverseReceipt(receipt.id, "twice"));
    EXPECT_EQ(moved.args, (std::vector<std::string>{"receipt_moved", "KIT-500 (invented)", "L1", "4"}));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(6)) << "nothing is half undone";
    must(s.desk().cancelDelivery(parcel.id, "not wanted"));
    must(s.desk().reverseReceipt(receipt.id, "twice"));
    EXPECT_EQ(s.total(s.kit500), Eaches{});
}

TEST(StoreroomStory, ReleasingALotBringsNothingBackThatAReversedReceiptTook) {
    Story s;
    const LotId lot = must(s.desk().receive(arrival(s, 10))).receipt.lines.front().lot;
    must(s.desk().setLotState(lot, LotState::Quarantined, "wet cartons"));
    const Receipt more = must(s.desk().receive(arrival(s, 4))).receipt;
    must(s.desk().reverseReceipt(more.id, "counted twice"));
    must(s.desk().setLotState(lot, LotState::Usable, "dried, seals whole"));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(10));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches{});
}

TEST(StoreroomStory, ReleasingALotBringsNothingBackThatWasWrittenOffInQuarantine) {
    Story s;
    ReceiveRecord record = arrival(s, 12);
    record.lines.front().damaged = Eaches::of(2);
    const LotId lot = must(s.desk().receive(record)).receipt.lines.front().lot;
    must(s.desk().setLotState(lot, LotState::Quarantined, "wet cartons"));
    StockRemoval gone;
    gone.from = Place::quarantine();
    gone.item = s.kit500;
    gone.lot = lot;
    gone.quantity = Eaches::of(5);
    gone.why = "torn";
    must(s.desk().takeOut(gone));
    must(s.desk().setLotState(lot, LotState::Usable, "the rest is dry"));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(7)) << "twelve less five";
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches{});
}

TEST(StoreroomStory, AnOrderAfterTheCutOffOrOnAClosedDayIsExpectedLater) {
    Story s;
    Supplier supplier = *s.index().supplier(s.supplier);
    supplier.closedOn = {Date::of(2026, 3, 9)}; // next Monday
    must(s.desk().save(supplier));
    s.now(at(Date::of(2026, 3, 6), 14, 30)); // Friday after 14:00
    const PurchaseOrder order = must(s.desk().sendOrder(must(s.desk().saveOrder(draft(s, 1))).id));
    // Saturday and Sunday are no order days, Monday is closed: taken on Tuesday the 10th, five days later is
    // Sunday the 15th.
    EXPECT_EQ(order.expectedOn, Date::of(2026, 3, 16));
}

TEST(StoreroomStory, ANewKitSaysWhichCathetersItFits) {
    Story s;
    Item kit = *s.index().item(s.kit500);
    kit.id = {};
    kit.rowVersion = 0;
    kit.code = "KIT-NEW";
    kit.connector.clear();
    const Problem asked = refused(s.desk().save(kit));
    EXPECT_EQ(asked.code, ProblemCode::Missing);
    EXPECT_EQ(asked.field, "connector");
    EXPECT_TRUE(words(asked).contains(QStringLiteral("say that it fits any"))) << words(asked).toStdString();
    kit = must(s.desk().save(kit, KitFits::AnyCatheter));
    kit.name += " again";
    kit = must(s.desk().save(kit)); // what is on record stays valid
    kit.connector = "A";
    kit = must(s.desk().save(kit));
    kit.connector.clear();
    EXPECT_EQ(refused(s.desk().save(kit)).field, "connector") << "taking it away is a question too";
    Item dressing = kit;
    dressing.id = {};
    dressing.rowVersion = 0;
    dressing.code = "DRE-NEW";
    dressing.kind = ItemKind::Dressing;
    dressing.bottleVolume.reset();
    dressing = must(s.desk().save(dressing));
    dressing.kind = ItemKind::Kit;
    dressing.bottleVolume = kit.bottleVolume;
    EXPECT_EQ(refused(s.desk().save(dressing)).field, "connector") << "made a kit it is asked as a new one";
}

TEST(StoreroomStory, ExpiredRecalledAndShortDatedLotsAreNotTakenIn) {
    Story s;
    EXPECT_EQ(refused(s.desk().receive(arrival(s, 10, "OLD", kMonday.plusDays(-1)))).field, "expires_on");
    // Less than 180 days of life, unless somebody says so; the last day of use itself still counts.
    ReceiveRecord brief = arrival(s, 10, "BRIEF", kMonday.plusDays(179));
    EXPECT_EQ(refused(s.desk().receive(brief)).args,
              (std::vector<std::string>{kMonday.plusDays(179).toIso(), kMonday.plusDays(180).toIso(), ""}));
    brief.lines.front().acceptShortDated = true;
    must(s.desk().receive(brief));
    must(s.desk().receive(arrival(s, 10, "EXACT", kMonday.plusDays(180))));
    // Expired is never a matter of accepting.
    ReceiveRecord expired = arrival(s, 10, "OLD", kMonday.plusDays(-1));
    expired.lines.front().acceptShortDated = true;
    EXPECT_EQ(refused(s.desk().receive(expired)).field, "expires_on");

    const LotId lot = must(s.desk().receive(arrival(s, 10, "AB-12"))).receipt.lines.front().lot;
    must(s.desk().setLotState(lot, LotState::Recalled, "notice"));
    const Problem recalled = refused(s.desk().receive(arrival(s, 10, "ab 12")));
    EXPECT_EQ(recalled.args, (std::vector<std::string>{"recalled", "AB-12"}));
    EXPECT_EQ(s.total(s.kit500), Eaches::of(30));
    EXPECT_EQ(s.snapshot().receipts.size(), 3U);
}

TEST(StoreroomStory, TheSameLotArrivingAgainIsOneLotAndAnotherExpiryOnItIsAsked) {
    Story s;
    const LotId first = must(s.desk().receive(arrival(s, 10, "AB-12"))).receipt.lines.front().lot;
    EXPECT_EQ(must(s.desk().receive(arrival(s, 5, "ab12"))).receipt.lines.front().lot, first);
    EXPECT_EQ(s.snapshot().lots.size(), 1U);
    const Problem problem = refused(s.desk().receive(arrival(s, 5, "AB-12", kFar.plusDays(1))));
    EXPECT_EQ(problem.args, (std::vector<std::string>{"other_expiry", "AB-12", kFar.toIso()}));
    ReceiveRecord nameless = arrival(s, 5, " - ");
    EXPECT_EQ(refused(s.desk().receive(nameless)).field, "lot_number");
}

TEST(StoreroomStory, AQuarantinedLotWaitsAndDamagedEachesNeverComeBack) {
    Story s;
    ReceiveRecord record = arrival(s, 10);
    record.lines.front().damaged = Eaches::of(3);
    const LotId lot = must(s.desk().receive(record)).receipt.lines.front().lot;
    must(s.desk().setLotState(lot, LotState::Quarantined, "wet cartons"));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(10));
    // More of a quarantined lot goes to quarantine too, and says so.
    EXPECT_EQ(firstArg(must(s.desk().receive(arrival(s, 4))).flags.front()), "quarantined");
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches{});
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(14));
    must(s.desk().setLotState(lot, LotState::Usable, "dried, seals whole"));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(11));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(3));
    EXPECT_EQ(refused(s.desk().setLotState(lot, LotState::Quarantined, "")).field, "state_reason");
    Lot edited = *s.index().lot(lot);
    edited.state = LotState::Recalled;
    EXPECT_EQ(firstArg(refused(s.desk().save(edited))), "use_lot_state");
}

TEST(StoreroomStory, EveryLineOfAReceiptIsCheckedBeforeAnyIsTakenIn) {
    Story s;
    ReceiveRecord record = arrival(s, 10);
    record.lines.push_back({ItemId(999), "L2", kFar, Eaches::of(5), Eaches{}, false});
    record.lines.push_back({s.kit1000, "L3", kFar, Eaches::of(-5), Eaches{}, false});
    record.lines.push_back({s.kit1000, "", kFar, Eaches::of(5), Eaches::of(6), false});
    const Problems found = flattened(refused(s.desk().receive(record)));
    ASSERT_EQ(found.size(), 4U);
    EXPECT_EQ(found[0].row, 2);
    EXPECT_EQ(found[0].code, ProblemCode::UnknownRecord);
    EXPECT_EQ(found[1].row, 3);
    EXPECT_EQ(found[1].field, "quantity");
    EXPECT_EQ(found[2].row, 4);
    EXPECT_EQ(found[2].field, "damaged");
    EXPECT_EQ(found[3].field, "lot_number");
    EXPECT_EQ(s.total(s.kit500), Eaches{});
    EXPECT_TRUE(s.snapshot().lots.empty());
}

TEST(StoreroomStory, ACountOfALotIsPostedAsAVarianceWithItsReason) {
    Story s;
    const LotId lot = must(s.desk().receive(arrival(s, 10))).receipt.lines.front().lot;
    const auto counted = [&](ItemId item, std::int64_t eaches, const char *why) {
        return s.desk().countStoreroom({item, {{lot, Eaches::of(eaches)}}, why, {}, false});
    };
    must(counted(s.kit500, 8, "two found torn"));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(8));
    EXPECT_EQ(must(s.desk().movementsOfLot(lot)).back().note, "two found torn");
    EXPECT_EQ(refused(counted(s.kit500, -1, "x")).code, ProblemCode::Negative);
    EXPECT_EQ(refused(counted(s.kit500, 7, "")).field, "why");
    EXPECT_EQ(firstArg(refused(counted(s.kit1000, 7, "x"))), "lot_of_other_item");
    const std::size_t movements = must(s.desk().movementsOfLot(lot)).size();
    must(counted(s.kit500, 8, "monthly"));
    EXPECT_EQ(must(s.desk().movementsOfLot(lot)).size(), movements) << "no difference moves nothing";
}

TEST(StoreroomStory, ACountThatAgreedStandsOnTheDayOfTheAgencysClock) {
    Story s;
    const LotId lot = must(s.desk().receive(arrival(s, 10))).receipt.lines.front().lot;
    s.now(at(kMonday, 21)); // the next day in UTC
    must(s.desk().countStoreroom({s.kit500, {{lot, Eaches::of(10)}}, "", {}, false}));
    s.now(at(kMonday.plusDays(3), 9));
    const auto last = must(lastStoreroomCounts(s.desk()));
    ASSERT_TRUE(last.contains(s.kit500));
    EXPECT_EQ(last.at(s.kit500), kMonday);
}

TEST(StoreroomStory, ACountOfSomeLotsLeavesTheItemDue) {
    Story s;
    const LotId lot = must(s.desk().receive(arrival(s, 10))).receipt.lines.front().lot;
    const LotId other = must(s.desk().receive(arrival(s, 10, "L2"))).receipt.lines.front().lot;
    must(s.desk().countStoreroom({s.kit500, {{lot, Eaches::of(8)}}, "two torn", {}, false}));
    EXPECT_FALSE(must(lastStoreroomCounts(s.desk())).contains(s.kit500)) << "one lot of two";
    s.now(at(kMonday.plusDays(1), 9));
    must(s.desk().countStoreroom(
        {s.kit500, {{lot, Eaches::of(8)}, {other, Eaches::of(9)}}, "one torn", {}, false}));
    const auto last = must(lastStoreroomCounts(s.desk()));
    ASSERT_TRUE(last.contains(s.kit500));
    EXPECT_EQ(last.at(s.kit500), kMonday.plusDays(1));
}

TEST(StoreroomStory, WhatWasPickedWhileSomebodyCountedIsNoVariance) {
    Story s;
    const auto home = s.addHome("A");
    const LotId lot = must(s.desk().receive(arrival(s, 10))).receipt.lines.front().lot;
    StoreroomCount count{s.kit500, {{lot, Eaches::of(10), Eaches::of(10)}}, "monthly", {}, false};
    must(s.desk().pick(s.promise(home, s.kit500, 4, kMonday).id)); // the counter has seen ten
    const Problem moved = refused(s.desk().countStoreroom(count));
    EXPECT_EQ(moved.args, (std::vector<std::string>{"moved_meanwhile", "10", "6"}));
    EXPECT_EQ(moved.row, 1);
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(6));
    count.lots.front().counted = Eaches::of(5);
    count.isCountedAgain = true;
    must(s.desk().countStoreroom(count));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(5));
}

TEST(StoreroomStory, ALargeDifferenceNeedsASecondPersonWhoeverPostsIt) {
    Story s;
    const LotId lot = must(s.desk().receive(arrival(s, 10))).receipt.lines.front().lot;
    AgencySettings settings = s.agency()->settings();
    settings.set(SettingKey::CountSecondPersonMinor, 0);
    must(s.desk().save(settings));
    ASSERT_FALSE(s.snapshot().supplierItems.empty());
    StoreroomCount count{s.kit500, {{lot, Eaches::of(9)}}, "one torn", {}, false};
    EXPECT_EQ(refused(s.desk().countStoreroom(count)).field, "second_person");
    const auto users = must(s.desk().users());
    count.secondPerson = std::ranges::find(users, s.desk().user(), &User::id)->name;
    EXPECT_EQ(firstArg(refused(s.desk().countStoreroom(count))), "second_is_user");
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(10)) << "nothing was posted";
    count.secondPerson = "Invented Colleague";
    must(s.desk().countStoreroom(count));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(9));
}

} // namespace
} // namespace kitround::desk
