// Visits one after another, an ordered visit called off, a round that changed overnight, and a plan of two
// weeks mended as one.
#include "core/desk/paper/Papers.h"
#include "core/desk/tasks/ComesAfterRules.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr Date kNextWeek = Date::of(2026, 3, 8); // a Sunday

VisitOrder blankVisits(const Story::Home &home, VisitKind kind, int aWeek) {
    VisitOrder order;
    order.patient = home.patient;
    order.kind = kind;
    order.start = kNextWeek;
    VisitSegment segment;
    segment.leastPerWeek = segment.mostPerWeek = aWeek;
    segment.weeks = 4;
    order.segments.push_back(segment);
    return order;
}

WeekPicturePtr planned(const Story &s, int weeks = 1) {
    const auto open = must(openWeek(s.agency(), kNextWeek, nullptr, weeks));
    rounds::SolveOptions options;
    options.iterations = 300;
    return must(planWeek(*open, options, {}, {}));
}

TEST(FollowStory, AnOrderThatComesAfterAnotherIsPlannedSoAndKeptInTheFile) {
    Story s;
    const auto home = s.addHome("A");
    const VisitOrder teaching = must(s.desk().save(blankVisits(home, VisitKind::Teaching, 1)));
    VisitOrder drain = blankVisits(home, VisitKind::DrainOnly, 1);
    drain.after = {teaching.id, {}, GapUnit::Day, 1, 2, true};
    const VisitOrder stored = must(s.desk().save(drain));
    s.closeFile();
    s.openFile();
    const auto &orders = s.snapshot().visitOrders;
    EXPECT_EQ(std::ranges::find(orders, stored.id, &VisitOrder::id)->after, drain.after);

    const auto week = planned(s);
    ASSERT_EQ(week->problem.follows.size(), 1U);
    EXPECT_TRUE(unplacedJobs(*week).empty());
    EXPECT_TRUE(week->evaluation.broken.empty());
    const std::int32_t first = week->problem.follows[0].first, second = week->problem.follows[0].second;
    const auto &at = week->plan.placements;
    const Date taught = dayOfDuty(*week, at[static_cast<std::size_t>(first)].duty);
    const auto apart = (dayOfDuty(*week, at[static_cast<std::size_t>(second)].duty) - taught).count();
    EXPECT_TRUE(apart == 1 || apart == 2) << apart;
    EXPECT_NE(nurseOfDuty(*week, at[static_cast<std::size_t>(first)].duty),
              nurseOfDuty(*week, at[static_cast<std::size_t>(second)].duty));

    // A drop that breaks it says what, and by how much; the reasons panel knows both sides of it.
    const MoveOffer offer =
        offerMove(*week, second, nurseOfDuty(*week, at[static_cast<std::size_t>(second)].duty), taught);
    EXPECT_FALSE(offer.isAllowed());
    EXPECT_TRUE(offer.summary.contains(QStringLiteral("1 to 2 days after")) ||
                offer.summary.contains(QStringLiteral("does not work")))
        << offer.summary.toStdString();
    EXPECT_TRUE(reasonsOf(*week, second).facts.join(u'|').contains(QStringLiteral("1 to 2 days after")));
    EXPECT_TRUE(reasonsOf(*week, first).facts.join(u'|').contains(QStringLiteral("After it:")));
}

TEST(FollowStory, WhatCannotFollowIsRefusedAtTheFieldWithARemedy) {
    Story s;
    const auto home = s.addHome("A"), other = s.addHome("B");
    const VisitOrder first = must(s.desk().save(blankVisits(home, VisitKind::Teaching, 1)));
    const VisitOrder elsewhere = must(s.desk().save(blankVisits(other, VisitKind::Teaching, 1)));
    const VisitOrder phone = must(s.desk().save(blankVisits(home, VisitKind::Phone, 1)));
    VisitOrder drain = blankVisits(home, VisitKind::DrainOnly, 1);
    const auto refusedAs = [&](const ComesAfter &after, const char *word) {
        VisitOrder wrong = drain;
        wrong.after = after;
        const Problem problem = refused(s.desk().save(wrong));
        EXPECT_EQ(problem.field, "after_order_id") << word;
        EXPECT_EQ(firstArg(problem), word);
        EXPECT_TRUE(words(problem).startsWith(QStringLiteral("Comes after: ")))
            << words(problem).toStdString();
    };
    refusedAs({elsewhere.id, {}, GapUnit::Day, 1, 2, false}, "after_other_patient");
    refusedAs({phone.id, {}, GapUnit::Day, 1, 2, false}, "after_phone");
    EXPECT_EQ(refused(s.desk().save([&] {
                  VisitOrder wrong = drain;
                  wrong.after = {first.id, {}, GapUnit::Day, 3, 2, false};
                  return wrong;
              }()))
                  .field,
              "after_most");
    drain.after = {first.id, {}, GapUnit::Minute, 30, 60, false};
    drain = must(s.desk().save(drain));
    VisitOrder circle = first;
    circle.after = {drain.id, {}, GapUnit::Day, 1, 2, false};
    EXPECT_EQ(firstArg(refused(s.desk().save(circle))), "after_circle");
    VisitOrder third = blankVisits(home, VisitKind::Supervisory, 1);
    third.after = {first.id, {}, GapUnit::Minute, 30, 60, false};
    EXPECT_EQ(firstArg(refused(s.desk().save(third))), "after_chain");
    third.after.order = drain.id;
    EXPECT_EQ(firstArg(refused(s.desk().save(third))), "after_chain");
    third.after.unit = GapUnit::Day;
    third.after = {first.id, {}, GapUnit::Day, 1, 3, false};
    must(s.desk().save(third));
}

// What is over stays among them only where it is what the order comes after now.
TEST(FollowStory, OfferedToComeAfterIsWhatIsOnTheRoadAndNotOver) {
    Story s;
    const auto home = s.addHome("A"), other = s.addHome("B");
    VisitOrder past = blankVisits(home, VisitKind::Teaching, 1);
    past.start = kMonday.plusDays(-28);
    past.end = kMonday;
    past = must(s.desk().save(past));
    const VisitOrder open = must(s.desk().save(blankVisits(home, VisitKind::Supervisory, 1)));
    const VisitOrder self = must(s.desk().save(blankVisits(home, VisitKind::DrainOnly, 1)));
    must(s.desk().save(blankVisits(home, VisitKind::Phone, 1)));
    must(s.desk().save(blankVisits(other, VisitKind::Teaching, 1)));
    Visit added;
    added.patient = home.patient;
    added.kind = VisitKind::Teaching;
    added.dueFrom = kNextWeek;
    added.dueTo = kNextWeek.plusDays(6);
    added = must(s.desk().addVisit(added));
    const auto ids = [&](const ComesAfter &present) {
        std::vector<VisitOrderId> found;
        for (const VisitOrder *order : mayBeFollowed(*s.agency(), home.patient, self.id, present).orders)
            found.push_back(order->id);
        std::ranges::sort(found);
        return found;
    };
    EXPECT_EQ(ids({}), std::vector{open.id});
    EXPECT_EQ(ids({past.id, {}, GapUnit::Day, 1, 2, false}), (std::vector{past.id, open.id}));
    const auto visits = mayBeFollowed(*s.agency(), home.patient, self.id, {}).visits;
    ASSERT_EQ(visits.size(), 1U);
    EXPECT_EQ(visits.front()->id, added.id);
    added = s.visit(added.id);
    added.status = VisitStatus::Missed;
    added.missReason = MissReason::Refused;
    must(s.desk().closeVisit(added));
    EXPECT_TRUE(mayBeFollowed(*s.agency(), home.patient, self.id, {}).visits.empty());
}

TEST(FollowStory, AnAddedVisitComesAfterAnotherAddedOne) {
    Story s;
    const auto home = s.addHome("A");
    Visit teaching;
    teaching.patient = home.patient;
    teaching.kind = VisitKind::Teaching;
    teaching.dueFrom = kNextWeek;
    teaching.dueTo = kNextWeek.plusDays(6);
    teaching = must(s.desk().addVisit(teaching));
    Visit drain = teaching;
    drain.id = {};
    drain.rowVersion = 0;
    drain.kind = VisitKind::DrainOnly;
    drain.after = {{}, teaching.id, GapUnit::Minute, 0, 60, false};
    drain = must(s.desk().addVisit(drain));
    EXPECT_EQ(s.visit(drain.id).after, drain.after);
    const auto week = planned(s);
    ASSERT_EQ(week->problem.follows.size(), 1U);
    EXPECT_TRUE(unplacedJobs(*week).empty());
    EXPECT_TRUE(week->evaluation.broken.empty());
}

TEST(SharedWeekStory, TheCoordinatorReadsTheReckoningAndMayCallAVisitOff) {
    Story s;
    const auto home = s.addHome("A");
    VisitOrder before = blankVisits(home, VisitKind::Routine, 2);
    before.end = kNextWeek.plusDays(3);
    must(s.desk().save(before));
    VisitOrder after = blankVisits(home, VisitKind::Routine, 3);
    after.start = kNextWeek.plusDays(3);
    must(s.desk().save(after));
    const auto week = must(openWeek(s.agency(), kNextWeek, nullptr));
    ASSERT_EQ(week->due.size(), 3U) << "2 and 3 in full would be five";
    const QString told = reasonsOf(*week, 0).facts.join(u'|');
    EXPECT_TRUE(told.contains(QStringLiteral("3 owed in all (1 and 2)"))) << told.toStdString();
    EXPECT_TRUE(told.contains(QStringLiteral("the prescriber's to say")));

    EXPECT_EQ(refused(s.desk().dropVisit(week->due[0].visit, "")).field, "note");
    const Visit dropped = must(s.desk().dropVisit(week->due[0].visit, "prescriber: two are enough"));
    EXPECT_EQ(dropped.status, VisitStatus::Cancelled);
    EXPECT_EQ(must(openWeek(s.agency(), kNextWeek, nullptr))->due.size(), 2U);
    EXPECT_EQ(must(openWeek(s.agency(), kNextWeek.plusDays(7), nullptr))->due.size(), 3U)
        << "the order itself is as it was";
    EXPECT_EQ(firstArg(refused(s.desk().dropVisit(dropped, "again"))), "closed");
}

class ChangedRound : public ::testing::Test {
protected:
    ChangedRound() {
        for (const char *code : {"A", "B", "C", "D"})
            s.visits(s.addHome(code), 2, 4, kNextWeek);
        const auto week = planned(s);
        must(s.desk().acceptPlan(kNextWeek, visitsOf(*week), 1, 0, true));
        const auto first = placedJobs(*week).front();
        nurse = nurseOfDuty(*week, first.duty);
        day = dayOfDuty(*week, first.duty);
        s.now(at(day.plusDays(-1), 16));
    }
    WeekPicturePtr open() const { return must(openWeek(s.agency(), kNextWeek, nullptr)); }
    // The first visit of that round goes to another nurse.
    void giveAway() {
        const auto week = open();
        for (const PlacedJob &placed : placedJobs(*week)) {
            if (nurseOfDuty(*week, placed.duty) != nurse || dayOfDuty(*week, placed.duty) != day)
                continue;
            for (const NurseId other : {s.nurse, s.otherNurse})
                if (other != nurse)
                    if (const MoveOffer offer = offerMove(*week, placed.job, other, day); offer.isAllowed()) {
                        visit = week->due[static_cast<std::size_t>(placed.job)].visit.id;
                        taker = other;
                        must(s.desk().acceptPlan(kNextWeek, visitsOf(*offer.after), 1, 0, true));
                        return;
                    }
        }
        FAIL() << "nobody could take a visit over";
    }
    std::vector<AttentionItem> toTell() const {
        std::vector<AttentionItem> items = attention(*s.agency(), nullptr, nullptr);
        std::erase_if(items, [](const AttentionItem &i) { return i.kind != AttentionKind::PlanChanged; });
        return items;
    }
    QString sheet() const {
        QString all;
        for (const Paper &paper : {daySheets(*open(), day)})
            for (const Paper::Section &section : paper.sections)
                all += section.heading + u'\n' + section.lines.join(u'\n') + u'\n';
        return all;
    }

    Story s;
    NurseId nurse, taker;
    VisitId visit;
    Date day;
};

TEST_F(ChangedRound, NobodyIsToldOfAPlanThatStands) {
    EXPECT_TRUE(roundNews(*s.agency()).empty());
    EXPECT_TRUE(toTell().empty());
    EXPECT_FALSE(sheet().contains(QStringLiteral("Changed since")));
}

TEST_F(ChangedRound, BothNursesOfAMovedVisitAreToldAndOneByOneTheLinesClose) {
    giveAway();
    auto items = toTell();
    ASSERT_EQ(items.size(), 2U) << "who lost it and who got it";
    EXPECT_EQ(items[0].harm, Harm::Today);
    EXPECT_EQ(items[0].dueOn, day);
    EXPECT_TRUE(items[0].detail.contains(QStringLiteral("patients to phone")));
    const auto got = std::ranges::find(items, std::optional(taker), &AttentionItem::nurse);
    ASSERT_NE(got, items.end());
    EXPECT_TRUE(got->detail.contains(QStringLiteral("On the list of patients to phone: ")))
        << "who is visited by another nurse is named: " << got->detail.toStdString();
    EXPECT_TRUE(got->detail.contains(QStringLiteral("Tell ") + personName(*s.agency()->index().nurse(taker)) +
                                     QStringLiteral(" (")));
    EXPECT_TRUE(sheet().contains(QStringLiteral("Changed since")));

    PlanTold told = *std::ranges::find(items, std::optional(nurse), &AttentionItem::nurse)->toTell;
    EXPECT_EQ(refused(s.desk().tellPlan(told)).field, "told_by");
    told.by = "Coordinator";
    const PlanTold stored = must(s.desk().tellPlan(told));
    EXPECT_EQ(stored.at, s.snapshot().now);
    items = toTell();
    ASSERT_EQ(items.size(), 1U);
    EXPECT_EQ(items[0].nurse, taker);
    PlanTold other = *items[0].toTell;
    other.by = "Coordinator";
    must(s.desk().tellPlan(other));
    EXPECT_TRUE(toTell().empty());
    EXPECT_FALSE(sheet().contains(QStringLiteral("Changed since")));
}

TEST_F(ChangedRound, ThatANurseWasToldIsPutBackWithAReasonAndTheLineIsThereAgain) {
    giveAway();
    const auto before = toTell();
    ASSERT_EQ(before.size(), 2U);
    PlanTold told = *std::ranges::find(before, std::optional(nurse), &AttentionItem::nurse)->toTell;
    told.by = "Coordinator";
    told.takenBackWhy = "of another one"; // none is made put back
    const PlanTold stored = must(s.desk().tellPlan(told));
    EXPECT_TRUE(stored.takenBackWhy.empty());
    EXPECT_EQ(refused(s.desk().tellPlan(stored)).field, "id") << "what is on record is not written over";
    ASSERT_EQ(toTell().size(), 1U);
    auto recorded = recordedTellings(*s.agency());
    ASSERT_EQ(recorded.size(), 1U);
    EXPECT_TRUE(recorded[0].putBack.isEmpty());

    EXPECT_EQ(refused(s.desk().takeBackTold(stored.id, " ")).field, "taken_back_why");
    EXPECT_EQ(refused(s.desk().takeBackTold(PlanToldId(999), "wrong row")).code, ProblemCode::UnknownRecord);
    EXPECT_EQ(toTell().size(), 1U);
    const PlanTold back = must(s.desk().takeBackTold(stored.id, "wrong row"));
    EXPECT_EQ(back.takenBackBy, s.desk().user());
    EXPECT_EQ(back.takenBackAt, s.snapshot().now);
    EXPECT_EQ(toTell().size(), 2U) << "she has not heard of it";
    EXPECT_TRUE(sheet().contains(QStringLiteral("Changed since")));
    EXPECT_EQ(refused(s.desk().takeBackTold(stored.id, "again")).code, ProblemCode::NotAllowed);
    EXPECT_EQ(s.snapshot().planTold, std::vector{back}) << "it stays on record";
    recorded = recordedTellings(*s.agency());
    ASSERT_EQ(recorded.size(), 1U);
    EXPECT_TRUE(recorded[0].putBack.startsWith(QStringLiteral("put back 16:00 (")))
        << recorded[0].putBack.toStdString();
    EXPECT_TRUE(recorded[0].putBack.endsWith(QStringLiteral("wrong row")));
}

TEST_F(ChangedRound, TheDaySheetNamesPatientsByInitialsAndCodeInItsChangesToo) {
    giveAway();
    const QString text = sheet();
    ASSERT_TRUE(text.contains(QStringLiteral("Changed since")));
    const Patient &patient = *s.index().patient(s.visit(visit).patient);
    EXPECT_TRUE(text.contains(patientMark(patient))) << text.toStdString();
    EXPECT_FALSE(text.contains(QString::fromStdString(patient.familyName))) << text.toStdString();
}

TEST_F(ChangedRound, WhatChangesAfterSheWasToldIsToldAgain) {
    giveAway();
    for (const AttentionItem &item : toTell()) {
        PlanTold told = *item.toTell;
        told.by = "Coordinator";
        must(s.desk().tellPlan(told));
    }
    Visit moved = s.visit(visit);
    must(s.desk().dropVisit(moved, "the home asked"));
    const auto items = toTell();
    ASSERT_EQ(items.size(), 1U);
    EXPECT_EQ(items[0].nurse, taker);
    EXPECT_TRUE(items[0].detail.contains(QStringLiteral("is called off"))) << items[0].detail.toStdString();
}

TEST_F(ChangedRound, ADraftIsNotInForceAndADayFurtherOffIsToldToo) {
    const auto week = open();
    const auto mine = placedJobs(*week).front();
    const MoveOffer out = offerRemoval(*week, mine.job);
    ASSERT_TRUE(out.isAllowed());
    must(s.desk().acceptPlan(kNextWeek, visitsOf(*out.after), 1, 0, false));
    EXPECT_TRUE(toTell().empty()) << "a draft may still be left";
    giveAway();
    s.now(at(day.plusDays(-2), 9));
    const auto items = toTell();
    ASSERT_EQ(items.size(), 2U)
        << "of a week that is still ahead, too: who works Monday to Friday tells it now";
    for (const AttentionItem &item : items)
        EXPECT_EQ(item.harm, Harm::Soon) << "the day after tomorrow";
}

TEST(NewsOfARound, AreInTheOrderOfTheDay) {
    Story s;
    const Date tuesday = kMonday.plusDays(1);
    const VisitId known = s.publishVisit(s.addHome("A"), tuesday, 13).id;
    s.publishVisit(s.addHome("B"), tuesday, 9);
    Visit later = s.visit(known);
    later.startAt = Minutes::of(15 * 60);
    must(s.desk().acceptPlan(Date::of(2026, 3, 1), {later}, 1, 0, true));
    const auto news = roundNewsOf(*s.agency(), s.nurse, tuesday);
    ASSERT_TRUE(news);
    ASSERT_EQ(news->changes.size(), 2) << news->changes.join(u'|').toStdString();
    EXPECT_TRUE(news->changes[0].startsWith(QStringLiteral("09:00 "))) << "new, and before the one she knew";
    EXPECT_TRUE(news->changes[1].startsWith(QStringLiteral("13:00 ")));
}

TEST(TwoWeeksMended, ACallOutAtTheWeeksEndMendsBothWeeksInOneStep) {
    Story s;
    for (const char *code : {"A", "B", "C"})
        s.visits(s.addHome(code), 2, 4, kNextWeek);
    const auto plan = planned(s, 2);
    must(s.desk().acceptPlans(must(planRecords(*plan)), true));
    const auto weeks = must(openWeek(s.agency(), kNextWeek, nullptr, 2));
    // The last busy day of the first week.
    PlacedJob last;
    for (const PlacedJob &placed : placedJobs(*weeks))
        if (dayOfDuty(*weeks, placed.duty) < kNextWeek.plusDays(7))
            last = placed;
    const NurseId nurse = nurseOfDuty(*weeks, last.duty);
    const Date day = dayOfDuty(*weeks, last.duty);
    const auto mended = must(repairCallOut(*weeks, {nurse, day, {}, TimeOffKind::Sick}, {}));
    EXPECT_TRUE(mended.after->evaluation.broken.empty());
    std::size_t hers = 0;
    for (const PlacedJob &placed : placedJobs(*weeks))
        hers += placed.duty == last.duty;
    EXPECT_EQ(mended.changes.size(), hers) << "nobody else is moved where there is room";
    const auto plans = must(
        s.desk().acceptCallOut({nurse, day, {}, TimeOffKind::Sick, ""}, must(planRecords(*mended.after))));
    ASSERT_EQ(plans.size(), 2U);
    for (const Plan &stored : plans)
        EXPECT_EQ(stored.status, PlanStatus::Published);
    const auto again = must(openWeek(s.agency(), kNextWeek, nullptr, 2));
    EXPECT_TRUE(again->evaluation.broken.empty());
    EXPECT_EQ(placedJobs(*again).size(), placedJobs(*weeks).size());
    EXPECT_EQ(dutyOf(*again, nurse, day), -1);
}

TEST(TwoWeeksMended, AHoldOverTheWeeksEndIsMendedAsOneProblem) {
    Story s;
    Story::Home home;
    for (const char *code : {"A", "B", "C"}) {
        home = s.addHome(code);
        s.visits(home, 2, 4, kNextWeek);
    }
    const auto plan = planned(s, 2);
    must(s.desk().acceptPlans(must(planRecords(*plan)), true));
    Hold hold;
    hold.patient = home.patient;
    hold.kind = HoldKind::Travel;
    hold.from = kNextWeek.plusDays(3);
    hold.to = kNextWeek.plusDays(10);
    must(s.desk().save(hold));
    const auto weeks = must(openWeek(s.agency(), kNextWeek, nullptr, 2));
    const auto mended = must(repairToRecords(*weeks, {}));
    EXPECT_TRUE(mended.after->evaluation.broken.empty());
    for (const PlanChange &change : mended.changes)
        EXPECT_EQ(change.patient, home.patient) << "the others stay where they are";
    for (const PlacedJob &placed : placedJobs(*mended.after)) {
        const Visit &visit = mended.after->due[static_cast<std::size_t>(placed.job)].visit;
        const Date on = dayOfDuty(*mended.after, placed.duty);
        if (visit.patient == home.patient) {
            EXPECT_FALSE(hold.from <= on && on < *hold.to) << on.toIso();
        }
    }
    const auto plans = must(s.desk().acceptPlans(must(planRecords(*mended.after)), true));
    EXPECT_EQ(plans.size(), 2U);
}

} // namespace
} // namespace kitround::desk
