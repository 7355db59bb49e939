// What the clerk keeps beside the ledger: recall calls, substitutions, shortages, tracking, returns, cars.
#include "core/desk/paper/Papers.h"
#include "core/desk/paper/RecallPaper.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/CarBoard.h"
#include "core/desk/views/ClosedHomes.h"
#include "core/desk/views/RecallView.h"
#include "core/desk/views/RefillCallView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/SubstitutionView.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Words.h"
#include "core/safety/RecalledStock.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;

constexpr Date kFar = Date::of(2027, 6, 1);

RecallOutcome call(LotId lot, CatheterId catheter, LocalTime when, RecallAnswer answer, int setAside = 0) {
    RecallOutcome o;
    o.lot = lot;
    o.catheter = catheter;
    o.at = when;
    o.toldBy = "Ada Planner";
    o.spokeWith = isReached(answer) ? "a daughter" : "";
    o.answer = answer;
    o.setAside = Eaches::of(setAside);
    return o;
}

Delivery delivered(Story &s, const Story::Home &home, std::int64_t eaches) {
    const Delivery d = must(s.desk().pick(s.promise(home, s.kit500, eaches, kMonday.plusDays(1)).id));
    must(s.desk().ship(d.id));
    return must(s.desk().deliver(d.id, at(kMonday, 8), "Dora Daughter", "daughter"));
}

RecallView viewOf(Story &s, LotId lot) {
    return recallView(*s.agency(), lot, must(s.desk().movementsOfLot(lot)));
}

TEST(ClerkStory, ARecalledLotIsSeenAtHomeAndIsNoStockThereAndAPatientWithTwoLinesIsOneHome) {
    Story s;
    const auto home = s.addHome("A"), left = s.addHome("B");
    const auto second = s.addCatheter(home, CavitySite::Chest, Side::Left);
    s.order(home, everyDays(2, kMonday), kMonday, s.kit500);
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    delivered(s, home, 10);
    delivered(s, second, 4);
    delivered(s, left, 8);
    must(s.desk().exitPatient({left.patient, CareStatus::Discharged, s.utc(at(kMonday, 8)), "goals met"}));
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    const RecallView view = viewOf(s, lot);
    EXPECT_EQ(view.homes.size(), 3U) << "a row a line";
    EXPECT_EQ(view.places, 2);
    EXPECT_EQ(view.mayHaveIt, 2);
    EXPECT_EQ(view.reachedText(), QStringLiteral("0 of 2 homes reached (0 %)"));

    const auto rows = homeRows(*must(computeStock(s.agency(), {}, {})));
    const auto row = std::ranges::find_if(
        rows, [&](const HomeRow &r) { return r.catheter == home.catheter && r.item == s.kit500; });
    ASSERT_NE(row, rows.end());
    EXPECT_EQ(row->onHand, Eaches::of(10));
    EXPECT_EQ(row->recalled, Eaches::of(10));
    EXPECT_EQ(row->recall, QStringLiteral("up to 10 of recalled lot LOT-7A"));
    EXPECT_GT(row->chanceDry7, 0.5) << "what may not be used keeps nobody from running dry";
    const auto closed = closedHomeRows(*s.agency());
    ASSERT_EQ(closed.size(), 1U);
    EXPECT_EQ(closed[0].recall, QStringLiteral("up to 8 of recalled lot LOT-7A"));
    // What is read before anything is decided about it.
    EXPECT_EQ(words(lotPlaces(s.index(), lot)),
              QStringLiteral("In the storeroom 0, in quarantine 28, in no car, on the way 0, in 2 homes at "
                             "most 22."));
    const Lot &record = *s.index().lot(lot);
    EXPECT_FALSE(noticeText(s.index(), record, QStringLiteral("lot 7a")).startsWith(QStringLiteral("You")));
    EXPECT_TRUE(noticeText(s.index(), record, QStringLiteral("LOT-7"))
                    .startsWith(QStringLiteral("You typed LOT-7; the whole number on record is LOT-7A.")));
}

TEST(ClerkStory, AHomeTheRecordNeverSentTheLotToIsAddedWithTheReason) {
    Story s;
    const auto sent = s.addHome("A"), other = s.addHome("B");
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    delivered(s, sent, 10);
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    const RecallOutcome told = call(lot, other.catheter, at(kMonday, 8), RecallAnswer::SetAside, 4);
    EXPECT_TRUE(asksWhyBeyond(refused(s.desk().recordRecall(told))));
    must(s.desk().recordRecall(told, "the label says so"));
    const RecallView view = viewOf(s, lot);
    ASSERT_EQ(view.homes.size(), 2U);
    EXPECT_EQ(view.homes[1].catheter, other.catheter);
    EXPECT_EQ(view.homes[1].setAside, Eaches::of(4));
    EXPECT_EQ(view.homes[1].there, Eaches::of(4)) << "seen there, whatever the record reckons";
    EXPECT_EQ(view.mayHaveIt, 2);
    EXPECT_EQ(view.places, 2);
    EXPECT_EQ(view.reached, 1);
}

TEST(ClerkStory, WhatAHomePutAsideIsThereAndWasNotUsed) {
    Story s;
    const auto home = s.addHome("A");
    s.order(home, everyDays(2, kMonday), kMonday, s.kit500);
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    delivered(s, home, 10);
    s.drain(home, at(kMonday, 8), 300, s.kit500, lot);
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    const RecallView before = viewOf(s, lot);
    ASSERT_EQ(before.homes.size(), 1U);
    EXPECT_EQ(before.homes[0].there, Eaches::of(9));
    EXPECT_EQ(before.homes[0].used, Eaches::of(1));
    must(s.desk().recordRecall(call(lot, home.catheter, at(kMonday, 8), RecallAnswer::SetAside, 10)));
    const RecallView view = viewOf(s, lot);
    EXPECT_EQ(view.homes[0].there, Eaches::of(10));
    EXPECT_EQ(view.homes[0].used, Eaches{});
    EXPECT_EQ(view.setAside, Eaches::of(10));
    EXPECT_EQ(view.notFound(), Eaches{}) << "40 in quarantine, 10 set aside";
}

TEST(ClerkStory, EachHomeOfALotKeepsWhatItSaidAndTheReplyCountsIt) {
    Story s;
    const auto inService = s.addHome("A"), left = s.addHome("B"), never = s.addHome("C");
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    delivered(s, inService, 10);
    delivered(s, left, 8);
    must(s.desk().exitPatient({left.patient, CareStatus::Discharged, s.utc(at(kMonday, 8)), "goals met"}));
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    const std::size_t audit = s.auditLength();

    must(s.desk().recordRecall(call(lot, inService.catheter, at(kMonday, 8), RecallAnswer::NoAnswer)));
    EXPECT_EQ(s.auditLength(), audit + 1);
    EXPECT_EQ(viewOf(s, lot).reached, 0) << "nobody answered";
    must(s.desk().recordRecall(call(lot, inService.catheter, at(kMonday, 8), RecallAnswer::SetAside, 9)));
    const RecallView view = viewOf(s, lot);
    EXPECT_EQ(view.reached, 1);
    EXPECT_EQ(view.reachedText(), QStringLiteral("1 of 2 homes reached (50 %)"));
    EXPECT_EQ(view.fromSupplier, Eaches::of(50));
    EXPECT_EQ(view.quarantined, Eaches::of(32));
    EXPECT_EQ(view.setAside, Eaches::of(9));
    EXPECT_EQ(view.stillOut, Eaches::of(1 + 8)) << "one not set aside, eight at the home that left";
    const auto row = std::ranges::find(view.homes, inService.catheter, &RecallHomeRow::catheter);
    EXPECT_EQ(row->tries, 2);
    EXPECT_TRUE(row->outcome.contains(QStringLiteral("set aside (9)"))) << row->outcome.toStdString();
    EXPECT_EQ(
        refused(s.desk().recordRecall(call(lot, inService.catheter, at(kMonday, 8), RecallAnswer::SetAside)))
            .code,
        ProblemCode::Missing)
        << "no number was heard";
    RecallOutcome none = call(lot, inService.catheter, at(kMonday, 8), RecallAnswer::SetAside);
    hearSetAside(none, 0);
    EXPECT_EQ(none.answer, RecallAnswer::NoneLeft);
    EXPECT_EQ(view.notFound(), Eaches{}) << "32 in quarantine, 9 set aside, 9 out: all 50";
    // Somebody who has left is told as well.
    must(s.desk().recordRecall(call(lot, left.catheter, at(kMonday, 8), RecallAnswer::NoneLeft)));
    EXPECT_EQ(viewOf(s, lot).reached, 2);

    EXPECT_EQ(firstArg(refused(
                  s.desk().recordRecall(call(lot, never.catheter, at(kMonday, 8), RecallAnswer::NoneLeft)))),
              "lot_never_there");
    EXPECT_EQ(refused(s.desk().recordRecall(
                          call(lot, inService.catheter, at(kMonday, 8), RecallAnswer::SetAside, 11)))
                  .field,
              "set_aside")
        << "more than ever went there";
    // The record may be what is wrong: with the reason both are kept.
    const RecallOutcome more = must(s.desk().recordRecall(
        call(lot, inService.catheter, at(kMonday, 8), RecallAnswer::SetAside, 11), "they read it out"));
    EXPECT_NE(more.note.find("they read it out"), std::string::npos);
    must(s.desk().recordRecall(call(lot, inService.catheter, at(kMonday, 8), RecallAnswer::SetAside, 9)));
    EXPECT_EQ(
        refused(s.desk().recordRecall(call(lot, inService.catheter, at(kMonday, 9), RecallAnswer::NoneLeft)))
            .field,
        "at")
        << "not happened yet";

    const Paper calls = recallPaper(*s.agency(), viewOf(s, lot));
    const std::string whom = nameWithCode(s.index(), inService.patient).toStdString();
    EXPECT_TRUE(std::ranges::any_of(calls.sections[1].table->rows, [&](const auto &line) {
        return line[0] == whom;
    })) << "whoever phones asks for somebody";
    const Paper reply = recallReply(*s.agency(), viewOf(s, lot));
    const Table &counts = *reply.sections[1].table;
    EXPECT_EQ(counts.rows[0][1], "50");
    EXPECT_EQ(counts.rows[1][1], "32");
    EXPECT_EQ(counts.rows[2][1], "9");
    std::int64_t sum = 0;
    for (std::size_t i = 1; i + 1 < counts.rows.size(); ++i) // the last: replaced, apart from them
        sum += std::stoll(counts.rows[i][1]);
    EXPECT_EQ(sum, 50);
    for (const auto &section : reply.sections)
        for (const QString &line : section.lines)
            EXPECT_FALSE(line.contains(QStringLiteral("Family"))) << "a supplier learns no names";
}

TEST(ClerkStory, TheReplyAddsUpAlsoWhereACountFoundMoreOrFewer) {
    Story s;
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    const auto counted = [&](std::int64_t eaches) {
        StoreroomCount count;
        count.item = s.kit500;
        count.lots = {{lot, Eaches::of(eaches)}};
        count.why = "counted twice";
        count.secondPerson = "Invented Second";
        must(s.desk().countStoreroom(count));
        return viewOf(s, lot).notFound();
    };
    EXPECT_EQ(counted(64), Eaches::of(-14));
    EXPECT_EQ(counted(47), Eaches::of(3));
    must(s.desk().takeOut(
        {Place::storeroom(), s.kit500, lot, Eaches::of(5), RemovalWay::WriteOff, {}, "torn"}));
    EXPECT_EQ(viewOf(s, lot).gone, Eaches::of(5));
    EXPECT_EQ(viewOf(s, lot).notFound(), Eaches::of(3));
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    EXPECT_EQ(viewOf(s, lot).quarantined, Eaches::of(42));
    EXPECT_EQ(viewOf(s, lot).notFound(), Eaches::of(3));
}

TEST(ClerkStory, AHomeWhoseParcelIsUnderWayIsCalledAboutItAsWell) {
    Story s;
    const auto home = s.addHome("A"), packed = s.addHome("B");
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    const Delivery gone = must(s.desk().pick(s.promise(home, s.kit500, 10, kMonday.plusDays(1)).id));
    must(s.desk().ship(gone.id));
    must(s.desk().pick(s.promise(packed, s.kit500, 4, kMonday.plusDays(1)).id));
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    const RecallView view = viewOf(s, lot);
    ASSERT_EQ(view.homes.size(), 1U) << "what was packed only is with us";
    EXPECT_EQ(view.homes[0].patient, home.patient);
    EXPECT_EQ(view.homes[0].onTheWay, Eaches::of(10));
    EXPECT_TRUE(view.homes[0].standing.contains(QStringLiteral("10 on the way: refuse the parcel")))
        << view.homes[0].standing.toStdString();
    EXPECT_EQ(view.reachedText(), QStringLiteral("0 of 1 home reached (0 %)"));
    EXPECT_EQ(view.stillOut, Eaches::of(10)) << "counted once";
    for (const RecallStopRow &stop : view.stops) {
        EXPECT_FALSE(stop.place.startsWith(QStringLiteral("parcel")));
        EXPECT_FALSE(stop.there.isZero()) << stop.place.toStdString();
    }
    EXPECT_EQ(view.passed, QStringLiteral("None of it is left in: storeroom."))
        << "all went to quarantine; a parcel that left us is the home's, one put back never had it";

    const auto items = attention(*s.agency(), nullptr, nullptr);
    const auto call1 = std::ranges::find_if(items, [&](const AttentionItem &item) {
        return item.kind == AttentionKind::LotRecalled && item.patient == home.patient;
    });
    ASSERT_NE(call1, items.end()) << "Today names who is to be rung";
    EXPECT_TRUE(call1->title.contains(QStringLiteral("on its way"))) << call1->title.toStdString();
    must(s.desk().recordRecall(call(lot, home.catheter, at(kMonday, 8), RecallAnswer::SetAside, 10)));
    EXPECT_EQ(viewOf(s, lot).reached, 1);
    EXPECT_EQ(viewOf(s, lot).stillOut, Eaches{});
}

TEST(ClerkStory, WhoeverAnswersARefillCallIsAskedAboutRecalledLots) {
    Story s;
    const auto home = s.addHome("A"), other = s.addHome("B");
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    delivered(s, home, 10);
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    RefillContact said;
    said.patient = home.patient;
    said.at = at(kMonday, 8);
    said.answeredBy = "Dora Daughter";
    for (const RefillAnswer answer : {RefillAnswer::Confirmed, RefillAnswer::Declined}) {
        said.answer = answer;
        const Problem problem = refused(s.desk().recordContact(said));
        EXPECT_EQ(problem.field, "set_aside");
        EXPECT_EQ(problem.args, (std::vector<std::string>{"recalled_not_asked", "LOT-7A"}));
        EXPECT_TRUE(words(problem).contains(QStringLiteral("how many of it are set aside")));
    }
    said.answer = RefillAnswer::NoAnswer;
    must(s.desk().recordContact(said)); // nobody was there to be asked
    said.answer = RefillAnswer::Declined;
    // A message is no answer, and a promise stands under the same rule.
    must(s.desk().recordRecall(call(lot, home.catheter, at(kMonday, 8), RecallAnswer::MessageLeft)));
    EXPECT_EQ(firstArg(refused(s.desk().recordContact(said))), "recalled_not_asked");
    said.answer = RefillAnswer::Confirmed;
    said.reasonForNeed = "two left";
    Delivery wanted;
    wanted.patient = home.patient;
    wanted.promisedFor = kMonday.plusDays(1);
    wanted.lines = {{home.catheter, s.kit1000, std::nullopt, Eaches::of(1)}};
    EXPECT_EQ(firstArg(refused(s.desk().promiseOffer(said, wanted, {}, {"more", "sooner"}))),
              "recalled_not_asked");
    ASSERT_EQ(recalledToAsk(s.index(), home.patient, kMonday).size(), 1U);
    must(s.desk().recordRecall(call(lot, home.catheter, at(kMonday, 8), RecallAnswer::Declined)));
    must(s.desk().recordContact(said)); // asked, and would not
    EXPECT_TRUE(recalledToAsk(s.index(), home.patient, kMonday).empty()) << "nor is it asked by the form";
    EXPECT_EQ(recalledToAsk(s.index(), home.patient, kMonday.plusDays(1)).size(), 1U) << "but the next day";
    EXPECT_EQ(safety::notUsableAtHome(s.index(), home.catheter, s.kit500), Eaches::of(10))
        << "nobody said that none is there";
    must(s.desk().recordRecall(call(lot, home.catheter, at(kMonday, 8), RecallAnswer::SetAside, 9)));
    s.now(at(kMonday.plusDays(1), 8));
    said.at = at(kMonday.plusDays(1), 8);
    must(s.desk().recordContact(said)); // set aside: not asked again
    said.patient = other.patient;
    must(s.desk().recordContact(said)); // never had it
}

TEST(ClerkStory, ACountThatSeemsToHoldWhatWasSetAsideNeedsAReasonThatIsKept) {
    Story s;
    const auto home = s.addHome("A");
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    delivered(s, home, 10);
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    must(s.desk().recordRecall(call(lot, home.catheter, at(kMonday, 8), RecallAnswer::SetAside, 4)));
    s.now(at(kMonday, 9));
    HomeCount count;
    count.catheter = home.catheter;
    count.item = s.kit500;
    count.at = at(kMonday, 9);
    count.counted = Eaches::of(10); // those set aside among them
    count.note = "on the phone";
    const std::size_t audited = s.auditLength();
    const Problem asked = refused(s.desk().countHome(count));
    EXPECT_EQ(asked.field, "counted");
    EXPECT_EQ(asked.args, (std::vector<std::string>{"more_with_set_aside", "10", "4", "10"}));
    EXPECT_TRUE(asksAboutSetAside(asked));
    EXPECT_TRUE(words(asked).contains(
        QStringLiteral("with the 4 set aside, the 10 counted come to more than the 10 on record")))
        << words(asked).toStdString();
    EXPECT_EQ(s.auditLength(), audited) << "nothing was written";

    const HomeCount kept = must(s.desk().countHome(count, "a neighbour gave four back"));
    EXPECT_EQ(kept.note, "on the phone\nMore than on record, with what was set aside: a neighbour gave four "
                         "back");
    EXPECT_GT(s.auditLength(), audited);
    EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches::of(10));

    s.now(at(kMonday, 10));
    count.at = at(kMonday, 10);
    count.counted = Eaches::of(11);
    EXPECT_EQ(must(s.desk().countHome(count, "not asked for")).note, "on the phone")
        << "the count at nine has left out those set aside";
}

// A home on kits of 1000 mL that lets two of 500 stand in.
struct SubstituteStory : Story {
    SubstituteStory() : home(addHome("A")) {
        Item item = *index().item(kit1000);
        item.substitutes = {{kit500, Eaches::of(2)}};
        must(desk().save(item));
        allow(true);
        receive(kit500, "L5", 60, kFar);
    }
    void allow(bool on) {
        DrainOrder wanted = blankOrder(home, everyDays(1, kMonday), kMonday, kit1000);
        wanted.allowsSubstitute = on;
        must(desk().acceptOrder(must(desk().previewOrder(wanted))));
    }
    Substitution record() const {
        Substitution r;
        r.catheter = home.catheter;
        r.item = kit1000;
        r.standIn = kit500;
        r.approvedBy = "Dr Reed (invented)";
        r.approvedOn = kMonday;
        r.taughtBy = "B. Birch";
        r.taughtOn = kMonday;
        r.from = kMonday;
        r.revertOn = kMonday.plusDays(14);
        return r;
    }
    Home home;
};

TEST(ClerkStory, AHomeWhoseOrderAllowsNoOtherSizeIsNamedAndWhatStandsInSaysHowMany) {
    SubstituteStory s;
    EXPECT_EQ(notSubstitutable(*s.agency()), QString());
    const auto strict = s.addHome("S");
    s.order(strict, everyDays(2, kMonday), kMonday, s.kit1000);
    EXPECT_EQ(substitutionPlaces(*s.agency()).size(), 1U);
    EXPECT_TRUE(notSubstitutable(*s.agency())
                    .startsWith(QStringLiteral("Not listed: 1 home whose order allows no other size (")))
        << notSubstitutable(*s.agency()).toStdString();
    const QString choice = standInText(s.index(), s.kit1000, s.kit500);
    EXPECT_TRUE(choice.startsWith(QStringLiteral("2 × ")) && choice.endsWith(QStringLiteral(" free")))
        << choice.toStdString();
    const QString ratio = QStringLiteral("2 × %1 for 1 × %2")
                              .arg(itemName(s.index(), s.kit500), itemName(s.index(), s.kit1000));
    EXPECT_TRUE(choice.startsWith(ratio)) << choice.toStdString();
}

TEST(ClerkStory, AHomeServedByAStandInSaysSoWithTheRatio) {
    SubstituteStory s;
    EXPECT_EQ(servedByStandIn(s.index(), s.home.catheter, s.kit1000, kMonday), QString());
    must(s.desk().save(s.record()));
    const QString ratio = standInRatio(s.index(), s.kit1000, s.kit500);
    EXPECT_EQ(servedByStandIn(s.index(), s.home.catheter, s.kit1000, kMonday),
              QStringLiteral("%1 until Mon 16 Mar").arg(ratio));
    ASSERT_EQ(substitutionRows(*s.agency(), false).size(), 1U);
    EXPECT_EQ(substitutionRows(*s.agency(), false).front().ratio, ratio);
    const auto stock = must(computeStock(s.agency(), {}, {}));
    const auto rows = homeRows(*stock);
    const auto home = std::ranges::find(rows, s.kit1000, &HomeRow::item);
    ASSERT_NE(home, rows.end());
    EXPECT_TRUE(home->standIn.startsWith(ratio)) << home->standIn.toStdString();
    supply::RefillLine line;
    line.item = s.kit500;
    line.quantity = Eaches::of(24);
    const QString plain = offeredText(line, s.index());
    EXPECT_EQ(plain, QStringLiteral("24 × %1").arg(itemName(s.index(), s.kit500)));
    line.substituteFor = s.kit1000;
    EXPECT_EQ(offeredText(line, s.index()),
              plain + QStringLiteral(" (2 for each %1)").arg(itemName(s.index(), s.kit1000)));
}

TEST(ClerkStory, AParcelArrivesAfterItLeftAndNotInTheFuture) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 40, kFar);
    const Delivery d = must(s.desk().pick(s.promise(home, s.kit500, 4, kMonday.plusDays(1)).id));
    must(s.desk().ship(d.id));
    const auto told = [&](int hour) {
        return refused(s.desk().deliver(d.id, at(kMonday, hour), "Dora Daughter", "daughter"));
    };
    EXPECT_EQ(firstArg(told(1)), "arrived_before_left");
    EXPECT_TRUE(words(told(1)).contains(QStringLiteral("the parcel left on")))
        << words(told(1)).toStdString();
    EXPECT_EQ(firstArg(told(23)), "not_yet");
}

TEST(ClerkStory, WhatStandsInIsNotPickedBeforeItsRecordAndGoesBackOnItsDay) {
    SubstituteStory s;
    const Delivery d = s.promise(s.home, s.kit500, 10, kMonday.plusDays(1));
    const Problem missing = refused(s.desk().pick(d.id));
    EXPECT_EQ(missing.field, "item_id");
    EXPECT_EQ(missing.row, 1);
    EXPECT_EQ(missing.args, (std::vector<std::string>{"no_substitution", "KIT-500", "KIT-1000"}));
    must(s.desk().topUpCar(s.nurse, s.kit500, Eaches::of(4)));
    EXPECT_EQ(firstArg(refused(
                  s.desk().handOver(s.nurse, s.home.catheter, s.kit500, Eaches::of(2), at(kMonday, 8)))),
              "no_substitution");
    EXPECT_EQ(substitutionPlaces(*s.agency()).size(), 1U);

    Substitution taughtLater = s.record();
    taughtLater.taughtOn = kMonday.plusDays(1);
    EXPECT_EQ(refused(s.desk().save(taughtLater)).field, "taught_on") << "teaching comes first";
    Substitution other = s.record();
    other.standIn = s.bottle500;
    EXPECT_EQ(firstArg(refused(s.desk().save(other))), "no_stand_in");
    const Substitution stored = must(s.desk().save(s.record()));
    EXPECT_EQ(firstArg(refused(s.desk().save(s.record()))), "substitution_open");
    EXPECT_EQ(must(s.desk().pick(d.id)).status, DeliveryStatus::Picked);

    EXPECT_FALSE(substitutionRows(*s.agency(), false).front().isDue);
    s.now(at(kMonday.plusDays(14), 8));
    ASSERT_TRUE(substitutionRows(*s.agency(), false).front().isDue);
    const auto items = attention(*s.agency(), nullptr, nullptr);
    const auto due = std::ranges::find(items, AttentionKind::SubstitutionDue, &AttentionItem::kind);
    ASSERT_NE(due, items.end());
    EXPECT_EQ(due->harm, Harm::Today);
    EXPECT_EQ(due->patient, s.home.patient);
    Substitution closed = stored;
    closed.revertedOn = kMonday.plusDays(14);
    must(s.desk().save(closed));
    EXPECT_TRUE(substitutionRows(*s.agency(), false).empty());
    EXPECT_EQ(substitutionRows(*s.agency(), true).size(), 1U);
}

TEST(ClerkStory, AnOrderThatForbidsItIsNotArguedAwayByARecord) {
    SubstituteStory s;
    s.now(at(kMonday.plusDays(1), 8));
    DrainOrder strict = s.blankOrder(s.home, everyDays(1, kMonday), kMonday.plusDays(1), s.kit1000);
    must(s.desk().acceptOrder(must(s.desk().previewOrder(strict))));
    Substitution late = s.record();
    late.from = kMonday.plusDays(1);
    late.revertOn = kMonday.plusDays(9);
    EXPECT_EQ(firstArg(refused(s.desk().save(late))), "order_forbids_substitute");
    const Delivery d = s.promise(s.home, s.kit500, 10, kMonday.plusDays(2));
    EXPECT_EQ(firstArg(refused(s.desk().pick(d.id))), "order_forbids_substitute");
}

TEST(ClerkStory, AShortageKeepsOneOpenActionAHomeWithItsOwnerAndOutcome) {
    Story s;
    const auto home = s.addHome("A");
    ShortageAction action;
    action.item = s.kit500;
    action.catheter = home.catheter;
    action.action = "ring the second supplier";
    action.owner = "Ada Planner";
    action.openedAt = at(kMonday, 8);
    ShortageAction open = must(s.desk().save(action));
    EXPECT_EQ(refused(s.desk().save(action)).args, (std::vector<std::string>{"action_open", "Ada Planner"}));
    open.closedAt = at(kMonday, 8);
    EXPECT_EQ(refused(s.desk().save(open)).field, "outcome");
    open.outcome = "forty come on Wednesday";
    open = must(s.desk().save(open));
    open.outcome = "fifty";
    EXPECT_EQ(firstArg(refused(s.desk().save(open))), "closed") << "what was closed stays as it was";
    must(s.desk().save(action)); // a new one may follow
    EXPECT_EQ(s.snapshot().shortageActions.size(), 2U);
}

TEST(ClerkStory, ACouriersParcelGetsItsNumberOnceItHasLeft) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 40, kFar);
    const Delivery d = must(s.desk().pick(s.promise(home, s.kit500, 10, kMonday.plusDays(1)).id));
    EXPECT_EQ(firstArg(refused(s.desk().setTracking(d.id, "TR-1"))), "not_shipped");
    must(s.desk().ship(d.id));
    must(s.desk().setTracking(d.id, "TR-1"));
    EXPECT_EQ(s.delivery(d.id).trackingNumber, "TR-1");
    const Paper slip = deliverySlip(*s.agency(), s.delivery(d.id));
    EXPECT_TRUE(slip.sections.front().lines.join(u' ').contains(QStringLiteral("TR-1")));
    EXPECT_EQ(slip.sections[1].table->rows.front()[2], "L1");
    const Delivery carried =
        must(s.desk().pick(s.promise(home, s.kit500, 2, kMonday.plusDays(1), s.nurse).id));
    EXPECT_EQ(firstArg(refused(s.desk().setTracking(carried.id, "TR-2"))), "not_by_courier");
}

TEST(ClerkStory, StockOfAClosedHomeLeavesTheBooksAndNeverComesBackToTheShelf) {
    Story s;
    const auto home = s.addHome("A");
    const LotId lot = s.receive(s.kit500, "L1", 40, kFar);
    delivered(s, home, 10);
    EXPECT_TRUE(closedHomeRows(*s.agency()).empty());
    s.now(at(kMonday, 9));
    must(s.desk().exitPatient({home.patient, CareStatus::Deceased, s.utc(at(kMonday, 9)), "died at home"}));
    const auto rows = closedHomeRows(*s.agency());
    ASSERT_EQ(rows.size(), 1U);
    EXPECT_EQ(rows[0].onBooks, Eaches::of(10));
    EXPECT_EQ(rows[0].value, Money::of(10 * 1000)) << "a case of ten costs 100.00";
    EXPECT_EQ(writtenOff(*s.agency(), s.kit500, Eaches::of(5), Disposition::Destroyed), Money::of(5000));
    EXPECT_EQ(writtenOff(*s.agency(), s.kit500, Eaches::of(5), Disposition::KeptByHome), Money{});
    EXPECT_EQ(writtenOff(*s.agency(), s.kit500, Eaches::of(5), Disposition::SupplierCredit), Money{});
    s.now(at(kMonday, 12));

    HomeReturn record;
    record.catheter = home.catheter;
    record.item = s.kit500;
    record.at = at(kMonday, 11);
    record.quantity = Eaches::of(8);
    record.sealed = Eaches::of(6);
    record.disposition = Disposition::Destroyed;
    record.writeOff = Money::of(8000);
    record.decidedBy = "Ada Planner";
    EXPECT_EQ(refused(s.desk().returnFromHome(record, Eaches::of(7))).field, "quantity")
        << "only seven found";
    const Eaches shelf = s.balance(Place::storeroom(), s.kit500);
    const HomeReturn stored = must(s.desk().returnFromHome(record, Eaches::of(8)));
    EXPECT_TRUE(stored.id.isSet());
    EXPECT_EQ(stored.lot, lot) << "the only one on record there";
    EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches{});
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), shelf);
    EXPECT_EQ(s.snapshot().homeReturns.size(), 1U);
    EXPECT_TRUE(closedHomeRows(*s.agency()).empty());
    // The two that were not found are a variance; what was found went to waste with its lot.
    const auto movements = must(s.desk().movementsAt(Place::home(home.catheter), s.kit500));
    Eaches wasted, variance;
    for (const StockMovement &m : movements) {
        if (m.to.kind == PlaceKind::Wasted) {
            EXPECT_EQ(m.lot, lot);
            wasted += m.quantity;
        }
        if (m.to.kind == PlaceKind::Variance) {
            EXPECT_EQ(m.lot, lot) << "of no lot, the lot would stay on the books";
            variance += m.quantity;
        }
    }
    EXPECT_EQ(wasted, Eaches::of(8));
    EXPECT_EQ(variance, Eaches::of(2));
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
}

TEST(ClerkStory, ACarIsBroughtToParInOneStepAndItsOwnUseIsSeen) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 20, kFar);
    CarPar par;
    par.nurse = s.nurse;
    par.item = s.kit500;
    par.par = Eaches::of(6);
    must(s.desk().save(par));
    EXPECT_EQ(refused(s.desk().save(par)).code, ProblemCode::Duplicate) << "one a nurse and item";
    EXPECT_EQ(must(s.desk().refillCar(s.nurse)).putIn, Eaches::of(6));
    EXPECT_EQ(must(s.desk().refillCar(s.nurse)).putIn, Eaches{}) << "it is at par";
    must(s.desk().handOver(s.nurse, home.catheter, s.kit500, Eaches::of(2), at(kMonday, 8)));
    const auto rows = must(carRows(s.desk()));
    ASSERT_EQ(rows.size(), 1U);
    EXPECT_EQ(rows[0].used, Eaches::of(2));
    EXPECT_EQ(rows[0].line.lacking(), Eaches::of(2));
    EXPECT_EQ(rows[0].standing, QStringLiteral("2 below par"));
    EXPECT_EQ(must(s.desk().refillCar(s.nurse)).putIn, Eaches::of(2));
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches::of(6));
}

} // namespace
} // namespace kitround::desk
