// Another lot was taken than the desk chose: the record follows what is really in the parcel.
#include "core/base/Random.h"
#include "core/desk/paper/Papers.h"
#include "core/desk/views/LotsTaken.h"
#include "core/desk/words/Words.h"
#include "core/records/Gtin.h"
#include "core/supply/Ledger.h"
#include "core/supply/Recall.h"
#include "tests/core/desk/Story.h"

#include <algorithm>
#include <map>

namespace kitround::desk {
namespace {

using Lots = std::vector<std::pair<LotId, std::int64_t>>;
using Args = std::vector<std::string>;

constexpr Date kSoon = Date::of(2026, 12, 1);
constexpr Date kLate = Date::of(2027, 6, 1);

// Twenty of each of two lots on the shelf, and a home.
struct LotsStory : Story {
    LotsStory()
        : home(addHome("A")), soon(receive(kit500, "SOON", 20, kSoon)),
          late(receive(kit500, "LATE", 20, kLate)) {}

    Delivery picked(std::int64_t eaches, std::optional<NurseId> carriedBy = std::nullopt) {
        return must(desk().pick(promise(home, kit500, eaches, kMonday.plusDays(1), carriedBy).id));
    }
    Delivery shipped(std::int64_t eaches) { return must(desk().ship(picked(eaches).id)); }
    Delivery delivered(std::int64_t eaches) {
        return must(desk().deliver(shipped(eaches).id, kMorning, "Dora Daughter", "daughter"));
    }
    LotsTaken taken(const Delivery &delivery, const Lots &lots, const std::string &why = {}) const {
        LotsTaken all{delivery.id, index().delivery(delivery.id)->rowVersion, {}, why};
        for (const auto &[lot, eaches] : lots)
            all.lines.push_back({home.catheter, kit500, lot, Eaches::of(eaches)});
        return all;
    }
    LotsCorrected correct(const Delivery &delivery, const Lots &lots, const std::string &why = {}) {
        return must(desk().correctLots(taken(delivery, lots, why)));
    }
    Problem refusal(const Delivery &delivery, const Lots &lots) {
        const std::size_t audit = auditLength();
        const Problem problem = refused(desk().correctLots(taken(delivery, lots)));
        EXPECT_EQ(auditLength(), audit) << "nothing is written of what was refused";
        return problem;
    }
    std::int64_t lotAt(const Place &place, LotId lot) const {
        std::int64_t there = 0;
        for (const StockBalance &row : index().balancesAt(place))
            there += row.lot == lot ? row.quantity.count() : 0;
        return there;
    }
    std::vector<supply::RecallHome> homesOf(LotId lot) {
        return supply::traceLot(index(), lot, must(desk().movementsOfLot(lot))).homes;
    }

    static constexpr LocalTime kMorning = at(kMonday, 8);
    Home home;
    LotId soon, late;
};

TEST(LotsTaken, TheWrongLotGoesBackTheRightOneLeavesAndSlipAndRecallFollow) {
    LotsStory s;
    const Delivery d = s.picked(10);
    ASSERT_EQ(d.lines, (std::vector<DeliveryLine>{{s.home.catheter, s.kit500, s.soon, Eaches::of(10)}}));
    const LotsCorrected done = s.correct(d, {{s.late, 7}, {s.soon, 3}}, "at the back");
    const Delivery &now = s.delivery(d.id);
    EXPECT_EQ(now, done.delivery);
    EXPECT_EQ(now.lines, (std::vector<DeliveryLine>{{s.home.catheter, s.kit500, s.late, Eaches::of(7)},
                                                    {s.home.catheter, s.kit500, s.soon, Eaches::of(3)}}));
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.soon), 17);
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.late), 13);
    EXPECT_EQ(s.lotAt(Place::transit(d.id), s.soon), 3);
    EXPECT_EQ(s.lotAt(Place::transit(d.id), s.late), 7);
    // What stays behind though it expires earlier is said, not refused.
    ASSERT_EQ(done.flags.size(), 1U);
    EXPECT_EQ(done.flags[0].args, (Args{"earlier_stays", "SOON", "2026-12-01", "17"}));
    EXPECT_TRUE(words(done.flags[0]).contains(QStringLiteral("17 of it stay in the storeroom")));
    // Nothing is overwritten: a contrary movement, with the reason.
    const auto movements = must(s.desk().movementsOfLot(s.soon));
    EXPECT_EQ(std::ranges::count_if(
                  movements, [](const StockMovement &m) { return m.undoes && m.note == "at the back"; }),
              1);

    const Paper slip = deliverySlip(*s.agency(), now);
    EXPECT_EQ(slip.sections[1].table->rows[0][2], "LATE");
    EXPECT_EQ(slip.sections[1].table->rows[1][2], "SOON");
    must(s.desk().ship(d.id));
    must(s.desk().deliver(d.id, LotsStory::kMorning, "Dora Daughter", "daughter"));
    ASSERT_EQ(s.homesOf(s.late).size(), 1U);
    EXPECT_EQ(s.homesOf(s.late)[0].received, Eaches::of(7));
    EXPECT_EQ(s.homesOf(s.soon)[0].received, Eaches::of(3));
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
}

TEST(LotsTaken, OnItsWayAndInTheCarAsWellAndCancelledItAllGoesBack) {
    LotsStory s;
    const Delivery parcel = s.shipped(10);
    s.correct(parcel, {{s.late, 10}});
    EXPECT_EQ(s.lotAt(Place::transit(parcel.id), s.late), 10);
    EXPECT_EQ(s.lotAt(Place::transit(parcel.id), s.soon), 0);
    EXPECT_EQ(s.delivery(parcel.id).status, DeliveryStatus::InTransit);
    const Delivery carried = s.picked(4, s.nurse);
    s.correct(carried, {{s.late, 4}});
    EXPECT_EQ(s.lotAt(Place::car(s.nurse), s.late), 4);
    EXPECT_EQ(s.lotAt(Place::car(s.nurse), s.soon), 0);
    s.correct(carried, {{s.soon, 1}, {s.late, 3}}); // and once more
    EXPECT_EQ(s.lotAt(Place::car(s.nurse), s.late), 3);
    must(s.desk().cancelDelivery(parcel.id, "the home called", CameBack::NeverLeft));
    must(s.desk().cancelDelivery(carried.id, "the home called", CameBack::NeverLeft));
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.soon), 20);
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.late), 20);
    EXPECT_EQ(firstArg(s.refusal(carried, {{s.late, 4}})), "cancelled");
}

TEST(LotsTaken, WhatDoesNotAddUpOrIsNotThereIsRefusedWithTheWayOn) {
    LotsStory s;
    EXPECT_EQ(firstArg(s.refusal(s.promise(s.home, s.kit500, 2, kMonday), {{s.late, 2}})), "not_picked");
    const Delivery d = s.picked(30);
    ASSERT_EQ(d.lines.size(), 2U) << "20 of the one, 10 of the other";
    const Problem less = s.refusal(d, {{s.soon, 20}, {s.late, 9}});
    EXPECT_EQ(less.field, "quantity");
    EXPECT_EQ(less.row, 1);
    EXPECT_EQ(less.args, (Args{"not_the_line", "KIT-500 (invented)", "30", "29"}));
    const Problem tooFew = s.refusal(d, {{s.late, 30}});
    EXPECT_EQ(tooFew.args, (Args{"lot_too_few", "LATE", "10", "20"}));
    EXPECT_TRUE(words(tooFew).contains(QStringLiteral("count the item first (Storeroom, Count)")));
    const LotId other = s.receive(s.kit1000, "OTHER", 40, kLate);
    EXPECT_EQ(firstArg(s.refusal(d, {{other, 30}})), "lot_of_other_item");
    EXPECT_EQ(s.refusal(d, {{LotId{}, 30}}).code, ProblemCode::Missing);
    EXPECT_EQ(s.refusal(d, {{s.soon, 31}, {s.late, -1}}).code, ProblemCode::Infeasible);
    EXPECT_EQ(firstArg(s.refusal(d, {{s.soon, 20}, {s.late, 10}})), "already");
    EXPECT_EQ(s.delivery(d.id), d);
}

TEST(LotsTaken, WhatAnotherSeatHasPutRightMeanwhileIsNotOverwritten) {
    LotsStory s;
    const Delivery d = s.picked(10);
    const LotsTaken mine = s.taken(d, {{s.late, 10}});
    auto other = must(Desk::open(s.path(), {}, s.clock(), {}, {}));
    must(other->correctLots(s.taken(d, {{s.soon, 6}, {s.late, 4}})));
    s.addHome("B"); // after it the file is read again, with the other seat's lots
    ASSERT_EQ(s.delivery(d.id).lines.size(), 2U);
    const std::size_t audit = s.auditLength();
    const Problem problem = refused(s.desk().correctLots(mine));
    EXPECT_EQ(problem.code, ProblemCode::ChangedMeanwhile);
    EXPECT_TRUE(words(problem).contains(QStringLiteral("another seat has saved this record (delivery)")))
        << words(problem).toStdString();
    EXPECT_EQ(s.auditLength(), audit);
    EXPECT_EQ(s.lotAt(Place::transit(d.id), s.late), 4);
    s.correct(s.delivery(d.id), {{s.late, 10}}); // looked at again
    EXPECT_EQ(s.lotAt(Place::transit(d.id), s.late), 10);
}

TEST(LotsTaken, ALotOutOfUseIsRefusedAndAShortDatedOneSaid) {
    LotsStory s;
    const LotId held = s.receive(s.kit500, "HELD", 20, kLate.plusDays(90));
    must(s.desk().setLotState(held, LotState::Quarantined, "torn box"));
    const Delivery d = s.picked(10);
    EXPECT_EQ(s.refusal(d, {{held, 10}}).args, (Args{"lot_quarantined", "HELD"}));
    must(s.desk().setLotState(held, LotState::Recalled, "notice 12"));
    EXPECT_EQ(s.refusal(d, {{held, 10}}).args, (Args{"lot_recalled", "HELD"}));

    s.now(at(Date::of(2026, 11, 2), 9)); // 29 days left of 60
    const Delivery near = must(s.desk().pick(s.promise(s.home, s.kit500, 5, Date::of(2026, 11, 3)).id));
    ASSERT_EQ(near.lines.front().lot, s.late) << "short-dated is given last";
    const LotsCorrected done = s.correct(near, {{s.soon, 5}});
    ASSERT_EQ(done.flags.size(), 1U);
    EXPECT_EQ(done.flags[0].args, (Args{"short_dated", "SOON", "2026-12-01"}));
    // Good on the day it arrives, not on the day it is packed.
    const Delivery after = must(s.desk().pick(s.promise(s.home, s.kit500, 5, Date::of(2026, 12, 2)).id));
    EXPECT_EQ(s.refusal(after, {{s.soon, 5}}).args, (Args{"lot_expired", "SOON", "2026-12-01"}));
}

TEST(LotsTaken, WhatIsOutIsWrittenDownAlsoWhereItShouldNotBeAndARecalledLotComesBackToQuarantine) {
    LotsStory s;
    const Delivery wrong = s.shipped(10), packed = s.shipped(5);
    s.correct(packed, {{s.late, 5}});
    must(s.desk().setLotState(s.soon, LotState::Recalled, "notice 12"));
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 10);
    EXPECT_EQ(s.correct(wrong, {{s.late, 10}}).flags, Problems{});
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 20) << "never back to the shelf";
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.soon), 0);
    // The parcel has left with the recalled lot in it: the trace has to know.
    const LotsCorrected out = s.correct(packed, {{s.soon, 5}});
    ASSERT_EQ(out.flags.size(), 1U);
    EXPECT_EQ(out.flags[0].args, (Args{"lot_recalled", "SOON"}));
    EXPECT_EQ(s.lotAt(Place::transit(packed.id), s.soon), 5);
    const auto toRing = s.homesOf(s.soon);
    ASSERT_EQ(toRing.size(), 1U) << "the home is rung before the parcel is there";
    EXPECT_EQ(toRing.front().onTheWay, Eaches::of(5));
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 15);
    must(s.desk().setLotState(s.soon, LotState::Usable, "clear"));
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.soon), 15);
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 0);
}

TEST(LotsTaken, AParcelThatComesBackWithALotOutOfUseComesBackIntoQuarantine) {
    LotsStory s;
    const Delivery recalled = s.shipped(10), carried = must(s.desk().ship(s.picked(4, s.nurse).id));
    const Delivery mixed = s.shipped(10); // the last six of the one, four of the other
    ASSERT_EQ(mixed.lines.size(), 2U);
    must(s.desk().setLotState(s.soon, LotState::Quarantined, "wet cartons"));
    must(s.desk().cancelDelivery(recalled.id, "the home called", CameBack::NeverLeft));
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 10) << "never back to the shelf";
    EXPECT_EQ(s.lotAt(Place::transit(recalled.id), s.soon), 0);
    must(s.desk().cancelDelivery(carried.id, "the home called", CameBack::NeverLeft));
    must(s.desk().cancelDelivery(mixed.id, "the home called", CameBack::NeverLeft));
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 20);
    EXPECT_EQ(s.lotAt(Place::car(s.nurse), s.soon), 0);
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.soon), 0);
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.late), 20) << "the other lot is good";
    // From one state out of use to the other nothing moves; released, all of it comes back once.
    must(s.desk().setLotState(s.soon, LotState::Recalled, "notice 12"));
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 20);
    must(s.desk().setLotState(s.soon, LotState::Usable, "clear"));
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 0);
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.soon), 20);
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
}

TEST(LotsTaken, WhatWasUnderWayAtAnExitComesBackIntoQuarantineIfItsLotIsRecalledMeanwhile) {
    LotsStory s;
    const Delivery away = s.shipped(10), packed = s.picked(4);
    must(s.desk().exitPatient({s.home.patient, CareStatus::Deceased, s.utc(at(kMonday, 7)), "died at home"}));
    ASSERT_EQ(s.delivery(packed.id).status, DeliveryStatus::Cancelled);
    must(s.desk().setLotState(s.soon, LotState::Recalled, "notice 12"));
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 10);
    must(s.desk().cancelDelivery(away.id, "nobody there any more", CameBack::NeverLeft));
    EXPECT_EQ(s.lotAt(Place::quarantine(), s.soon), 20);
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.soon), 0);
}

TEST(LotsTaken, ADeliveredLotIsPutRightAtTheHomeAndWhoNeverHadItIsNotCalled) {
    LotsStory s;
    const Delivery d = s.delivered(10);
    s.correct(d, {{s.late, 10}});
    const Place there = Place::home(s.home.catheter);
    EXPECT_EQ(s.balance(there, s.kit500), Eaches::of(10));
    EXPECT_EQ(s.lotAt(there, s.late), 10);
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.soon), 20);
    EXPECT_EQ(s.lotAt(Place::storeroom(), s.late), 10);
    EXPECT_TRUE(s.homesOf(s.soon).empty());
    ASSERT_EQ(s.homesOf(s.late).size(), 1U);
    EXPECT_EQ(s.homesOf(s.late)[0].received, Eaches::of(10));
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});

    // What a drain names is corrected in the log, not behind its back.
    s.now(at(kMonday, 12));
    s.drain(s.home, at(kMonday, 11), 300, s.kit500, s.late);
    EXPECT_EQ(s.refusal(d, {{s.soon, 10}}).args, (Args{"lot_left_home", "LATE", "1"}));
    s.correct(d, {{s.soon, 9}, {s.late, 1}});
    EXPECT_EQ(s.lotAt(there, s.late), 0);
    EXPECT_EQ(s.lotAt(there, s.soon), 9);
}

TEST(LotsTaken, ACountAtTheHomeStaysTrueWhicheverLotItWas) {
    LotsStory s;
    const Delivery d = s.shipped(10);
    s.now(at(kMonday, 15));
    s.count(s.home, s.kit500, 10, at(kMonday, 14)); // the parcel came at noon and was on the shelf
    must(s.desk().deliver(d.id, at(kMonday, 12), "Dora Daughter", "daughter"));
    const Place there = Place::home(s.home.catheter);
    ASSERT_EQ(s.balance(there, s.kit500), Eaches::of(10));
    s.correct(d, {{s.late, 6}, {s.soon, 4}});
    EXPECT_EQ(s.balance(there, s.kit500), Eaches::of(10));
    EXPECT_EQ(s.lotAt(there, s.soon), 0);
    EXPECT_EQ(s.lotAt(there, s.late), 0) << "counted as stock of no lot";
    EXPECT_EQ(s.homesOf(s.soon)[0].received, Eaches::of(4));
    EXPECT_EQ(s.homesOf(s.late)[0].received, Eaches::of(6));
}

TEST(LotsTaken, TwoLinesOfAPatientMayHaveChangedTheirLotsWithoutAnyLeavingTheShelf) {
    LotsStory s;
    const auto left = s.addCatheter(s.home, CavitySite::Chest, Side::Left);
    Delivery d;
    d.patient = s.home.patient;
    d.promisedFor = kMonday.plusDays(1);
    d.contact = s.contact(s.home).id;
    d.lines = {{s.home.catheter, s.kit500, std::nullopt, Eaches::of(20)},
               {left.catheter, s.kit500, std::nullopt, Eaches::of(5)}};
    d = must(s.desk().pick(must(s.desk().promise(d)).id));
    const std::size_t before = must(s.desk().movementsOfLot(s.late)).size();
    const LotsTaken other{d.id,
                          d.rowVersion,
                          {{s.home.catheter, s.kit500, s.soon, Eaches::of(15)},
                           {s.home.catheter, s.kit500, s.late, Eaches::of(5)},
                           {left.catheter, s.kit500, s.soon, Eaches::of(5)}},
                          "mixed up"};
    must(s.desk().correctLots(other));
    EXPECT_EQ(s.delivery(d.id).lines, other.lines);
    EXPECT_EQ(must(s.desk().movementsOfLot(s.late)).size(), before);
    EXPECT_TRUE(std::ranges::any_of(
        must(s.desk().audit(10, "delivery", d.id.value())),
        [](const AuditEntry &e) { return e.after.find("mixed up") != std::string::npos; }))
        << "the reason is kept";
}

TEST(LotsTaken, LotsAreOfferedAsTheyAreGivenAndALabelMeansALotOfTheDelivery) {
    LotsStory s;
    s.receive(s.kit1000, "BIG", 10, kLate);
    const Delivery d = s.picked(10);
    const auto offers = lotOffers(*s.agency(), d, s.kit500);
    ASSERT_EQ(offers.size(), 2U);
    EXPECT_EQ(offers[0].text, QStringLiteral("SOON, 10 on the shelf, last day of use Tue 1 Dec 2026"));
    EXPECT_EQ(offers[1].number, QStringLiteral("LATE"));

    const auto scanned = [&](const std::string &text) { return scannedLot(*s.agency(), d, text); };
    EXPECT_EQ(must(scanned("late")), s.late);
    EXPECT_EQ(must(scanned("(10)LATE")), s.late);
    EXPECT_EQ(refused(scanned("(10)NONE")).code, ProblemCode::UnknownRecord);
    EXPECT_EQ(refused(scanned("(10)BIG")).args, (Args{"lot_of_other_item", "BIG"}));
    EXPECT_EQ(must(numberedLot(s.snapshot(), s.kit500, "late")), s.late);
    EXPECT_EQ(refused(numberedLot(s.snapshot(), s.kit500, "big")).args, (Args{"lot_of_other_item", "BIG"}));
    EXPECT_EQ(refused(numberedLot(s.snapshot(), s.kit500, "NONE")).code, ProblemCode::UnknownRecord);
    EXPECT_EQ(firstArg(refused(scanned("(17)270601"))), "label_without_lot");
    const std::string digits = "0952999999999";
    const std::string article = "(01)" + digits + gs1CheckDigit(digits);
    EXPECT_EQ(firstArg(refused(scanned(article + "(10)LATE"))), "not_in_delivery");
}

TEST(LotsTaken, ABoxThatMayNotGoIsRefusedAtTheScanAsItWouldBeAtTheSave) {
    LotsStory s;
    const LotId held = s.receive(s.kit500, "HELD", 20, kLate.plusDays(90));
    const Delivery d = s.picked(10);
    const auto problem = [&](const Delivery &of, const std::string &text) {
        const Problem found = refused(scannedLot(*s.agency(), of, text));
        EXPECT_EQ(found.field, "scan");
        EXPECT_TRUE(putsBoxAside(found)) << debugText(found);
        return found;
    };
    must(s.desk().setLotState(held, LotState::Quarantined, "torn box"));
    EXPECT_EQ(problem(d, "(10)HELD").args, (Args{"lot_quarantined", "HELD"}));
    must(s.desk().setLotState(held, LotState::Recalled, "notice 12"));
    EXPECT_EQ(problem(d, "held").args, (Args{"lot_recalled", "HELD"}));

    // The label and the record differ: nobody guesses which of the two is right.
    EXPECT_EQ(must(scannedLot(*s.agency(), d, "(17)270601(10)LATE")), s.late);
    const Problem other = problem(d, "(17)251101(10)LATE");
    EXPECT_EQ(other.args, (Args{"label_other_expiry", "LATE", "2025-11-01", "2027-06-01"}));
    EXPECT_TRUE(words(other).contains(QStringLiteral(
        "the label says Sat 1 Nov 2025 and the record says Tue 1 Jun 2027. Put the box aside")))
        << words(other).toStdString();
    EXPECT_FALSE(putsBoxAside(refused(scannedLot(*s.agency(), d, "(10)NONE")))) << "only not on file";

    // What has left is written down whatever it is.
    must(s.desk().ship(d.id));
    EXPECT_EQ(must(scannedLot(*s.agency(), s.delivery(d.id), "(10)HELD")), held);
    EXPECT_TRUE(lotOutOfUse(*s.agency(), s.delivery(d.id), *s.index().lot(held)));
}

TEST(LotsTaken, ThatARecalledLotHasLeftIsSaidBeforeThatTheBooksHaveNoneOfIt) {
    LotsStory s;
    const LotId held = s.receive(s.kit500, "HELD", 2, kLate.plusDays(90));
    const Delivery d = s.shipped(10);
    must(s.desk().setLotState(held, LotState::Recalled, "notice 12"));
    const Problems found = flattened(s.refusal(d, {{held, 10}}));
    ASSERT_EQ(found.size(), 2U);
    EXPECT_EQ(found[0].args, (Args{"lot_recalled", "HELD"}));
    EXPECT_EQ(found[0].row, 1);
    EXPECT_EQ(found[1].args, (Args{"lot_too_few", "HELD", "2", "10"}));
    EXPECT_TRUE(words(found[0]).contains(QStringLiteral("ring the home today")));
}

TEST(LotsTaken, ThePickListSaysWhereItIsEntered) {
    LotsStory s;
    s.correct(s.picked(10), {{s.late, 10}});
    const Paper paper = pickList(*must(computeStock(s.agency(), {}, {})));
    QStringList all;
    for (const Paper::Section &section : paper.sections)
        all << section.lines;
    EXPECT_TRUE(all.join(u' ').contains(QStringLiteral("Deliveries, Lot taken was another")));
    EXPECT_TRUE(
        QString::fromStdString(paper.sections[0].table->rows[0][4]).startsWith(QStringLiteral("LATE")));
    EXPECT_EQ(paper.sections[0].table->rows[0][5], "picked already") << "nobody picks it twice";
}

// Rows of all tables: how many, and the lot by its number.
std::vector<std::pair<std::string, std::string>> listedLots(const Story &s) {
    std::vector<std::pair<std::string, std::string>> listed;
    for (const Paper::Section &section : pickList(*must(computeStock(s.agency(), {}, {}))).sections)
        if (section.table)
            for (const auto &row : section.table->rows)
                listed.emplace_back(row[3], row[4].substr(0, row[4].find_first_of(",:")));
    return listed;
}

TEST(LotsTaken, ThePickListNamesTheLotsThatArePicked) {
    LotsStory s;
    Item kit = *s.index().item(s.kit500);
    kit.leastLifeToHome = kit.leastLifeOnReceipt = Days{};
    must(s.desk().save(kit));
    s.receive(s.kit500, "ENDS", 6, kMonday.plusDays(2)); // good for what comes until then, not for later
    const Delivery later = s.promise(s.home, s.kit500, 12, kMonday.plusDays(3));
    const Delivery first = s.promise(s.home, s.kit500, 2, kMonday.plusDays(1));
    const auto listed = listedLots(s);
    std::vector<std::pair<std::string, std::string>> taken;
    for (const DeliveryId id : {first.id, later.id})
        for (const DeliveryLine &line : must(s.desk().pick(id)).lines)
            taken.emplace_back(std::to_string(line.quantity.count()), s.index().lot(*line.lot)->number);
    EXPECT_EQ(listed, taken);
    EXPECT_EQ(taken, (std::vector<std::pair<std::string, std::string>>{{"2", "ENDS"}, {"12", "SOON"}}));

    // What is over by then is missing, on the list as at the pick.
    const Delivery last = s.promise(s.home, s.kit500, 30, kMonday.plusDays(3));
    EXPECT_EQ(refused(s.desk().pick(last.id)).args, (Args{"too_few", "KIT-500", "30", "28"}));
    EXPECT_EQ(listedLots(s).back(), (std::pair<std::string, std::string>{"2", "MISSING"}));
}

// ---- whatever is corrected, the balances are the sum of the movements and the lines say what stands where

void expectBooksTie(Story &s, const std::vector<LotId> &lots, std::int64_t ofEach) {
    const auto file = must(store::AgencyFile::open(s.path(), store::OpenMode::ReadOnly));
    const auto sums = supply::balancesOf(must(file->allMovements()));
    const auto &balances = s.snapshot().balances;
    EXPECT_TRUE(std::ranges::is_permutation(sums, balances));
    std::map<std::pair<Place, LotId>, std::int64_t> packed;
    for (const Delivery &d : s.snapshot().deliveries)
        for (const DeliveryLine &line : d.lines)
            packed[{d.status == DeliveryStatus::Delivered ? Place::home(line.catheter)
                    : d.way == DeliveryWay::WithVisit     ? Place::car(*d.carriedBy)
                                                          : Place::transit(d.id),
                    line.lot.value_or(LotId{})}] += line.quantity.count();
    std::map<LotId, std::int64_t> all;
    for (const StockBalance &row : balances) {
        EXPECT_GT(row.quantity.count(), 0);
        all[row.lot.value_or(LotId{})] += row.quantity.count();
        if (row.place.kind != PlaceKind::Storeroom) {
            EXPECT_EQ((packed[{row.place, row.lot.value_or(LotId{})}]), row.quantity.count());
        }
    }
    for (const LotId lot : lots)
        EXPECT_EQ(all[lot], ofEach) << "nothing is lost or made";
}

// The delivery's lines, each filled anew from up to three lots that are drawn.
LotsTaken drawnLots(const Delivery &d, const std::vector<LotId> &lots, Random &random) {
    LotsTaken taken{d.id, d.rowVersion, {}, {}};
    for (const DeliveryLine &line : d.lines)
        for (std::int64_t left = line.quantity.count(); left > 0;) {
            const std::int64_t part = random.chance(0.4) ? left : random.between(1, left);
            const LotId lot = lots[static_cast<std::size_t>(random.below(lots.size()))];
            taken.lines.push_back({line.catheter, line.item, lot, Eaches::of(part)});
            left -= part;
        }
    return taken;
}

TEST(LotsTakenProperty, AfterAnyCorrectionsBooksAndLinesTie) {
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        Story s;
        Random random(seed);
        std::vector<LotId> lots;
        for (const char *number : {"L1", "L2", "L3", "L4"})
            lots.push_back(s.receive(s.kit500, number, 15, kSoon.plusDays(random.between(0, 300))));
        std::vector<DeliveryId> open;
        for (const char *code : {"A", "B", "C", "D"}) {
            const auto carrier = random.chance(0.5) ? std::optional(s.nurse) : std::nullopt;
            const Delivery promised =
                s.promise(s.addHome(code), s.kit500, random.between(3, 11), kMonday.plusDays(1), carrier);
            open.push_back(must(s.desk().pick(promised.id)).id);
        }
        int corrected = 0;
        for (int step = 0; step < 24; ++step) {
            const Delivery d = s.delivery(open[static_cast<std::size_t>(random.below(open.size()))]);
            if (random.chance(0.15) && d.status == DeliveryStatus::Picked)
                must(s.desk().ship(d.id));
            else if (random.chance(0.15) && d.status == DeliveryStatus::InTransit)
                must(s.desk().deliver(d.id, at(kMonday, 8), "Dora Daughter", "daughter"));
            else if (const auto done = s.desk().correctLots(drawnLots(d, lots, random)))
                ++corrected;
            else
                EXPECT_TRUE(firstArg(done.error()) == "lot_too_few" || firstArg(done.error()) == "already")
                    << debugText(done.error());
            expectBooksTie(s, lots, 15);
        }
        EXPECT_GT(corrected, 5) << "seed " << seed;
    }
}

} // namespace
} // namespace kitround::desk
