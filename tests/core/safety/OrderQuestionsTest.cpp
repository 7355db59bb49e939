#include "core/safety/OrderQuestions.h"
#include "core/safety/Cautions.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::safety {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

const Date kToday = Date::of(2026, 3, 2);
const Date kOrdered = kToday.plusDays(-60);
const Home kFirst{PatientId(1), CatheterId(1)};

SmallAgency ordered() {
    SmallAgency agency(kToday);
    agency.order(agency.addHome(), everyDays(1, kOrdered));
    agency.edit([](Snapshot &s) { s.catheters[0].insertedOn = kOrdered; });
    agency.drained(kFirst, kOrdered.plusDays(1), 300);
    return agency;
}
std::vector<OrderQuestion> asked(const SmallAgency &agency) {
    const Snapshot snapshot = agency.build();
    return orderQuestions(SnapshotIndex(snapshot));
}
OrderAnswer answered(Date on) {
    OrderAnswer answer;
    answer.id = OrderAnswerId(1);
    answer.order = DrainOrderId(1);
    answer.at = {on, Minutes::of(600)};
    return answer;
}

TEST(OrderQuestionsTest, AnOrderAsOldAsItsCatheterIsNotAskedAbout) {
    EXPECT_TRUE(asked(ordered()).empty());
}

TEST(OrderQuestionsTest, AnOrderWrittenBeforeItsFirstCatheterWasInIsNotAskedAbout) {
    SmallAgency agency(kToday);
    agency.order(agency.addHome(), everyDays(1, kOrdered));
    agency.edit([](Snapshot &s) { s.catheters[0].insertedOn = kOrdered.plusDays(5); });
    agency.drained(kFirst, kOrdered.plusDays(6), 300);
    EXPECT_TRUE(asked(agency).empty());
}

TEST(OrderQuestionsTest, ACatheterPutInAfterTheOrderIsAskedAboutUntilAnAnswerOfThatDayOrLater) {
    SmallAgency agency = ordered();
    const Date changed = kToday.plusDays(-50);
    agency.edit([&](Snapshot &s) { s.catheters[0].insertedOn = changed; });
    const auto questions = asked(agency);
    ASSERT_EQ(questions.size(), 1U);
    EXPECT_EQ(questions[0].why, OrderDoubt::CatheterChanged);
    EXPECT_EQ(questions[0].on, changed);
    EXPECT_EQ(questions[0].orderFrom, kOrdered);
    SmallAgency tooEarly = agency;
    tooEarly.edit([&](Snapshot &s) { s.orderAnswers = {answered(changed.plusDays(-1))}; });
    EXPECT_EQ(asked(tooEarly).size(), 1U);
    agency.edit([&](Snapshot &s) { s.orderAnswers = {answered(changed)}; });
    EXPECT_TRUE(asked(agency).empty());
}

TEST(OrderQuestionsTest, AnAnswerThatWasNotReadBackSettlesNothing) {
    SmallAgency agency = ordered();
    agency.edit([](Snapshot &s) {
        s.catheters[0].insertedOn = kToday.plusDays(-50);
        s.orderAnswers = {answered(kToday)};
        s.orderAnswers[0].wasReadBack = false;
    });
    EXPECT_EQ(asked(agency).size(), 1U);
}

TEST(OrderQuestionsTest, AnotherCatheterTakenOutIsAskedAboutForAMonth) {
    const auto removedAgo = [](int days) {
        SmallAgency agency = ordered();
        agency.addCatheter(kFirst, CavitySite::Chest, Side::Left);
        const auto noon = (kToday.plusDays(-days).dayNumber() * 24 + 17) * 3600;
        agency.edit([&](Snapshot &s) { s.catheters[1].removedAt = Instant::fromUnixSeconds(noon); });
        return asked(agency);
    };
    ASSERT_EQ(removedAgo(5).size(), 1U);
    EXPECT_EQ(removedAgo(5)[0].why, OrderDoubt::OtherRemoved);
    EXPECT_EQ(removedAgo(5)[0].catheter, kFirst.catheter);
    EXPECT_EQ(removedAgo(30).size(), 1U);
    EXPECT_TRUE(removedAgo(31).empty());
}

TEST(OrderQuestionsTest, AReturnFromHospitalIsAskedAboutAndOneFromAJourneyIsNot) {
    const auto back = [](HoldKind kind, int daysAgo) {
        SmallAgency agency = ordered();
        agency.hold(kFirst, kToday.plusDays(-daysAgo - 5), kToday.plusDays(-daysAgo));
        agency.edit([&](Snapshot &s) { s.holds[0].kind = kind; });
        return asked(agency);
    };
    ASSERT_EQ(back(HoldKind::Hospital, 2).size(), 1U);
    EXPECT_EQ(back(HoldKind::Hospital, 2)[0].why, OrderDoubt::CameHome);
    EXPECT_EQ(back(HoldKind::Facility, 2).size(), 1U);
    EXPECT_TRUE(back(HoldKind::Travel, 2).empty());
    EXPECT_TRUE(back(HoldKind::Hospital, 31).empty());
}

TEST(OrderQuestionsTest, AnOrderBegunDuringTheStayWasMadeForTheReturn) {
    SmallAgency agency = ordered();
    agency.hold(kFirst, kToday.plusDays(-9), kToday.plusDays(-2));
    agency.edit([](Snapshot &s) {
        s.holds[0].kind = HoldKind::Hospital;
        s.drainOrders[0].start = kToday.plusDays(-3);
    });
    EXPECT_TRUE(asked(agency).empty());
    agency.edit([](Snapshot &s) { s.drainOrders[0].start = kToday.plusDays(-9); });
    EXPECT_EQ(asked(agency).size(), 1U) << "of the day of admission: from before";
}

TEST(OrderQuestionsTest, WhatToAskIsKnownBeforeTheHoldEnds) {
    SmallAgency agency = ordered();
    agency.hold(kFirst, kToday.plusDays(-9), std::nullopt);
    agency.edit([](Snapshot &s) { s.holds[0].kind = HoldKind::Hospital; });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_TRUE(orderQuestions(index).empty());
    EXPECT_EQ(questionsOnReturn(index, snapshot.holds[0], kToday).size(), 1U);
    SmallAgency answeredAway = agency; // the discharge call
    answeredAway.edit([](Snapshot &s) { s.orderAnswers = {answered(kToday.plusDays(-1))}; });
    const Snapshot settled = answeredAway.build();
    EXPECT_TRUE(questionsOnReturn(SnapshotIndex(settled), settled.holds[0], kToday).empty());
}

SmallAgency withMost(CavitySite site, int millilitres, int startsIn = -60) {
    SmallAgency agency(kToday);
    agency.order(agency.addHome(site), everyDays(1, kOrdered), SmallAgency::kKit500, [&](DrainOrder &order) {
        order.mostPerSession = Millilitres::of(millilitres);
        order.start = kToday.plusDays(startsIn);
    });
    return agency;
}

TEST(OrderQuestionsTest, AMaximumAboveTheCommonOneIsAskedAboutUntilTheAnswerWasReadBack) {
    EXPECT_TRUE(asked(withMost(CavitySite::Chest, 1000)).empty());
    EXPECT_TRUE(asked(withMost(CavitySite::Abdomen, 2000)).empty());
    EXPECT_EQ(asked(withMost(CavitySite::Abdomen, 2001)).size(), 1U);
    SmallAgency agency = withMost(CavitySite::Chest, 1001);
    ASSERT_EQ(asked(agency).size(), 1U);
    EXPECT_EQ(asked(agency)[0].why, OrderDoubt::AboveCommon);
    EXPECT_EQ(asked(agency)[0].on, kOrdered);
    agency.edit([](Snapshot &s) {
        s.orderAnswers = {answered(kToday)};
        s.orderAnswers[0].wasReadBack = false;
    });
    EXPECT_EQ(asked(agency).size(), 1U);
    agency.edit([](Snapshot &s) { s.orderAnswers[0].wasReadBack = true; });
    EXPECT_TRUE(asked(agency).empty());
}

TEST(OrderQuestionsTest, AMaximumIsAskedAboutBeforeItsOrderBeginsAndNotAfterItsEnd) {
    const SmallAgency toCome = withMost(CavitySite::Chest, 1500, 3);
    ASSERT_EQ(asked(toCome).size(), 1U);
    EXPECT_EQ(asked(toCome)[0].on, kToday.plusDays(3));
    SmallAgency ended = withMost(CavitySite::Chest, 1500);
    ended.edit([](Snapshot &s) { s.drainOrders[0].end = kToday; });
    EXPECT_TRUE(asked(ended).empty());
}

TEST(OrderQuestionsTest, AnOrderIsAskedAboutOnceAndOneAnswerSettlesItsMaximumToo) {
    SmallAgency agency = withMost(CavitySite::Chest, 1500);
    agency.hold(kFirst, kToday.plusDays(-7), kToday.plusDays(-2));
    agency.edit([](Snapshot &s) { s.holds[0].kind = HoldKind::Hospital; });
    ASSERT_EQ(asked(agency).size(), 1U);
    EXPECT_EQ(asked(agency)[0].why, OrderDoubt::CameHome);
    agency.edit([](Snapshot &s) { s.orderAnswers = {answered(kToday)}; });
    EXPECT_TRUE(asked(agency).empty());
}

TEST(SnoozeTest, OnlyWhatDoesNotAskForACallNowMayWait) {
    EXPECT_FALSE(maySnooze(CautionUrgency::Emergency));
    EXPECT_FALSE(maySnooze(CautionUrgency::Now));
    EXPECT_TRUE(maySnooze(CautionUrgency::Today));
    EXPECT_TRUE(maySnooze(CautionUrgency::Soon));
}

} // namespace
} // namespace kitround::safety
