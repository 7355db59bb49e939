// The log and the shelf of a home: what is refused, what follows from an entry, and that unknown is not zero.
#include "core/desk/views/StockView.h"
#include "core/records/Validate.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;

struct OneHome : Story {
    OneHome() : home(addHome("A")) {
        order(home, everyDays(1, Date::of(2026, 2, 2)), Date::of(2026, 2, 2), kit500);
        count(home, kit500, 10, at(kMonday, 6));
    }
    Home home;
    Eaches shelf() { return balance(Place::home(home.catheter), kit500); }
};

TEST(LogStory, AnEntryTakesItsSuppliesAndRaisesItsCallsInOneStep) {
    OneHome s;
    DrainEntry entry = s.entry(s.home, at(kMonday, 7), 1250);
    entry.supplies = {{s.kit500, Eaches::of(3), Eaches::of(1), std::nullopt}};
    const Desk::Logged logged = must(s.desk().logDrain(entry));
    EXPECT_EQ(s.shelf(), Eaches::of(6)) << "three drained into and one lost";
    ASSERT_EQ(logged.raised.size(), 1U);
    EXPECT_EQ(logged.raised.front().kind, CautionKind::OverPrescribedMaximum);
    EXPECT_TRUE(logged.raised.front().id.isSet());
    EXPECT_EQ(s.snapshot().callItems.size(), 1U);
    // One entry of two movements (used, lost) and one call: all of it is in the audit.
    const auto audit = must(s.desk().audit(1, "drain_entry"));
    ASSERT_EQ(audit.size(), 1U);
    EXPECT_EQ(audit.front().record, logged.entry.id.value());
}

TEST(LogStory, TheOrderOfThatDayDecidesNotTodays) {
    OneHome s;
    DrainOrder narrower = s.blankOrder(s.home, everyDays(1, kMonday), kMonday, s.kit500);
    narrower.mostPerSession = Millilitres::of(500);
    must(s.desk().acceptOrder(must(s.desk().previewOrder(narrower))));
    // 800 mL: allowed under the order of Sunday (1000), above that of Monday (500).
    EXPECT_TRUE(must(s.desk().logDrain(s.entry(s.home, at(kMonday.plusDays(-1), 9), 800))).raised.empty());
    const auto monday = must(s.desk().logDrain(s.entry(s.home, at(kMonday, 7), 800)));
    ASSERT_FALSE(monday.raised.empty());
    EXPECT_EQ(monday.raised.front().kind, CautionKind::OverPrescribedMaximum);
}

TEST(LogStory, WhatCannotBeIsRefusedAndLeavesNoTrace) {
    OneHome s;
    must(s.desk().logDrain(s.entry(s.home, at(kMonday, 7), 300)));
    const std::size_t before = s.auditLength();
    struct Case {
        const char *what;
        DrainEntry entry;
        ProblemCode code;
        const char *field;
    };
    std::vector<Case> cases;
    cases.push_back(
        {"in the future", s.entry(s.home, at(kMonday, 8, 1), 300), ProblemCode::OutOfRange, "at"});
    cases.push_back(
        {"the same minute again", s.entry(s.home, at(kMonday, 7), 250), ProblemCode::Duplicate, "at"});
    cases.push_back({"before the catheter was put in", s.entry(s.home, at(Date::of(2026, 1, 31), 9), 300),
                     ProblemCode::OutOfRange, "at"});
    cases.push_back(
        {"20000 mL", s.entry(s.home, at(kMonday, 7, 30), 20000), ProblemCode::OutOfRange, "volume_ml"});
    cases.push_back(
        {"a negative volume", s.entry(s.home, at(kMonday, 7, 30), -5), ProblemCode::Negative, "volume_ml"});
    cases.push_back({"an unknown catheter",
                     s.entry({s.home.patient, CatheterId(999)}, at(kMonday, 7, 30), 300),
                     ProblemCode::UnknownRecord, "catheter_id"});
    DrainEntry strange = s.entry(s.home, at(kMonday, 7, 30), 300);
    strange.supplies = {{ItemId(999), Eaches::of(1), Eaches{}, std::nullopt}};
    cases.push_back({"an unknown item", strange, ProblemCode::UnknownRecord, "item_id"});
    DrainEntry negative = s.entry(s.home, at(kMonday, 7, 30), 300);
    negative.supplies = {{s.kit500, Eaches::of(-1), Eaches{}, std::nullopt}};
    cases.push_back({"a negative count", negative, ProblemCode::Negative, "used"});
    for (const Case &c : cases) {
        const Problem problem = refused(s.desk().logDrain(c.entry));
        EXPECT_EQ(problem.code, c.code) << c.what << ": " << debugText(problem);
        EXPECT_EQ(problem.field, c.field) << c.what;
    }
    EXPECT_EQ(s.auditLength(), before);
    EXPECT_EQ(s.shelf(), Eaches::of(10));
    EXPECT_EQ(s.index().entriesOf(s.home.catheter).size(), 1U);
}

TEST(LogStory, AfterTheCatheterIsOutNothingCanHaveDrainedButEarlierDrainsMayStillBeWritten) {
    OneHome s;
    must(s.desk().removeCatheter(s.home.catheter, s.utc(at(kMonday, 7, 30)), "no more fluid"));
    EXPECT_EQ(firstArg(refused(s.desk().logDrain(s.entry(s.home, at(kMonday, 7, 45), 100)))),
              "catheter_removed");
    EXPECT_TRUE(s.desk().logDrain(s.entry(s.home, at(kMonday, 7, 15), 100)));
}

TEST(LogStory, ACorrectionKeepsTheOldEntryAndUndoesItsMovements) {
    OneHome s;
    const auto first = s.drain(s.home, at(kMonday, 7), 1300, s.kit500);
    EXPECT_EQ(s.shelf(), Eaches::of(9));
    ASSERT_EQ(first.raised.size(), 1U);

    DrainEntry right = s.entry(s.home, at(kMonday, 7), 300); // the same minute is not a duplicate of itself
    right.supplies = {{s.kit500, Eaches::of(2), Eaches{}, std::nullopt}};
    const auto second = must(s.desk().correctDrain(first.entry.id, right));
    EXPECT_EQ(second.entry.corrects, first.entry.id);
    EXPECT_EQ(s.shelf(), Eaches::of(8));
    const auto log = must(s.desk().wholeLog(s.home.catheter));
    ASSERT_EQ(log.size(), 2U);
    EXPECT_TRUE(std::ranges::find(log, first.entry.id, &DrainEntry::id)->isVoid);
    EXPECT_EQ(s.index().entriesOf(s.home.catheter).size(), 1U);
    // The call about 1300 mL is answered by the correction.
    for (const CallItem &item : s.snapshot().callItems)
        EXPECT_EQ(item.status, CallItemStatus::Closed) << item.subject;
    // What is void stays void.
    EXPECT_EQ(firstArg(refused(s.desk().correctDrain(first.entry.id, right))), "void");

    must(s.desk().voidDrain(second.entry.id, "written for another person"));
    EXPECT_EQ(s.shelf(), Eaches::of(10));
    EXPECT_EQ(refused(s.desk().voidDrain(second.entry.id, "again")).code, ProblemCode::NotAllowed);
    const auto movements = must(s.desk().movementsAt(Place::home(s.home.catheter), s.kit500));
    EXPECT_EQ(std::ranges::count_if(movements, [](const StockMovement &m) { return m.undoes.has_value(); }),
              2);
}

TEST(LogStory, ACorrectionThatIsItselfRefusedLeavesTheOldEntryStanding) {
    OneHome s;
    const auto first = s.drain(s.home, at(kMonday, 7), 300, s.kit500);
    const std::size_t before = s.auditLength();
    EXPECT_EQ(refused(s.desk().correctDrain(first.entry.id, s.entry(s.home, at(kMonday, 7), 20000))).field,
              "volume_ml");
    EXPECT_EQ(s.auditLength(), before);
    EXPECT_EQ(s.shelf(), Eaches::of(9));
    EXPECT_EQ(s.index().entriesOf(s.home.catheter).size(), 1U);
    EXPECT_FALSE(must(s.desk().wholeLog(s.home.catheter)).front().isVoid);
}

TEST(LogStory, WrongSideIsMovedToTheOtherCatheterWithItsSupplies) {
    OneHome s;
    const auto left = s.addCatheter(s.home, CavitySite::Chest, Side::Left);
    s.count(left, s.kit500, 4, at(kMonday, 6));
    const auto wrong = s.drain(s.home, at(kMonday, 7), 300, s.kit500);
    DrainEntry right = s.entry(left, at(kMonday, 7), 300);
    right.supplies = {{s.kit500, Eaches::of(1), Eaches{}, std::nullopt}};
    must(s.desk().correctDrain(wrong.entry.id, right));
    EXPECT_EQ(s.shelf(), Eaches::of(10));
    EXPECT_EQ(s.balance(Place::home(left.catheter), s.kit500), Eaches::of(3));
}

TEST(LogStory, ACountMakesTheLedgerEqualToTheShelfAndSaysTheVariance) {
    OneHome s;
    s.drain(s.home, at(kMonday, 7), 300, s.kit500);
    s.count(s.home, s.kit500, 7, at(kMonday, 7, 30));
    EXPECT_EQ(s.shelf(), Eaches::of(7));
    const auto movements = must(s.desk().movementsAt(Place::home(s.home.catheter), s.kit500));
    EXPECT_EQ(movements.back().to.kind, PlaceKind::Variance);
    EXPECT_EQ(movements.back().quantity, Eaches::of(2)) << "9 by the ledger, 7 on the shelf";
    EXPECT_EQ(s.index().lastCount(s.home.catheter, s.kit500)->at, at(kMonday, 7, 30));

    HomeCount bad;
    bad.catheter = s.home.catheter;
    bad.item = s.kit500;
    bad.at = at(kMonday, 7, 45);
    bad.counted = Eaches::of(-1);
    EXPECT_EQ(refused(s.desk().countHome(bad)).code, ProblemCode::Negative);
    bad.counted = Eaches::of(3);
    bad.at = at(kMonday, 9);
    EXPECT_EQ(refused(s.desk().countHome(bad)).field, "at");
    EXPECT_EQ(s.shelf(), Eaches::of(7));
}

TEST(LogStory, ADrainOfBeforeTheCountEnteredAfterItDoesNotTakeTheSameKitTwice) {
    OneHome s;
    // Drained on Sunday, counted on Monday at six (10 on the shelf), told by telephone at eight.
    const auto late = s.drain(s.home, at(kMonday.plusDays(-1), 9), 300, s.kit500);
    EXPECT_EQ(s.shelf(), Eaches::of(10));
    // Struck out again: the shelf is still what was counted.
    must(s.desk().voidDrain(late.entry.id, "told twice"));
    EXPECT_EQ(s.shelf(), Eaches::of(10));
    // A drain after the count counts.
    s.drain(s.home, at(kMonday, 7), 300, s.kit500);
    EXPECT_EQ(s.shelf(), Eaches::of(9));
    // An older count entered late changes nothing that was counted since.
    s.count(s.home, s.kit500, 25, at(kMonday.plusDays(-2), 9));
    EXPECT_EQ(s.shelf(), Eaches::of(9));
}

TEST(LogStory, UnknownIsNotZero) {
    Story s;
    const auto home = s.addHome("A");
    s.order(home, everyDays(1, kMonday), kMonday, s.kit500);
    // No count, no delivery: the forecast says it does not know, and takes no zero for it.
    const auto picture = must(computeStock(s.agency(), {}, {}));
    ASSERT_EQ(picture->homes.size(), 1U);
    EXPECT_EQ(picture->homes.front().knowledge, forecast::StockKnowledge::Unknown);
    EXPECT_TRUE(picture->refills.empty()) << "the first delivery comes before any refill";
    // A volume nobody wrote down is no volume, and supplies nobody wrote down move nothing.
    const auto logged = must(s.desk().logDrain(s.entry(home, at(kMonday, 7), std::nullopt)));
    EXPECT_FALSE(s.index().entriesOf(home.catheter).front().volume);
    EXPECT_TRUE(logged.raised.empty());
    EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches{});
    const auto drained = must(computeStock(s.agency(), {}, {}));
    ASSERT_EQ(drained->refills.size(), 1U) << "a home that drains has had supplies from somewhere";
    EXPECT_TRUE(drained->refills.front().stockIsUnknown);
    // A counted zero, on the other hand, is known.
    s.count(home, s.kit500, 0, at(kMonday, 7, 30));
    const auto counted = must(computeStock(s.agency(), {}, {}));
    EXPECT_EQ(counted->homes.front().knowledge, forecast::StockKnowledge::Counted);
}

TEST(LogStory, ACallIsClosedOnceWithWhatCameOfIt) {
    OneHome s;
    const auto logged = must(s.desk().logDrain(s.entry(s.home, at(kMonday, 7), 1250)));
    ASSERT_EQ(logged.raised.size(), 1U);
    const CallItemId call = logged.raised.front().id;
    EXPECT_EQ(refused(s.desk().closeCallItem(call, "")).field, "outcome");
    must(s.desk().closeCallItem(call, "prescriber told at 8:10, no change"));
    EXPECT_EQ(firstArg(refused(s.desk().closeCallItem(call, "again"))), "closed");
    EXPECT_EQ(s.snapshot().callItems.front().status, CallItemStatus::Closed);
}

} // namespace
} // namespace kitround::desk
