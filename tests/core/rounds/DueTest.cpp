// What a week owes, from orders, visits and holds.
#include "tests/core/rounds/DueFixture.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

TEST_F(DueTest, TwoAWeekForFourThenOneForFiveIsOwedWeekByWeek) {
    order({segment(2, 4), segment(1, 5)}, kSunday);
    for (int n = 0; n < 9; ++n) {
        const auto list = due(week(n));
        ASSERT_EQ(list.size(), n < 4 ? 2U : 1U) << "week " << n;
        for (const DueVisit &d : list)
            EXPECT_EQ(d.cause, DueCause::VisitOrder);
        EXPECT_EQ(list.front().ordinal, 1);
        EXPECT_EQ(list.front().ofWeek, n < 4 ? 2 : 1);
    }
    // After the ninth week nobody comes by order, so the dressing check takes over.
    const auto after = due(week(9));
    ASSERT_EQ(after.size(), 1U);
    EXPECT_EQ(after.front().cause, DueCause::DressingCheck);
}

TEST_F(DueTest, DaysBeforeTheOrderStartsAreNotOffered) {
    order({segment(2, 4)}, kSunday.plusDays(4)); // Thursday: the first week is partial
    for (const DueVisit &d : due(week(0))) {
        EXPECT_EQ(d.visit.dueFrom, kSunday.plusDays(4));
        EXPECT_EQ(d.visit.dueTo, kSunday.plusDays(7));
    }
    EXPECT_FALSE(due(week(0)).empty());
}

TEST_F(DueTest, WhatIsDoneOrPlannedIsNotOwedAgain) {
    order({segment(3, 4)}, kSunday);
    s.asOf = kSunday.plusDays(2);
    stored(VisitStatus::Done, kSunday.plusDays(1));
    stored(VisitStatus::Published, kSunday.plusDays(3));
    const auto list = due(week(0));
    ASSERT_EQ(list.size(), 2U); // 3 owed - 1 done = 2, one of them stored already
    EXPECT_EQ(list[0].cause, DueCause::Existing);
    EXPECT_EQ(list[0].visit.id, VisitId(2));
    EXPECT_EQ(list[0].ordinal, 2);
    EXPECT_EQ(list[1].cause, DueCause::VisitOrder);
    EXPECT_EQ(list[1].ordinal, 3);
    EXPECT_EQ(list[1].fixedNeighbours, std::vector{kSunday.plusDays(1)});
    EXPECT_EQ(list[1].visit.dueFrom, s.asOf); // not in the past
}

TEST_F(DueTest, AMissedVisitIsOwedAgainUnlessThePatientWasInHospital) {
    order({segment(2, 4)}, kSunday);
    s.asOf = kSunday.plusDays(2);
    stored(VisitStatus::Missed, kSunday.plusDays(1)).missReason = MissReason::NotHome;
    EXPECT_EQ(due(week(0)).size(), 2U);
    s.visits.back().missReason = MissReason::Hospital;
    EXPECT_EQ(due(week(0)).size(), 1U);
}

TEST_F(DueTest, AHoldNarrowsTheDaysAndAnOpenOneLeavesNothing) {
    order({segment(2, 4)}, kSunday);
    hold(HoldKind::Travel, kSunday, kSunday.plusDays(3)); // home on Wednesday
    auto list = due(week(0));
    ASSERT_EQ(list.size(), 2U);
    EXPECT_EQ(list[0].visit.dueFrom, kSunday.plusDays(3));
    s.holds.back().to = kSunday.plusDays(6); // home on Saturday: one day left, one visit
    EXPECT_EQ(due(week(0)).size(), 1U);
    s.holds.back().to.reset();
    EXPECT_TRUE(due(week(0)).empty());
}

TEST_F(DueTest, WhatAHoldLeavesOfTheWeekHoldsTheVisitsThatStandThereAsWell) {
    order({segment(3, 4)}, kSunday);
    s.asOf = kSunday.plusDays(1);
    s.now = {s.asOf, Minutes::of(420)};
    hold(HoldKind::Hospital, kSunday.plusDays(3), kSunday.plusDays(9)); // Monday and Tuesday are left
    EXPECT_EQ(due(week(0)).size(), 2U);
    stored(VisitStatus::Published, kSunday.plusDays(1));
    EXPECT_EQ(due(week(0)).size(), 2U);
    stored(VisitStatus::Published, kSunday.plusDays(2));
    EXPECT_EQ(due(week(0)).size(), 2U) << "both days have their visit";
    s.visits.back().on.reset();
    s.visits.back().status = VisitStatus::Due;
    EXPECT_EQ(due(week(0)).size(), 2U) << "the one without a place takes the other day";
}

TEST_F(DueTest, ReturnFromHospitalAsksForAVisitWithin48Hours) {
    hold(HoldKind::Hospital, kSunday.plusDays(-5), kSunday.plusDays(2)); // home on Tuesday
    const auto list = due(week(0));
    ASSERT_EQ(list.size(), 1U);
    EXPECT_EQ(list[0].cause, DueCause::Resumption);
    EXPECT_EQ(list[0].visit.dueFrom, kSunday.plusDays(2));
    EXPECT_EQ(list[0].visit.dueTo, kSunday.plusDays(4)); // Tuesday and Wednesday
    EXPECT_TRUE(list[0].deadline.has_value());
    stored(VisitStatus::Done, kSunday.plusDays(2), std::nullopt).kind = VisitKind::Resumption;
    for (const DueVisit &d : due(week(0)))
        EXPECT_NE(d.cause, DueCause::Resumption);
}

TEST_F(DueTest, TheFirstVisitIsDueWithin48HoursOfReferral) {
    s.patients[0].status = CareStatus::Referred;
    // Sunday 15:00 in New York (UTC-5 from 2026-11-01 06:00 UTC) is 20:00 UTC; 48 hours later it is Tuesday
    // 15:00.
    s.patients[0].referredAt = Instant::fromIso("2026-11-01T20:00:00Z");
    const auto list = due(week(0));
    ASSERT_EQ(list.size(), 1U);
    EXPECT_EQ(list[0].cause, DueCause::StartOfCare);
    EXPECT_EQ(list[0].visit.kind, VisitKind::StartOfCare);
    EXPECT_EQ(list[0].visit.dueTo, kSunday.plusDays(3));
    EXPECT_TRUE(list[0].visit.needs.contains(Skill::Assess));
    EXPECT_TRUE(list[0].visit.needs.contains(Skill::DrainChest));
    const auto p = problem(week(0));
    ASSERT_TRUE(p);
    // On the last day the visit must start by 15:00 = minute 900.
    for (const TimeWindow &w : p->jobs[0].windows[2])
        EXPECT_LE(w.to, 900);
    EXPECT_EQ(p->jobs[0].priority, Priority::Urgent);
    stored(VisitStatus::Published, kSunday.plusDays(1), std::nullopt).kind = VisitKind::StartOfCare;
    const auto again = due(week(0));
    ASSERT_EQ(again.size(), 1U);
    EXPECT_EQ(again[0].cause, DueCause::Existing);
}

TEST_F(DueTest, RecertificationFallsIntoDays56To60) {
    order({segment(1, 20)}, kSunday.plusDays(-60));
    // Day 1 is Thursday 2026-09-10, so days 56 to 60 are 2026-11-04 (Wednesday) to 2026-11-08 (Sunday).
    s.patients[0].startOfCare = Date::of(2026, 9, 10);
    const auto recert = [&](DateRange days) -> std::optional<DueVisit> {
        for (const DueVisit &d : due(days))
            if (d.cause == DueCause::Recertification)
                return d;
        return std::nullopt;
    };
    const auto now = recert(week(0));
    ASSERT_TRUE(now);
    EXPECT_EQ(now->visit.dueFrom, Date::of(2026, 11, 4));
    EXPECT_EQ(now->visit.dueTo, kSunday.plusDays(7));
    stored(VisitStatus::Published, Date::of(2026, 11, 5), std::nullopt).kind = VisitKind::Recertification;
    EXPECT_FALSE(recert(week(0))); // it is an existing visit now
    EXPECT_FALSE(recert(week(1))); // and the window's last day, next Sunday, asks for no second one
    EXPECT_FALSE(recert(week(2)));
}

TEST_F(DueTest, SeveralWeeksOweWhatEachOfThemOwes) {
    order({segment(2, 2), segment(1, 5)}, kSunday);
    const DateRange three{kSunday, kSunday.plusDays(21)};
    const auto all = due(three);
    ASSERT_EQ(all.size(), 5U); // 2, 2, 1
    std::size_t i = 0;
    for (int n = 0; n < 3; ++n)
        for (const DueVisit &one : due(week(n))) {
            EXPECT_EQ(all[i].visit.dueFrom, one.visit.dueFrom);
            EXPECT_EQ(all[i].visit.dueTo, one.visit.dueTo);
            EXPECT_EQ(all[i].ordinal, one.ordinal);
            EXPECT_EQ(all[i].leastGap, one.leastGap);
            ++i;
        }
    // One series over all of them: visits on both sides of a week's end are kept apart as well.
    const auto p = problem(three);
    ASSERT_TRUE(p);
    ASSERT_EQ(p->series.size(), 1U);
    EXPECT_EQ(p->series[0].jobs.size(), 5U);
    EXPECT_TRUE(p->series[0].fixedDays.empty());
    EXPECT_EQ(p->nurses[0].contractMinutes, s.nurses[0].contractPerWeek.count());
    // A drafted visit of the second week stands in the problem once, not beside it as well.
    stored(VisitStatus::Drafted, kSunday.plusDays(8));
    const auto again = problem(three);
    ASSERT_TRUE(again);
    EXPECT_EQ(again->jobs.size(), 5U);
    EXPECT_TRUE(again->series[0].fixedDays.empty());
}

TEST_F(DueTest, ARecertificationOverAWeeksEndIsOneVisitWithAllItsDays) {
    order({segment(1, 20)}, kSunday.plusDays(-60));
    s.patients[0].startOfCare = Date::of(2026, 9, 10); // window 2026-11-04 to 2026-11-08, see above
    int found = 0;
    for (const DueVisit &d : due({kSunday, kSunday.plusDays(14)}))
        if (d.cause == DueCause::Recertification) {
            ++found;
            EXPECT_EQ(d.visit.dueFrom, Date::of(2026, 11, 4));
            EXPECT_EQ(d.visit.dueTo, Date::of(2026, 11, 9));
        }
    EXPECT_EQ(found, 1);
}

TEST_F(DueTest, ARecertificationThatPassedUnmetIsDueAtOnceUntilItIsMade) {
    // Period 1 ended on Saturday 31 October; its window was 27 to 31 October.
    s.patients[0].startOfCare = Date::of(2026, 9, 2);
    const auto recert = [&](DateRange days) -> std::optional<DueVisit> {
        for (const DueVisit &d : due(days))
            if (d.cause == DueCause::Recertification)
                return d;
        return std::nullopt;
    };
    EXPECT_FALSE(recert(week(0))) << "the records begin after it: a new agency is not late everywhere";
    stored(VisitStatus::Done, Date::of(2026, 10, 12), std::nullopt);
    const auto now = recert(week(0));
    ASSERT_TRUE(now);
    EXPECT_EQ(now->visit.dueFrom, kSunday);
    EXPECT_EQ(now->visit.dueTo, kSunday.plusDays(3));
    const auto next = recert(week(1));
    ASSERT_TRUE(next) << "as next week is planned while this one is under way";
    EXPECT_EQ(next->visit.dueFrom, kSunday.plusDays(7));
    EXPECT_FALSE(recert(week(2)));
    const auto later = recert(week(8));
    ASSERT_TRUE(later) << "its own window, 26 to 30 December, is owed all the same";
    EXPECT_EQ(later->visit.dueTo, Date::of(2026, 12, 31));
    int both = 0;
    for (const DueVisit &d : due({kSunday, kSunday.plusDays(14)}))
        both += d.cause == DueCause::Recertification ? 1 : 0;
    EXPECT_EQ(both, 1);

    hold(HoldKind::Hospital, kSunday.plusDays(-3), std::nullopt);
    EXPECT_FALSE(recert(week(0))) << "nobody is visited in hospital";
    s.holds.clear();
    Visit &visit = stored(VisitStatus::Published, kSunday.plusDays(1), std::nullopt);
    visit.kind = VisitKind::Recertification;
    EXPECT_FALSE(recert(week(0))) << "an existing visit now";
    EXPECT_FALSE(recert(week(1)));
    visit.status = VisitStatus::Missed;
    EXPECT_TRUE(recert(week(0)));
    visit.status = VisitStatus::Done;
    EXPECT_FALSE(recert(week(0)));
    EXPECT_FALSE(recert(week(1)));
}

TEST_F(DueTest, NothingIsDueForThoseWhoLeft) {
    order({segment(2, 4)}, kSunday);
    for (const CareStatus status : {CareStatus::Discharged, CareStatus::Transferred, CareStatus::Deceased}) {
        s.patients[0].status = status;
        EXPECT_TRUE(due(week(0)).empty());
    }
}

TEST_F(DueTest, AHolidayIsNoVisitingDayUnlessWorked) {
    const Date thanksgiving = Date::of(2026, 11, 26);
    EXPECT_FALSE(isVisitingDay(s.settings, thanksgiving));
    EXPECT_TRUE(isVisitingDay(s.settings, thanksgiving.plusDays(-1)));
    order({segment(2, 8)}, kSunday);
    auto p = problem(week(3)); // from 2026-11-22
    ASSERT_TRUE(p);
    EXPECT_FALSE(p->jobs[0].allowedDays[4]);
    EXPECT_TRUE(p->jobs[0].allowedDays[3]);
    s.settings.holidaysAreWorked = true;
    p = problem(week(3));
    ASSERT_TRUE(p);
    EXPECT_TRUE(p->jobs[0].allowedDays[4]);
}

TEST_F(DueTest, EvenSpacingGivesWayToTheDaysThatAnOrderReallyHasInAHolidayWeek) {
    // Three a week from Tuesday 24 November on: Tuesday, Wednesday, Friday and Saturday are open, Thursday is
    // Thanksgiving. Two days apart only two visits fit, so the wish for even spacing becomes one day.
    order({segment(3, 9)}, Date::of(2026, 11, 24));
    const auto list = due(week(3));
    ASSERT_EQ(list.size(), 3U);
    for (const DueVisit &d : list)
        EXPECT_EQ(d.leastGap, Days::of(1));
}

TEST_F(DueTest, ARenewedOrderGoesOnWithTheSeriesOfTheOneBefore) {
    order({segment(2, 4)}, kSunday).end = kSunday.plusDays(3);
    order({segment(2, 4)}, kSunday.plusDays(3));
    auto p = problem(week(0));
    ASSERT_TRUE(p);
    ASSERT_EQ(p->series.size(), 1U)
        << "one of the old order and one of the new are two visits of one patient";
    EXPECT_EQ(p->series[0].jobs.size(), p->jobs.size());
    EXPECT_GE(p->series[0].leastGap, 1);
}

TEST_F(DueTest, WhatWasMadeUnderTheOrderBeforeKeepsItsDistance) {
    order({segment(2, 1)}, kSunday.plusDays(-7)).end = kSunday;
    order({segment(2, 4)}, kSunday);
    stored(VisitStatus::Done, kSunday.plusDays(-1), VisitOrderId(1));
    const auto list = due(week(0));
    ASSERT_EQ(list.size(), 2U);
    for (const DueVisit &d : list)
        EXPECT_EQ(d.fixedNeighbours, std::vector{kSunday.plusDays(-1)});
}

TEST_F(DueTest, OrdersSideBySideOrOfAnotherKindAreSeriesOfTheirOwn) {
    order({segment(2, 4)}, kSunday);
    order({segment(2, 4)}, kSunday);
    auto beside = problem(week(0));
    ASSERT_TRUE(beside);
    EXPECT_EQ(beside->series.size(), 2U);
    s.visitOrders[0].end = kSunday.plusDays(3);
    s.visitOrders[1].start = kSunday.plusDays(3);
    s.visitOrders[1].kind = VisitKind::DrainOnly;
    auto kinds = problem(week(0));
    ASSERT_TRUE(kinds);
    EXPECT_EQ(kinds->series.size(), 2U);
}

TEST_F(DueTest, ASymptomAsksForOneVisitSoon) {
    order({segment(1, 8)}, kSunday);
    for (int k = 1; k <= 2; ++k) {
        CallItem item;
        item.id = CallItemId(k);
        item.patient = PatientId(1);
        item.kind = CautionKind::SymptomToday;
        item.urgency = CautionUrgency::Today;
        item.raisedAt = {kSunday, Minutes::of(400)};
        s.callItems.push_back(item);
    }
    const auto isFollowUp = [](const DueVisit &d) { return d.cause == DueCause::SymptomFollowUp; };
    EXPECT_EQ(std::ranges::count_if(due(week(0)), isFollowUp), 1);
    for (CallItem &item : s.callItems)
        item.status = CallItemStatus::Closed;
    EXPECT_EQ(std::ranges::count_if(due(week(0)), isFollowUp), 0);
}

TEST_F(DueTest, AnUnknownHomeStockAsksForACountWhereNobodyElseComes) {
    s.homeCounts.clear();
    stored(VisitStatus::Done, kSunday.plusDays(-1), std::nullopt); // the dressing was seen yesterday
    s.settings.set(SettingKey::DressingCheckDays, 14);
    const auto list = due(week(0));
    ASSERT_EQ(list.size(), 1U);
    EXPECT_EQ(list[0].cause, DueCause::SupplyCount);
    order({segment(1, 8)}, kSunday);
    const auto with = due(week(0));
    ASSERT_EQ(with.size(), 1U); // whoever comes by order counts as well
    EXPECT_EQ(with[0].cause, DueCause::VisitOrder);
}

TEST_F(DueTest, AnExpiredCompetenceIsNotBookedFromItsLastDayOn) {
    order({segment(1, 8)}, kSunday);
    for (SkillGrant &grant : s.nurses[0].skills)
        if (grant.skill == Skill::DrainChest)
            grant.expiresOn = kSunday.plusDays(3); // no longer valid on Wednesday
    const auto p = problem(week(0));
    ASSERT_TRUE(p);
    ASSERT_EQ(p->duties.size(), 7U);
    for (const Duty &duty : p->duties)
        EXPECT_EQ(duty.skills.contains(Skill::DrainChest), duty.day < 3);
}

TEST_F(DueTest, SeveralShiftsADayAreOneDutyWithABlockedGap) {
    order({segment(1, 8)}, kSunday);
    ShiftPattern evening = s.shiftPatterns[1]; // Monday
    evening.id = ShiftPatternId(50);
    evening.from = Minutes::of(1080);
    evening.to = Minutes::of(1200);
    s.shiftPatterns.push_back(evening);
    const auto p = problem(week(0));
    ASSERT_TRUE(p);
    EXPECT_EQ(p->duties[1].from, 480);
    EXPECT_EQ(p->duties[1].to, 1200);
    ASSERT_EQ(p->duties[1].blocked.size(), 1U);
    EXPECT_EQ(p->duties[1].blocked[0].from, 1020);
    EXPECT_EQ(p->duties[1].blocked[0].to, 1080);
}

TEST_F(DueTest, APlanGoesBackToVisitsAndForthAgain) {
    order({segment(2, 4)}, kSunday);
    const SnapshotIndex index(s);
    const auto list = visitsDue(index, week(0));
    const auto p = buildWeek(index, week(0), list, {});
    ASSERT_TRUE(p);
    WeekPlan plan;
    plan.placements.resize(2);
    plan.placements[0] = {1, -1, 540}; // Monday at nine; the other stays open
    const std::vector<Visit> visits = visitsOf(*p, plan, list);
    EXPECT_EQ(visits[0].on, kSunday.plusDays(1));
    EXPECT_EQ(visits[0].startAt, Minutes::of(540));
    EXPECT_EQ(visits[0].nurse, NurseId(1));
    EXPECT_EQ(visits[0].status, VisitStatus::Drafted);
    EXPECT_EQ(visits[1].status, VisitStatus::Due);
    std::vector<DueVisit> back = list;
    for (std::size_t i = 0; i < 2; ++i)
        back[i].visit = visits[i];
    const WeekPlan again = planOf(*p, back);
    EXPECT_EQ(again.placements[0].duty, 1);
    EXPECT_EQ(again.placements[0].start, 540);
    EXPECT_FALSE(again.placements[1].isPlaced());
}

TEST_F(DueTest, AnOrderReplacedInMidWeekDoesNotDoubleTheVisits) {
    order({segment(2, 4)}, kSunday).end = kSunday.plusDays(7 + 3); // until Tuesday
    order({segment(3, 4)}, kSunday.plusDays(7 + 3));               // from Wednesday
    // 2 x 3/7 + 3 x 4/7 = 18/7, rounded up 3; whole parts 0 and 1, the rest 6/7 and 5/7: one each.
    const auto all = due(week(1));
    const auto of = [&](int id) {
        return std::ranges::count_if(all,
                                     [&](const DueVisit &d) { return d.visit.order == VisitOrderId(id); });
    };
    EXPECT_EQ(of(1), 1);
    EXPECT_EQ(of(2), 2);
    EXPECT_EQ(due(week(0)).size(), 2U) << "the week before is the old order's alone";
    EXPECT_EQ(due(week(2)).size(), 3U) << "the week after is the new one's";
}

TEST_F(DueTest, WhatTheOldOrderMadeBeyondItsPartIsNotMadeAgain) {
    order({segment(2, 4)}, kSunday).end = kSunday.plusDays(7 + 3);
    order({segment(2, 4)}, kSunday.plusDays(7 + 3));
    s.asOf = kSunday.plusDays(7 + 3);
    s.now = {s.asOf, Minutes::of(420)};
    stored(VisitStatus::Done, kSunday.plusDays(7));
    EXPECT_EQ(due(week(1)).size(), 1U) << "2 in all";
    stored(VisitStatus::Done, kSunday.plusDays(7 + 2));
    EXPECT_TRUE(due(week(1)).empty()) << "both are made";
}

TEST_F(DueTest, AVisitCalledOffForGoodIsNotOwedAgain) {
    order({segment(2, 4)}, kSunday);
    ASSERT_EQ(due(week(0)).size(), 2U);
    Visit &dropped = stored(VisitStatus::Cancelled, kSunday.plusDays(2));
    EXPECT_EQ(due(week(0)).size(), 2U) << "what a hold paused is owed again";
    dropped.isDropped = true;
    EXPECT_EQ(due(week(0)).size(), 1U);
    EXPECT_EQ(due(week(1)).size(), 2U) << "the next week owes what is ordered";
}

} // namespace
} // namespace kitround::rounds
