// From the storeroom to the home: the lot chain, four places, and who may sign.
#include "core/desk/paper/RecallPaper.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/RecallView.h"
#include "core/desk/views/RefillCallView.h"
#include "core/desk/views/StockView.h"
#include "core/supply/CarStock.h"
#include "core/supply/Recall.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;

constexpr Date kFar = Date::of(2027, 6, 1);

Delivery wanted(const Story &s, const Story::Home &home, ItemId item, std::int64_t eaches) {
    Delivery d;
    d.patient = home.patient;
    d.promisedFor = kMonday.plusDays(1);
    d.lines = {{home.catheter, item, std::nullopt, Eaches::of(eaches)}};
    (void)s;
    return d;
}

TEST(HomeSupplyStory, ALotIsFollowedFromReceiptToTheDrainItWasUsedInAlsoOnHoldAndAfterDischarge) {
    Story s;
    const auto byCourier = s.addHome("A");
    const auto byCar = s.addHome("B");
    const LotId lot = s.receive(s.kit500, "LOT-7A", 50, kFar);
    s.receive(s.kit500, "LOT-8B", 50, kFar.plusDays(100));

    Delivery parcel = must(s.desk().pick(s.promise(byCourier, s.kit500, 10, kMonday.plusDays(1)).id));
    parcel = must(s.desk().ship(parcel.id));
    Delivery carried = must(s.desk().pick(s.promise(byCar, s.kit500, 8, kMonday.plusDays(1), s.nurse).id));
    must(s.desk().topUpCar(s.otherNurse, s.kit500, Eaches::of(4)));
    s.now(at(kMonday.plusDays(1), 12));
    must(s.desk().deliver(parcel.id, at(kMonday.plusDays(1), 10), "Given Family A", "patient"));
    must(s.desk().deliver(carried.id, at(kMonday.plusDays(1), 11), "Dora Daughter", "daughter"));
    const auto used = s.drain(byCourier, at(kMonday.plusDays(1), 11, 30), 300, s.kit500, lot);

    Hold hold;
    hold.patient = byCourier.patient;
    hold.from = kMonday.plusDays(1);
    must(s.desk().save(hold));
    must(s.desk().exitPatient(
        {byCar.patient, CareStatus::Discharged, s.utc(at(kMonday.plusDays(1), 11, 45)), "goals met"}));

    // The notice writes the number in its own way.
    ASSERT_EQ(supply::lotsMatching(s.snapshot(), s.kit500, "lot 7a"), std::vector<LotId>{lot});
    const auto movements = must(s.desk().movementsOfLot(lot));
    const supply::LotTrace trace = supply::traceLot(s.index(), lot, movements);
    ASSERT_EQ(trace.homes.size(), 2U);
    const auto of = [&](const Story::Home &home) {
        return *std::ranges::find(trace.homes, home.catheter, &supply::RecallHome::catheter);
    };
    EXPECT_EQ(of(byCourier).received, Eaches::of(10));
    EXPECT_EQ(of(byCourier).there, Eaches::of(9));
    EXPECT_EQ(of(byCourier).drains, std::vector<DrainEntryId>{used.entry.id});
    EXPECT_TRUE(of(byCourier).isOnHold);
    EXPECT_EQ(of(byCar).there, Eaches::of(8));
    EXPECT_TRUE(of(byCar).hasLeft);
    const auto stop = [&](const Place &place) {
        const auto found = std::ranges::find(trace.stops, place, &supply::LotStop::place);
        return found == trace.stops.end() ? Eaches{} : found->there;
    };
    EXPECT_EQ(stop(Place::storeroom()), Eaches::of(50 - 10 - 8 - 4));
    EXPECT_EQ(stop(Place::car(s.otherNurse)), Eaches::of(4));

    // The recall itself: the shelf is emptied into quarantine, whoever carries it and the homes are called.
    must(s.desk().setLotState(lot, LotState::Recalled, "supplier's notice 12"));
    EXPECT_EQ(s.index().balance(Place::quarantine(), s.kit500), Eaches::of(28));
    EXPECT_EQ(s.balance(Place::car(s.otherNurse), s.kit500), Eaches::of(4));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(50)) << "the other lot";
    EXPECT_EQ(s.balance(Place::home(byCourier.catheter), s.kit500), Eaches::of(9));
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
}

TEST(HomeSupplyStory, StockStandsInFourPlacesAndIsNeverCountedTwice) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 50, kFar);
    const auto places = [&](DeliveryId parcel) {
        return std::vector<std::int64_t>{s.balance(Place::storeroom(), s.kit500).count(),
                                         s.balance(Place::car(s.nurse), s.kit500).count(),
                                         s.balance(Place::transit(parcel), s.kit500).count(),
                                         s.balance(Place::home(home.catheter), s.kit500).count()};
    };
    using Four = std::vector<std::int64_t>; // storeroom, car, in transit, home
    const Delivery parcel = s.promise(home, s.kit500, 10, kMonday.plusDays(1));
    EXPECT_EQ(places(parcel.id), (Four{50, 0, 0, 0})) << "a promise moves nothing";
    must(s.desk().topUpCar(s.nurse, s.kit500, Eaches::of(6)));
    EXPECT_EQ(places(parcel.id), (Four{44, 6, 0, 0}));
    must(s.desk().pick(parcel.id));
    EXPECT_EQ(places(parcel.id), (Four{34, 6, 10, 0}));
    must(s.desk().ship(parcel.id));
    EXPECT_EQ(places(parcel.id), (Four{34, 6, 10, 0}));
    s.now(at(kMonday, 15));
    must(s.desk().deliver(parcel.id, at(kMonday, 14), "Given Family A", "patient"));
    EXPECT_EQ(places(parcel.id), (Four{34, 6, 0, 10}));
    must(s.desk().handOver(s.nurse, home.catheter, s.kit500, Eaches::of(2), at(kMonday, 14, 30)));
    EXPECT_EQ(places(parcel.id), (Four{34, 4, 0, 12}));
    s.drain(home, at(kMonday, 14, 45), 300, s.kit500);
    EXPECT_EQ(places(parcel.id), (Four{34, 4, 0, 11}));
    EXPECT_EQ(s.total(s.kit500), Eaches::of(49)) << "one used of fifty";
    // Each place has its own count date: the home's is that of the count, whatever moved since.
    s.count(home, s.kit500, 11, at(kMonday, 14, 50));
    EXPECT_EQ(s.index().lastCount(home.catheter, s.kit500)->at, at(kMonday, 14, 50));
    EXPECT_EQ(places(parcel.id), (Four{34, 4, 0, 11}));
}

TEST(HomeSupplyStory, ADeliveryOfBeforeTheCountEnteredAfterItIsNotAddedTwice) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 50, kFar);
    const Delivery parcel =
        must(s.desk().ship(must(s.desk().pick(s.promise(home, s.kit500, 10, kMonday).id)).id));
    s.now(at(kMonday, 15));
    s.count(home, s.kit500, 10, at(kMonday, 14)); // the parcel came at noon and is on the shelf
    must(s.desk().deliver(parcel.id, at(kMonday, 12), "Given Family A", "patient"));
    EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches::of(10));
}

TEST(HomeSupplyStory, AShipmentIsNeverAutomaticAndEachNeedsAYesOfItsOwn) {
    Story s;
    const auto home = s.addHome("A");
    const auto other = s.addHome("B");
    Delivery d = wanted(s, home, s.kit500, 5);
    EXPECT_EQ(refused(s.desk().promise(d)).field, "refill_contact_id");
    d.contact = s.contact(home, RefillAnswer::NoAnswer).id;
    EXPECT_EQ(firstArg(refused(s.desk().promise(d))), "not_confirmed");
    d.contact = s.contact(home, RefillAnswer::Declined).id;
    EXPECT_EQ(firstArg(refused(s.desk().promise(d))), "not_confirmed");
    d.contact = s.contact(other).id;
    EXPECT_EQ(firstArg(refused(s.desk().promise(d))), "contact_of_other_patient");
    d.contact = s.contact(home).id;
    must(s.desk().promise(d));
    EXPECT_EQ(firstArg(refused(s.desk().promise(d))), "contact_used");
    // A yes of long ago is none: the payer's 30 days.
    d.contact = s.contact(home).id;
    d.promisedFor = kMonday.plusDays(31);
    EXPECT_EQ(refused(s.desk().promise(d)).code, ProblemCode::OutOfRange);
    d.promisedFor = kMonday.plusDays(30);
    EXPECT_TRUE(s.desk().promise(d));
}

TEST(HomeSupplyStory, AYesSaysWhyAndFarMoreThanOfferedKeepsAReasonOfItsOwn) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 50, kFar);
    supply::RefillProposal offer;
    offer.patient = home.patient;
    supply::RefillLine line;
    line.catheter = home.catheter;
    line.item = s.kit500;
    line.quantity = Eaches::of(5);
    line.mostHeld = Eaches::of(8);
    offer.lines = {line};
    offer.deliverFrom = kMonday;
    offer.deliverOn = offer.deliverBy = kMonday.plusDays(1);
    RefillContact yes;
    yes.patient = home.patient;
    yes.at = at(kMonday, 8);
    yes.answeredBy = "Given Family";
    EXPECT_EQ(refused(s.desk().promiseOffer(yes, wanted(s, home, s.kit500, 5), offer, {})).field,
              "reason_for_need");
    yes.reasonForNeed = "two left";
    must(s.desk().promiseOffer(yes, wanted(s, home, s.kit500, 5), offer, {}));
    const std::size_t contacts = s.snapshot().refillContacts.size();
    EXPECT_EQ(refused(s.desk().promiseOffer(yes, wanted(s, home, s.kit500, 40), offer, {" "})).field,
              "why_more");
    EXPECT_EQ(s.snapshot().refillContacts.size(), contacts) << "nothing is stored of what was refused";
    const Delivery more =
        must(s.desk().promiseOffer(yes, wanted(s, home, s.kit500, 40), offer, {"away for six weeks"}));
    const auto kept = std::ranges::find(s.snapshot().refillContacts, *more.contact, &RefillContact::id);
    ASSERT_NE(kept, s.snapshot().refillContacts.end());
    EXPECT_NE(kept->note.find("away for six weeks"), std::string::npos);
    // Nothing goes on a Sunday, and it is later than offered.
    Delivery sunday = wanted(s, home, s.kit500, 5);
    sunday.promisedFor = kMonday.plusDays(6);
    const std::size_t calls = s.snapshot().refillContacts.size();
    EXPECT_EQ(refused(s.desk().promiseOffer(yes, sunday, offer, {"", " "})).field, "why_day");
    EXPECT_EQ(s.snapshot().refillContacts.size(), calls);
    const Delivery late = must(s.desk().promiseOffer(yes, sunday, offer, {"", "the son drives there"}));
    const auto told = std::ranges::find(s.snapshot().refillContacts, *late.contact, &RefillContact::id);
    ASSERT_NE(told, s.snapshot().refillContacts.end());
    EXPECT_NE(told->note.find("Against the rules: nothing goes to this home that day"), std::string::npos);
    EXPECT_NE(told->note.find("the son drives there"), std::string::npos);
}

TEST(HomeSupplyStory, AReasonIsKeptWithAllTheRulesItIsAboutAndNoneIsKeptOfNothing) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 50, kFar);
    supply::RefillProposal offer;
    offer.patient = home.patient;
    supply::RefillLine line;
    line.catheter = home.catheter;
    line.item = s.kit500;
    line.quantity = Eaches::of(5);
    offer.lines = {line};
    offer.deliverFrom = kMonday;
    offer.deliverOn = offer.deliverBy = kMonday.plusDays(1);
    RefillContact yes;
    yes.patient = home.patient;
    yes.at = at(kMonday, 8);
    yes.answeredBy = "Given Family";
    yes.reasonForNeed = "two left";
    const auto noteOf = [&](const Delivery &promised) {
        for (const RefillContact &contact : s.snapshot().refillContacts)
            if (contact.id == promised.contact)
                return contact.note;
        return std::string("not stored");
    };
    const Delivery asOffered = wanted(s, home, s.kit500, 5);
    EXPECT_EQ(noteOf(must(s.desk().promiseOffer(yes, asOffered, offer, {"", "just so"}))), "");
    // What only a forecast tells, as the form showed it.
    const std::vector<supply::TrialBreak> shown = {
        {supply::TrialRule::DaysHeld, std::nullopt, Eaches::of(3), std::size_t{0}}};
    EXPECT_EQ(refused(s.desk().promiseOffer(yes, asOffered, offer, {"", "", shown})).field, "why_day");
    const std::string held = rulesText(s.index(), offer, shown).toStdString();
    ASSERT_FALSE(held.empty());
    EXPECT_EQ(noteOf(must(s.desk().promiseOffer(yes, asOffered, offer, {"", "away till May", shown}))),
              held + " That day all the same: away till May");
    // And what the desk sees itself, each once.
    Delivery sunday = asOffered;
    sunday.promisedFor = kMonday.plusDays(6);
    std::vector<supply::TrialBreak> all = supply::dayBreaks(s.index(), offer, sunday);
    ASSERT_FALSE(all.empty());
    all.push_back(shown.front());
    EXPECT_EQ(noteOf(must(s.desk().promiseOffer(yes, sunday, offer, {"", "the son drives", all}))),
              rulesText(s.index(), offer, all).toStdString() + " That day all the same: the son drives");
}

TEST(HomeSupplyStory, AnAllergyAndAnotherConnectorBarAnItem) {
    Story s;
    const auto home = s.addHome("A");
    Patient patient = *s.index().patient(home.patient);
    patient.allergies = {Material::Latex};
    patient.noAllergiesOn.reset();
    must(s.desk().save(patient));
    Delivery d = wanted(s, home, s.latexKit, 5);
    d.contact = s.contact(home).id;
    const Problem allergy = refused(s.desk().promise(d));
    EXPECT_EQ(allergy.code, ProblemCode::Conflict);
    EXPECT_EQ(allergy.args, (std::vector<std::string>{"allergy", "latex", "KIT-LATEX"}));
    EXPECT_EQ(allergy.row, 1);

    Catheter catheter = *s.index().catheter(home.catheter);
    catheter.connector = "square";
    must(s.desk().save(catheter));
    d.lines.front().item = s.kit500;
    EXPECT_EQ(refused(s.desk().promise(d)).args, (std::vector<std::string>{"connector", "round", "square"}));
    EXPECT_TRUE(s.snapshot().deliveries.empty());
}

TEST(HomeSupplyStory, TheFirstToExpireGoesFirstAndTwoSidesNeverShareAnEach) {
    Story s;
    const auto right = s.addHome("A");
    const auto left = s.addCatheter(right, CavitySite::Chest, Side::Left);
    const LotId late = s.receive(s.kit500, "LATE", 10, kFar);
    const LotId soon = s.receive(s.kit500, "SOON", 6, Date::of(2026, 12, 1));
    Delivery d = wanted(s, right, s.kit500, 4);
    d.lines.push_back({left.catheter, s.kit500, std::nullopt, Eaches::of(4)});
    d.contact = s.contact(right).id;
    d = must(s.desk().pick(must(s.desk().promise(d)).id));
    ASSERT_EQ(d.lines.size(), 3U);
    EXPECT_EQ(d.lines[0], (DeliveryLine{right.catheter, s.kit500, soon, Eaches::of(4)}));
    EXPECT_EQ(d.lines[1], (DeliveryLine{left.catheter, s.kit500, soon, Eaches::of(2)}));
    EXPECT_EQ(d.lines[2], (DeliveryLine{left.catheter, s.kit500, late, Eaches::of(2)}));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(8));

    // More than there is: said with the numbers, nothing packed.
    const Delivery tooMuch = s.promise(right, s.kit500, 9, kMonday.plusDays(1));
    const Problem problem = refused(s.desk().pick(tooMuch.id));
    EXPECT_EQ(problem.code, ProblemCode::Infeasible);
    EXPECT_EQ(problem.args, (std::vector<std::string>{"too_few", "KIT-500", "9", "8"}));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(8));
}

TEST(HomeSupplyStory, StaffMayNotSignForThePatient) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 20, kFar);
    const Delivery d = must(s.desk().pick(s.promise(home, s.kit500, 5, kMonday, s.nurse).id));
    for (const char *name : {"Bea Birch", "birch, BEA", " Ada Planner "}) {
        const Problem problem = refused(s.desk().deliver(d.id, at(kMonday, 8), name, ""));
        EXPECT_EQ(problem.field, "received_by") << name;
        EXPECT_EQ(firstArg(problem), "staff") << name;
    }
    EXPECT_EQ(refused(s.desk().deliver(d.id, at(kMonday, 8), "  ", "patient")).code, ProblemCode::Missing);
    EXPECT_EQ(refused(s.desk().deliver(d.id, at(kMonday, 8), "Somebody", "Nurse")).field,
              "receiver_relation");
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches::of(5));
    const Delivery done = must(s.desk().deliver(d.id, at(kMonday, 8), "Dora Daughter", "daughter"));
    EXPECT_EQ(done.receivedBy, "Dora Daughter");
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches{});
    EXPECT_EQ(firstArg(refused(s.desk().deliver(d.id, at(kMonday, 8), "Dora Daughter", "daughter"))),
              "delivered");
}

TEST(HomeSupplyStory, ACancelledParcelGoesBackByContraryMovements) {
    Story s;
    const auto home = s.addHome("A");
    const LotId lot = s.receive(s.kit500, "L1", 20, kFar);
    const Delivery d = must(s.desk().ship(must(s.desk().pick(s.promise(home, s.kit500, 5, kMonday).id)).id));
    EXPECT_EQ(refused(s.desk().cancelDelivery(d.id, "")).field, "cancel_reason");
    const Delivery cancelled = must(s.desk().cancelDelivery(d.id, "address unknown", CameBack::NeverLeft));
    EXPECT_EQ(cancelled.status, DeliveryStatus::Cancelled);
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(20));
    EXPECT_EQ(s.balance(Place::transit(d.id), s.kit500), Eaches{});
    const auto movements = must(s.desk().movementsOfLot(lot));
    ASSERT_EQ(movements.size(), 3U) << "received, packed, and back: the ledger only grows";
    EXPECT_EQ(movements.back().undoes, movements[1].id);
    EXPECT_EQ(firstArg(refused(s.desk().cancelDelivery(d.id, "again"))), "cancelled");
}

TEST(HomeSupplyStory, AParcelThatWasOutIsNotPutBackOnTheShelf) {
    Story s;
    const auto home = s.addHome("A");
    const LotId lot = s.receive(s.kit500, "L1", 20, kFar);
    const auto sent = [&] {
        return must(s.desk().ship(must(s.desk().pick(s.promise(home, s.kit500, 5, kMonday).id)).id)).id;
    };
    const DeliveryId frost = sent(), lost = sent();
    must(s.desk().cancelDelivery(frost, "left outside in frost"));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(10));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(5));
    const auto movements = must(s.desk().movementsOfLot(lot));
    EXPECT_EQ(movements.back().note, "left outside in frost");
    EXPECT_EQ(movements.back().delivery, std::optional(frost));
    must(s.desk().cancelDelivery(lost, "the carrier lost it", CameBack::Lost));
    EXPECT_EQ(s.total(s.kit500), Eaches::of(15));
    EXPECT_EQ(s.balance(Place::transit(lost), s.kit500), Eaches{});
    // Whatever becomes of the lot, what was outside stays where it is.
    must(s.desk().setLotState(lot, LotState::Quarantined, "wet cartons"));
    must(s.desk().setLotState(lot, LotState::Usable, "dry"));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(5));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(10));
    // A nurse's car is out of the storeroom as well; what is packed there only is not.
    must(s.desk().cancelDelivery(must(s.desk().pick(s.promise(home, s.kit500, 2, kMonday, s.nurse).id)).id,
                                 "torn"));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(7));
    must(s.desk().cancelDelivery(must(s.desk().pick(s.promise(home, s.kit500, 2, kMonday).id)).id,
                                 "not wanted"));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(8));
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
}

TEST(HomeSupplyStory, ARecalledLotStaysInTheNursesCarUntilItIsTakenOut) {
    Story s;
    const auto home = s.addHome("A");
    const LotId lot = s.receive(s.kit500, "L1", 20, kFar);
    must(s.desk().topUpCar(s.nurse, s.kit500, Eaches::of(2)));
    EXPECT_EQ(firstArg(refused(s.desk().takeFromCar(s.nurse, lot))), "lot_in_use");
    must(s.desk().setLotState(lot, LotState::Recalled, "notice 12"));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(18));
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches::of(2));
    EXPECT_EQ(
        firstArg(refused(s.desk().handOver(s.nurse, home.catheter, s.kit500, Eaches::of(1), at(kMonday, 8)))),
        "too_few")
        << "nothing of it is usable";
    const auto lines = supply::carLines(s.index());
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_EQ(lines[0].outOfUse, Eaches::of(2));

    const auto carried = [&] {
        const auto items = attention(*s.agency(), nullptr, nullptr);
        const auto item = std::ranges::find_if(items, [&](const AttentionItem &i) {
            return i.kind == AttentionKind::LotRecalled && i.nurse == s.nurse;
        });
        return item == items.end() ? QString() : item->title;
    };
    EXPECT_TRUE(carried().endsWith(QStringLiteral("carries 2 of recalled lot L1")))
        << carried().toStdString();
    const auto stopOfCar = [&] {
        const RecallView view = recallView(*s.agency(), lot, must(s.desk().movementsOfLot(lot)));
        const auto stop = std::ranges::find(view.stops, std::optional(s.nurse), &RecallStopRow::car);
        return stop == view.stops.end() ? RecallStopRow{} : *stop;
    };
    EXPECT_EQ(stopOfCar().there, Eaches::of(2));
    EXPECT_TRUE(stopOfCar().todo.contains(QStringLiteral("have it taken out")));
    const RecallView view = recallView(*s.agency(), lot, must(s.desk().movementsOfLot(lot)));
    const Paper paper = recallPaper(*s.agency(), view);
    const Table &withUs = *paper.sections[0].table;
    EXPECT_TRUE(std::ranges::any_of(withUs.rows, [](const auto &row) {
        return row[2] == "2" && row[3].find("taken out") != std::string::npos;
    }));

    EXPECT_EQ(must(s.desk().takeFromCar(s.nurse, lot)).quantity, Eaches::of(2));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(20));
    EXPECT_EQ(carried(), QString());
    EXPECT_FALSE(stopOfCar().car);
    EXPECT_EQ(firstArg(refused(s.desk().takeFromCar(s.nurse, lot))), "lot_not_in_car");
    must(s.desk().setLotState(lot, LotState::Usable, "notice withdrawn"));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(20));
}

TEST(HomeSupplyStory, AHomeThatTookLessIsNotToBeCalledAgainToday) {
    Story s;
    const auto home = s.addHome("A");
    EXPECT_FALSE(saidYesToday(s.index(), home.patient));
    const Delivery d = s.promise(home, s.kit500, 1, kMonday.plusDays(1));
    EXPECT_TRUE(saidYesToday(s.index(), home.patient));
    EXPECT_EQ(answeredTodayText(s.index(), home.patient), QStringLiteral("took less today"));
    must(s.desk().cancelDelivery(d.id, "not wanted after all"));
    EXPECT_EQ(answeredTodayText(s.index(), home.patient), QString()) << "what it said yes to does not come";
}

TEST(HomeSupplyStory, ARecallOpensAPackedParcelAndItIsPackedAgainFromAGoodLot) {
    Story s;
    const auto home = s.addHome("A");
    const LotId bad = s.receive(s.kit500, "BAD", 10, Date::of(2026, 12, 1));
    const LotId good = s.receive(s.kit500, "GOOD", 10, kFar);
    Delivery d = must(s.desk().pick(s.promise(home, s.kit500, 5, kMonday.plusDays(1), s.nurse).id));
    EXPECT_EQ(d.lines.front().lot, bad);
    must(s.desk().setLotState(bad, LotState::Recalled, "notice"));
    EXPECT_EQ(s.delivery(d.id).status, DeliveryStatus::Promised);
    EXPECT_FALSE(s.delivery(d.id).lines.front().lot);
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(5));
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches::of(5)) << "it lies in the car still";
    d = must(s.desk().pick(d.id));
    EXPECT_EQ(d.lines.front().lot, good);
    EXPECT_EQ(must(s.desk().takeFromCar(s.nurse, bad)).quantity, Eaches::of(5)) << "not what is packed anew";
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(10));
    // Released again after all: everything that was held comes back to the shelf.
    must(s.desk().setLotState(bad, LotState::Usable, "notice withdrawn"));
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches{});
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(15));
}

TEST(HomeSupplyStory, OfAParcelThatARecallOpensTheGoodLotLiesInTheCarAsWell) {
    Story s;
    const auto home = s.addHome("A");
    const LotId bad = s.receive(s.kit500, "BAD", 3, Date::of(2026, 12, 1));
    s.receive(s.kit500, "GOOD", 10, kFar);
    const Delivery d = must(s.desk().pick(s.promise(home, s.kit500, 5, kMonday.plusDays(1), s.nurse).id));
    ASSERT_EQ(d.lines.size(), 2U);
    must(s.desk().setLotState(bad, LotState::Recalled, "notice"));
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches::of(5));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(8))
        << "nobody has brought the good two back";
    EXPECT_EQ(must(s.desk().takeFromCar(s.nurse, bad)).quantity, Eaches::of(3));
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches::of(2));
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
}

TEST(HomeSupplyStory, WhatIsPackedForAHomeIsNotHandedToAnother) {
    Story s;
    const auto home = s.addHome("A");
    const auto other = s.addHome("B");
    s.receive(s.kit500, "L1", 20, kFar);
    must(s.desk().pick(s.promise(home, s.kit500, 5, kMonday, s.nurse).id));
    must(s.desk().topUpCar(s.nurse, s.kit500, Eaches::of(2)));
    EXPECT_EQ(
        refused(s.desk().handOver(s.nurse, other.catheter, s.kit500, Eaches::of(3), at(kMonday, 8))).args,
        (std::vector<std::string>{"too_few", "KIT-500", "3", "2"}));
    EXPECT_TRUE(s.desk().handOver(s.nurse, other.catheter, s.kit500, Eaches::of(2), at(kMonday, 8)));
}

} // namespace
} // namespace kitround::desk
