// A hold pauses everything together; an exit stops everything the same hour. Both are told before they are
// saved, and an exit that was entered by mistake has a way back.
#include "core/calendar/Deadlines.h"
#include "core/calendar/Zone.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/views/PatientView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/safety/Cautions.h"
#include "core/supply/CarStock.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;

struct Running { // what goes on for one patient
    int visitsDue = 0;
    int refills = 0;
    int silences = 0;
    std::int64_t catheterDays = 0;
};
Running running(const Story &story, const Story::Home &home, DateRange week, DateRange days) {
    Running r;
    const SnapshotIndex &index = story.index();
    for (const auto &due : rounds::visitsDue(index, week))
        r.visitsDue += due.visit.patient == home.patient ? 1 : 0;
    const auto stock = must(computeStock(story.agency(), {}, {}));
    for (const auto &refill : stock->refills)
        r.refills += refill.patient == home.patient ? 1 : 0;
    for (const CallItem &item : safety::standingCautions(index))
        r.silences += item.patient == home.patient && item.kind == CautionKind::Silence ? 1 : 0;
    std::vector<Hold> holds;
    for (const Hold *hold : index.holdsOf(home.patient))
        holds.push_back(*hold);
    r.catheterDays = calendar::catheterDays(*index.catheter(home.catheter), holds, days,
                                            must(calendar::Zone::named("America/New_York")))
                         .count();
    return r;
}

// A home that drains daily, owes two visits a week, runs low, and has not logged for long.
Story::Home lowAndSilentHome(Story &story) {
    const auto home = story.addHome("A");
    story.order(home, everyDays(1, Date::of(2026, 2, 2)), Date::of(2026, 2, 2), story.kit500);
    story.visits(home, 2, 8, Date::of(2026, 2, 8));
    story.count(home, story.kit500, 3, at(kMonday, 7));
    return home;
}

TEST(HoldStory, VisitsRefillsSilenceAndCatheterDaysPauseTogetherAndResumeTogether) {
    Story story;
    const auto home = lowAndSilentHome(story);
    const DateRange nextWeek{Date::of(2026, 3, 8), Date::of(2026, 3, 15)};
    const DateRange tenDays{kMonday, kMonday.plusDays(10)};
    const Running before = running(story, home, nextWeek, tenDays);
    EXPECT_GE(before.visitsDue, 2);
    EXPECT_EQ(before.refills, 1);
    EXPECT_EQ(before.silences, 1);
    EXPECT_EQ(before.catheterDays, 10);

    Hold hold;
    hold.patient = home.patient;
    hold.from = kMonday;
    hold.reason = "hospital";
    hold = must(story.desk().save(hold));
    const Running during = running(story, home, nextWeek, tenDays);
    EXPECT_EQ(during.visitsDue, 0);
    EXPECT_EQ(during.refills, 0);
    EXPECT_EQ(during.silences, 0);
    EXPECT_EQ(during.catheterDays, 0);

    story.now(at(kMonday.plusDays(4), 8)); // home again on Friday the 6th
    hold.to = kMonday.plusDays(4);
    must(story.desk().save(hold));
    const Running after = running(story, home, nextWeek, tenDays);
    EXPECT_GE(after.visitsDue, 2);
    EXPECT_EQ(after.refills, 1);
    EXPECT_EQ(after.catheterDays, 6) << "four days away of ten";
    // Silence starts anew with the return: on the first morning home nobody is late yet.
    EXPECT_EQ(after.silences, 0);
    story.now(at(kMonday.plusDays(14), 8));
    EXPECT_EQ(running(story, home, nextWeek, tenDays).silences, 1);
}

TEST(HoldStory, APublishedVisitInsideAHoldIsPausedAndOwedAgainAfterwards) {
    Story story;
    const auto home = story.addHome("A");
    story.order(home, everyDays(1, kMonday), kMonday, story.kit500);
    const Visit inside = story.publishVisit(home, kMonday.plusDays(2), 10);
    Hold hold;
    hold.patient = home.patient;
    hold.from = kMonday.plusDays(1);
    hold.to = kMonday.plusDays(4);
    must(story.desk().save(hold));
    EXPECT_EQ(story.visit(inside.id).status, VisitStatus::Cancelled);
    EXPECT_EQ(story.visit(inside.id).missReason, MissReason::Hospital);
}

TEST(HoldStory, TheVisitOfTheMorningOfAdmissionCanStillBeClosed) {
    Story story;
    const auto home = story.addHome("A");
    Visit morning = story.publishVisit(home, kMonday, 9);
    story.now(at(kMonday, 15));
    Hold hold;
    hold.patient = home.patient;
    hold.from = kMonday;
    must(story.desk().save(hold));
    EXPECT_EQ(story.visit(morning.id).status, VisitStatus::Published);
    morning.status = VisitStatus::Done;
    morning.startedAt = at(kMonday, 9);
    EXPECT_TRUE(story.desk().closeVisit(morning));
}

TEST(HoldStory, NothingIsPromisedOrPackedIntoAHoldUnlessTheHomeGoesOnDraining) {
    Story story;
    const auto home = story.addHome("A");
    story.receive(story.kit500, "L1", 40, Date::of(2027, 6, 1));
    Hold hold;
    hold.patient = home.patient;
    hold.from = kMonday;
    hold = must(story.desk().save(hold));
    Delivery wanted;
    wanted.patient = home.patient;
    wanted.contact = story.contact(home).id;
    wanted.promisedFor = kMonday.plusDays(1);
    wanted.lines = {{home.catheter, story.kit500, std::nullopt, Eaches::of(5)}};
    EXPECT_EQ(firstArg(refused(story.desk().promise(wanted))), "on_hold");
    hold.stillDraining = true; // travelling with supplies
    hold.kind = HoldKind::Travel;
    must(story.desk().save(hold));
    EXPECT_TRUE(story.desk().promise(wanted));
}

TEST(HoldStory, OverlappingHoldsAreRefusedAndOnesThatMeetAreNot) {
    Story story;
    const auto home = story.addHome("A");
    Hold first;
    first.patient = home.patient;
    first.from = kMonday;
    first.to = kMonday.plusDays(5);
    must(story.desk().save(first));
    Hold second;
    second.patient = home.patient;
    second.from = kMonday.plusDays(4);
    const Problem problem = refused(story.desk().save(second));
    EXPECT_EQ(problem.code, ProblemCode::Conflict);
    EXPECT_EQ(problem.args, (std::vector<std::string>{"hold", "2026-03-02", "2026-03-07"}));
    second.from = kMonday.plusDays(5); // the day of return is not on hold
    second = must(story.desk().save(second));
    // An open hold reaches for ever.
    Hold third;
    third.patient = home.patient;
    third.from = kMonday.plusDays(100);
    EXPECT_EQ(refused(story.desk().save(third)).code, ProblemCode::Conflict);
    // A hold to come can be taken back; one that has begun is part of the record.
    must(story.desk().remove(second));
    EXPECT_EQ(firstArg(refused(story.desk().remove(story.snapshot().holds.front()))), "hold_has_begun");
}

TEST(HoldStory, AHoldToComeIsSeenAndWhatItTakesOutIsToldBeforeItIsSaved) {
    Story story;
    const auto home = story.addHome("A");
    story.order(home, everyDays(1, kMonday), kMonday, story.kit500);
    story.publishVisit(home, kMonday, 10);
    const Visit inside = story.publishVisit(home, kMonday.plusDays(2), 10);
    story.promise(home, story.kit500, 5, kMonday.plusDays(3));
    Hold hold;
    hold.patient = home.patient;
    hold.kind = HoldKind::Travel;
    hold.from = kMonday.plusDays(1);
    const std::size_t before = story.auditLength();
    const QString told = holdEffectLines(*story.agency(), hold).join(u' ');
    EXPECT_TRUE(told.contains(QStringLiteral("Wed 4 Mar 10:00"))) << told.toStdString();
    EXPECT_FALSE(told.contains(QStringLiteral("Mon 2 Mar 10:00"))) << "before the hold";
    EXPECT_TRUE(told.contains(QStringLiteral("promised for Thu 5 Mar"))) << told.toStdString();
    EXPECT_EQ(story.auditLength(), before);
    EXPECT_EQ(story.visit(inside.id).status, VisitStatus::Published);

    hold = must(story.desk().save(hold));
    EXPECT_EQ(story.visit(inside.id).status, VisitStatus::Cancelled) << "as it was told";
    const auto row = [&] {
        const auto rows = patientRows(*story.agency());
        return *std::ranges::find(rows, home.patient, &PatientRow::patient);
    };
    EXPECT_FALSE(row().isOnHold);
    EXPECT_TRUE(row().isHoldToCome);
    EXPECT_TRUE(row().note.contains(QStringLiteral("on hold from Tue 3 Mar: travelling")))
        << row().note.toStdString();
    hold.from = kMonday.plusDays(4);
    hold = must(story.desk().save(hold));
    EXPECT_EQ(holdToTell(*story.agency(), home.patient)->from, kMonday.plusDays(4));
    must(story.desk().remove(hold));
    EXPECT_EQ(holdToTell(*story.agency(), home.patient), nullptr);
    EXPECT_FALSE(row().isHoldToCome);
}

TEST(ReferralStory, AReferralIsNotSavedWithoutItsDay) {
    Story story;
    const auto home = story.addHome("A");
    Patient referred = *story.index().patient(home.patient);
    referred.status = CareStatus::Referred;
    referred.startOfCare.reset();
    referred.noAllergiesOn.reset();
    referred.referredAt.reset();
    const Problem problem = refused(story.desk().save(referred));
    EXPECT_EQ(problem.code, ProblemCode::Missing);
    EXPECT_EQ(problem.field, "referred_at");
    EXPECT_TRUE(words(problem).contains(QStringLiteral("enter when the referral came")))
        << words(problem).toStdString();
    referred.referredAt = story.utc(at(kMonday, 7));
    EXPECT_TRUE(story.desk().save(referred));
}

TEST(ExitStory, WhatAnExitEndsIsShownFirstAndWritesNothing) {
    Story story;
    const auto home = lowAndSilentHome(story);
    story.publishVisit(home, kMonday.plusDays(1), 9);
    story.promise(home, story.kit500, 5, kMonday.plusDays(2));
    ExitRecord record{home.patient, CareStatus::Discharged, story.utc(at(kMonday, 7)), "goals met"};
    const std::size_t before = story.auditLength();
    const ExitEffect shown = must(story.desk().previewExit(record));
    EXPECT_EQ(story.auditLength(), before);
    EXPECT_EQ(story.index().patient(home.patient)->status, CareStatus::Active);
    EXPECT_EQ(shown.visitsCancelled, 1);
    EXPECT_EQ(shown.ordersEnded, 2);
    EXPECT_EQ(shown.leftAtHome, Eaches::of(3));
    const ExitEffect done = must(story.desk().exitPatient(record));
    EXPECT_EQ(done.visitsCancelled, shown.visitsCancelled);
    EXPECT_EQ(done.deliveriesCancelled, shown.deliveriesCancelled);
    EXPECT_EQ(done.ordersEnded, shown.ordersEnded);
    EXPECT_EQ(done.callsClosed, shown.callsClosed);
}

TEST(ExitStory, AnExitEnteredByMistakeIsTakenBackAndWhatIsLeftToDoIsTold) {
    Story story;
    const auto home = lowAndSilentHome(story);
    const DrainOrder order = *story.index().orderInForce(home.catheter, kMonday);
    const Visit visit = story.publishVisit(home, kMonday.plusDays(1), 9);
    const Delivery promised = story.promise(home, story.kit500, 5, kMonday.plusDays(2));
    Hold planned;
    planned.patient = home.patient;
    planned.from = kMonday.plusDays(30);
    must(story.desk().save(planned));
    DrainEntry feverish = story.entry(home, at(kMonday, 7, 30), 300);
    feverish.symptoms = {Symptom::Fever};
    const auto raised = must(story.desk().logDrain(feverish)).raised;
    ASSERT_FALSE(raised.empty());
    const Patient before = *story.index().patient(home.patient);
    EXPECT_EQ(firstArg(refused(story.desk().undoExit(home.patient, "nothing to undo"))), "already");
    must(story.desk().exitPatient(
        {home.patient, CareStatus::Deceased, story.utc(at(kMonday, 7, 45)), "the wrong record"}));
    story.now(at(kMonday, 9));
    EXPECT_EQ(refused(story.desk().undoExit(home.patient, "")).field, "why");

    const ExitUndone undone = must(story.desk().undoExit(home.patient, "meant her namesake"));
    EXPECT_EQ(undone.ordersReopened, 2);
    EXPECT_GE(undone.callsReopened, 1);
    EXPECT_FALSE(undone.goesOnHold);
    EXPECT_EQ(undone.visitsCancelled, 1);
    EXPECT_EQ(undone.toPromise, std::vector<DeliveryId>{promised.id});
    EXPECT_EQ(undone.holdsToEnter, std::vector<Date>{kMonday.plusDays(30)});
    const Patient &after = *story.index().patient(home.patient);
    EXPECT_EQ(after.status, before.status);
    EXPECT_FALSE(after.exitedAt);
    EXPECT_TRUE(after.exitReason.empty());
    ASSERT_NE(story.index().orderInForce(home.catheter, kMonday.plusDays(5)), nullptr);
    EXPECT_EQ(story.index().orderInForce(home.catheter, kMonday.plusDays(5))->id, order.id);
    EXPECT_EQ(story.index().orderInForce(home.catheter, kMonday.plusDays(5))->end, order.end);
    EXPECT_GE(
        running(story, home, {Date::of(2026, 3, 8), Date::of(2026, 3, 15)}, {kMonday, kMonday.plusDays(10)})
            .visitsDue,
        2);
    const auto &calls = story.snapshot().callItems;
    const auto call = std::ranges::find(calls, raised.front().id, &CallItem::id);
    ASSERT_NE(call, calls.end());
    EXPECT_EQ(call->status, CallItemStatus::Open);
    EXPECT_TRUE(call->outcome.empty());
    EXPECT_EQ(story.visit(visit.id).status, VisitStatus::Cancelled);
    EXPECT_EQ(story.delivery(promised.id).status, DeliveryStatus::Cancelled);
    const auto entries = must(story.desk().audit(1, "patient", home.patient.value()));
    ASSERT_FALSE(entries.empty());
    EXPECT_NE(entries.front().after.find("meant her namesake"), std::string::npos) << entries.front().after;
    EXPECT_EQ(must(story.desk().check({}, {})), Problems{});
}

TEST(ExitStory, WhatTheSamePersonDidInTheSameSecondIsNotTakenForTheExitsDoing) {
    Story story;
    const auto home = lowAndSilentHome(story);
    must(story.desk().exitPatient(
        {home.patient, CareStatus::Deceased, story.utc(at(kMonday, 7, 45)), "the wrong record"}));
    CallItem item;
    item.patient = home.patient;
    item.subject = "after the exit";
    item.raisedAt = at(kMonday, 8);
    const CallItem raised = must(story.desk().raise(item));
    must(story.desk().closeCallItem(raised.id, "told the family"));
    const ExitUndone undone = must(story.desk().undoExit(home.patient, "meant her namesake"));
    EXPECT_EQ(undone.callsReopened, 0);
    EXPECT_EQ(undone.ordersReopened, 2);
    const auto &calls = story.snapshot().callItems;
    const auto call = std::ranges::find(calls, raised.id, &CallItem::id);
    ASSERT_NE(call, calls.end());
    EXPECT_EQ(call->status, CallItemStatus::Closed);
    EXPECT_EQ(call->outcome, "told the family");
}

TEST(ExitStory, ADeathStopsVisitsRefillsAndCallsTheSameHourAndFreesThePromisedStock) {
    Story story;
    const auto home = lowAndSilentHome(story);
    const LotId lot = story.receive(story.kit500, "L1", 40, Date::of(2027, 6, 1));
    const Visit morning = story.publishVisit(home, kMonday, 9);
    const Visit later = story.publishVisit(home, kMonday.plusDays(1), 9);
    const Delivery promised = story.promise(home, story.kit500, 5, kMonday.plusDays(2));
    const Delivery packed =
        must(story.desk().pick(story.promise(home, story.kit500, 6, kMonday.plusDays(2)).id));
    Delivery under_way =
        must(story.desk().pick(story.promise(home, story.kit500, 7, kMonday.plusDays(2)).id));
    under_way = must(story.desk().ship(under_way.id));
    DrainEntry feverish = story.entry(home, at(kMonday, 7, 30), 300);
    feverish.symptoms = {Symptom::Fever};
    ASSERT_FALSE(must(story.desk().logDrain(feverish)).raised.empty());
    const Eaches everything = story.total(story.kit500);
    EXPECT_EQ(story.balance(Place::storeroom(), story.kit500), Eaches::of(40 - 6 - 7));

    story.now(at(kMonday, 11));
    ExitRecord record;
    record.patient = home.patient;
    record.to = CareStatus::Deceased;
    record.at = story.utc(at(kMonday, 10, 30));
    record.reason = "died at home";
    const ExitEffect effect = must(story.desk().exitPatient(record));

    EXPECT_EQ(effect.visitsCancelled, 1);
    EXPECT_EQ(effect.deliveriesCancelled, 2);
    EXPECT_EQ(effect.freed, Eaches::of(5 + 6));
    EXPECT_EQ(effect.ordersEnded, 2);
    EXPECT_EQ(effect.inTransit, std::vector<DeliveryId>{under_way.id});
    EXPECT_EQ(effect.leftAtHome, Eaches::of(3));
    EXPECT_GE(effect.callsClosed, 1);
    EXPECT_EQ(story.visit(later.id).status, VisitStatus::Cancelled);
    EXPECT_EQ(story.visit(morning.id).status, VisitStatus::Published) << "it was at nine; somebody closes it";
    EXPECT_EQ(story.delivery(promised.id).status, DeliveryStatus::Cancelled);
    EXPECT_EQ(story.delivery(packed.id).status, DeliveryStatus::Cancelled);
    EXPECT_EQ(story.delivery(under_way.id).status, DeliveryStatus::InTransit);
    EXPECT_EQ(story.balance(Place::storeroom(), story.kit500), Eaches::of(40 - 7));
    EXPECT_EQ(story.balance(Place::transit(packed.id), story.kit500), Eaches{});
    EXPECT_EQ(story.total(story.kit500), everything) << "stock is moved, never lost";
    for (const CallItem &item : story.snapshot().callItems)
        EXPECT_EQ(item.status, CallItemStatus::Closed) << item.subject;

    const Running after =
        running(story, home, {Date::of(2026, 3, 8), Date::of(2026, 3, 15)}, {kMonday, kMonday.plusDays(10)});
    EXPECT_EQ(after.visitsDue, 0);
    EXPECT_EQ(after.refills, 0);
    EXPECT_EQ(after.silences, 0);
    // And nobody can start anything new.
    RefillContact call;
    call.patient = home.patient;
    call.at = at(kMonday, 11);
    call.answeredBy = "Given Family";
    EXPECT_EQ(firstArg(refused(story.desk().recordContact(call))), "left_service");
    EXPECT_EQ(firstArg(refused(story.desk().exitPatient(record))), "left_service");
    // A drain of before can still be written down, and raises no call to a bereaved family.
    EXPECT_TRUE(must(story.desk().logDrain(story.entry(home, at(kMonday, 10), 1300))).raised.empty());
    // The packed lot is on the shelf again, with the file's own check content.
    EXPECT_EQ(must(story.desk().check({}, {})), Problems{});
    EXPECT_FALSE(must(story.desk().movementsOfLot(lot)).empty());
}

TEST(ExitStory, AnExitOnHoldEndsTheHoldAndTakesBackTheOneToCome) {
    Story story;
    const auto home = story.addHome("A");
    Hold open;
    open.patient = home.patient;
    open.from = kMonday.plusDays(-3);
    open.to = kMonday.plusDays(4);
    must(story.desk().save(open));
    Hold planned;
    planned.patient = home.patient;
    planned.from = kMonday.plusDays(30);
    must(story.desk().save(planned));
    ExitRecord record{home.patient, CareStatus::Transferred, story.utc(at(kMonday, 7)), "to a hospice"};
    must(story.desk().exitPatient(record));
    ASSERT_EQ(story.snapshot().holds.size(), 1U);
    EXPECT_EQ(story.snapshot().holds.front().to, kMonday);
    EXPECT_EQ(story.index().patient(home.patient)->status, CareStatus::Transferred);
}

TEST(ExitStory, LeavingIsAStepOfItsOwnAndNeverInTheFuture) {
    Story story;
    const auto home = story.addHome("A");
    Patient edited = *story.index().patient(home.patient);
    edited.status = CareStatus::Discharged;
    edited.exitedAt = story.utc(at(kMonday, 7));
    EXPECT_EQ(firstArg(refused(story.desk().save(edited))), "use_exit");
    ExitRecord record{home.patient, CareStatus::Discharged, story.utc(at(kMonday, 9)), "goals met"};
    EXPECT_EQ(refused(story.desk().exitPatient(record)).code, ProblemCode::OutOfRange);
    EXPECT_EQ(story.index().patient(home.patient)->status, CareStatus::Active);
}

TEST(ExitStory, OneCatheterOutLeavesTheOtherSideGoing) {
    Story story;
    const auto right = story.addHome("A");
    const auto left = story.addCatheter(right, CavitySite::Chest, Side::Left);
    story.order(right, everyDays(1, kMonday), kMonday, story.kit500);
    story.order(left, everyDays(1, kMonday), kMonday, story.kit1000);
    story.receive(story.kit500, "L1", 40, Date::of(2027, 6, 1));
    story.receive(story.kit1000, "L2", 40, Date::of(2027, 6, 1));
    const Visit visit = story.publishVisit(right, kMonday.plusDays(1), 9);
    Delivery both;
    both.patient = right.patient;
    both.contact = story.contact(right).id;
    both.promisedFor = kMonday.plusDays(1);
    both.lines = {{right.catheter, story.kit500, std::nullopt, Eaches::of(5)},
                  {left.catheter, story.kit1000, std::nullopt, Eaches::of(4)}};
    both = must(story.desk().pick(must(story.desk().promise(both)).id));

    ExitEffect effect =
        must(story.desk().removeCatheter(right.catheter, story.utc(at(kMonday, 7, 30)), "no more fluid"));
    EXPECT_EQ(effect.ordersEnded, 1);
    EXPECT_EQ(effect.visitsCancelled, 0);
    EXPECT_EQ(effect.deliveriesCancelled, 0);
    EXPECT_EQ(effect.freed, Eaches::of(5));
    EXPECT_EQ(story.visit(visit.id).status, VisitStatus::Published);
    EXPECT_EQ(story.balance(Place::storeroom(), story.kit500), Eaches::of(40));
    // The parcel was opened; what is left of it is packed again.
    ASSERT_EQ(story.delivery(both.id).status, DeliveryStatus::Promised);
    ASSERT_EQ(story.delivery(both.id).lines.size(), 1U);
    EXPECT_EQ(story.delivery(both.id).lines.front().catheter, left.catheter);
    EXPECT_TRUE(story.index().orderInForce(left.catheter, kMonday.plusDays(5)));
    EXPECT_FALSE(story.index().orderInForce(right.catheter, kMonday.plusDays(1)));

    // With the last one out, everything stops.
    effect = must(story.desk().removeCatheter(left.catheter, story.utc(at(kMonday, 7, 45)), "no more fluid"));
    EXPECT_EQ(effect.visitsCancelled, 1);
    EXPECT_EQ(effect.deliveriesCancelled, 1);
    EXPECT_EQ(story.visit(visit.id).status, VisitStatus::Cancelled);
}

TEST(ExitStory, AParcelInANursesCarIsNotBackOnTheShelfBecauseCareHasEnded) {
    const auto leaves = [](Story &story, std::optional<CameBack> where) {
        const auto home = story.addHome("A");
        story.receive(story.kit500, "L1", 40, Date::of(2027, 6, 1));
        EXPECT_FALSE(endsWithParcelInCar(story.index(), home.patient));
        must(story.desk().pick(story.promise(home, story.kit500, 6, kMonday.plusDays(2), story.nurse).id));
        EXPECT_TRUE(endsWithParcelInCar(story.index(), home.patient));
        ExitRecord record{home.patient, CareStatus::Deceased, story.utc(at(kMonday, 7)), "died at home"};
        if (where)
            record.carParcels = *where;
        return must(story.desk().exitPatient(record));
    };
    Story unasked;
    const ExitEffect stays = leaves(unasked, std::nullopt);
    EXPECT_EQ(unasked.balance(Place::storeroom(), unasked.kit500), Eaches::of(34));
    EXPECT_EQ(unasked.balance(Place::car(unasked.nurse), unasked.kit500), Eaches::of(6));
    EXPECT_EQ(supply::packedInCar(unasked.index(), unasked.nurse, unasked.kit500), Eaches{});
    EXPECT_EQ(stays.deliveriesCancelled, 1);
    EXPECT_EQ(stays.freed, Eaches{});
    EXPECT_EQ(stays.fromCars, Eaches::of(6));
    Story cold;
    EXPECT_EQ(leaves(cold, CameBack::ToQuarantine).fromCars, Eaches::of(6));
    EXPECT_EQ(cold.balance(Place::quarantine(), cold.kit500), Eaches::of(6));
    EXPECT_EQ(cold.balance(Place::car(cold.nurse), cold.kit500), Eaches{});
    Story back;
    EXPECT_EQ(leaves(back, CameBack::NeverLeft).freed, Eaches::of(6));
    EXPECT_EQ(back.balance(Place::storeroom(), back.kit500), Eaches::of(40));
}

TEST(ExitStory, OfAParcelInACarOnlyTheEndedCathetersLinesLeaveIt) {
    for (const CameBack where : {CameBack::InCar, CameBack::ToQuarantine}) {
        Story story;
        const auto right = story.addHome("A");
        const auto left = story.addCatheter(right, CavitySite::Chest, Side::Left);
        story.receive(story.kit500, "L1", 40, Date::of(2027, 6, 1));
        story.receive(story.kit1000, "L2", 40, Date::of(2027, 6, 1));
        Delivery both;
        both.patient = right.patient;
        both.contact = story.contact(right).id;
        both.promisedFor = kMonday.plusDays(1);
        both.way = DeliveryWay::WithVisit;
        both.carriedBy = story.nurse;
        both.lines = {{right.catheter, story.kit500, std::nullopt, Eaches::of(5)},
                      {left.catheter, story.kit1000, std::nullopt, Eaches::of(4)}};
        both = must(story.desk().pick(must(story.desk().promise(both)).id));
        EXPECT_TRUE(endsWithParcelInCar(story.index(), right.patient, right.catheter));
        const bool isLeft = where == CameBack::InCar;
        const ExitEffect effect = must(story.desk().removeCatheter(
            right.catheter, story.utc(at(kMonday, 7, 30)), "no more fluid", where));
        EXPECT_EQ(effect.fromCars, Eaches::of(5));
        EXPECT_EQ(story.balance(Place::storeroom(), story.kit500), Eaches::of(35));
        EXPECT_EQ(story.balance(Place::car(story.nurse), story.kit500), Eaches::of(isLeft ? 5 : 0));
        EXPECT_EQ(story.balance(Place::quarantine(), story.kit500), Eaches::of(isLeft ? 0 : 5));
        // The rest lies packed where it lay, with its lot.
        ASSERT_EQ(story.delivery(both.id).status, DeliveryStatus::Picked);
        ASSERT_EQ(story.delivery(both.id).lines.size(), 1U);
        EXPECT_TRUE(story.delivery(both.id).lines.front().lot);
        EXPECT_EQ(supply::packedInCar(story.index(), story.nurse, story.kit1000), Eaches::of(4));
        EXPECT_EQ(story.balance(Place::car(story.nurse), story.kit1000), Eaches::of(4));
        // Brought back later, it takes along nothing that left it.
        must(story.desk().cancelDelivery(both.id, "not wanted", CameBack::NeverLeft));
        EXPECT_EQ(story.balance(Place::storeroom(), story.kit1000), Eaches::of(40));
        EXPECT_EQ(story.balance(Place::storeroom(), story.kit500), Eaches::of(35));
        EXPECT_EQ(must(story.desk().check({}, {})), Problems{});
    }
}

} // namespace
} // namespace kitround::desk
