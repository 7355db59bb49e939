// From a plan to visits, and from visits to what happened.
#include "core/desk/views/WeekView.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;

constexpr Date kNextWeek = Date::of(2026, 3, 8);

WeekPicturePtr planned(const Story &s) {
    const auto open = must(openWeek(s.agency(), kNextWeek, nullptr));
    rounds::SolveOptions options;
    options.iterations = 200;
    return must(planWeek(*open, options, {}, {}));
}

Delivery promiseWithVisit(Story &s, const Story::Home &home, Date on, Date deliverBy) {
    s.receive(s.kit500, "L1", 20, Date::of(2027, 6, 1));
    Delivery wanted;
    wanted.patient = home.patient;
    wanted.contact = s.contact(home).id;
    wanted.promisedFor = on;
    wanted.deliverBy = deliverBy;
    wanted.way = DeliveryWay::WithVisit;
    wanted.carriedBy = s.nurse;
    wanted.lines = {{home.catheter, s.kit500, std::nullopt, Eaches::of(5)}};
    return must(s.desk().promise(wanted));
}

// Another visit like that one, not stored yet.
Visit another(const Visit &visit, Date on) {
    Visit next = visit;
    next.id = {};
    next.rowVersion = 0;
    next.on = on;
    next.dueFrom = on;
    next.dueTo = on.plusDays(1);
    return next;
}

// What the week's picture gives the visit to carry.
bool carriesInPicture(const Story &s, VisitId visit) {
    const auto week = must(openWeek(s.agency(), kMonday, nullptr));
    const auto due = std::ranges::find(week->due, visit, [](const auto &d) { return d.visit.id; });
    if (due == week->due.end())
        throw std::runtime_error("the visit is not of the week");
    const auto job = static_cast<std::int32_t>(due - week->due.begin());
    return std::ranges::find(week->plan.riderJob, job) != week->plan.riderJob.end();
}

TEST(WeekStory, APublishedPlanBecomesVisitsAndTheNextOneStandsInItsPlaceWithHistory) {
    Story s;
    const auto home = s.addHome("A");
    s.order(home, everyDays(1, kMonday), kMonday, s.kit500);
    s.visits(home, 2, 4, kNextWeek);
    WeekPicturePtr week = planned(s);
    const Plan first =
        must(s.desk().acceptPlan(kNextWeek, visitsOf(*week), week->seed, week->plan.cost, true));
    EXPECT_EQ(first.status, PlanStatus::Published);
    EXPECT_EQ(first.version, 1);
    ASSERT_GE(first.visits.size(), 2U);
    EXPECT_GT(first.visits.front().travelBefore, Minutes{});
    for (const PlannedVisit &stop : first.visits) {
        EXPECT_EQ(s.visit(stop.visit).status, VisitStatus::Published);
        EXPECT_EQ(s.visit(stop.visit).on, stop.on);
    }
    // Opened again, the week shows what was published, and owes nothing twice.
    const auto again = must(openWeek(s.agency(), kNextWeek, nullptr));
    EXPECT_EQ(placedJobs(*again).size(), first.visits.size());
    EXPECT_EQ(again->due.size(), week->due.size());

    const Plan second = must(s.desk().acceptPlan(kNextWeek, visitsOf(*again), 2, 0, true));
    EXPECT_EQ(second.version, 2);
    const auto versions = must(s.desk().planVersions(kNextWeek));
    ASSERT_EQ(versions.size(), 2U);
    EXPECT_EQ(versions[0].status, PlanStatus::Superseded);
    EXPECT_EQ(versions[0].visits, first.visits);
    EXPECT_EQ(versions[1].status, PlanStatus::Published);
    EXPECT_EQ(s.snapshot().visits.size(), first.visits.size());
}

TEST(WeekStory, WeeksPlannedTogetherAreStoredTogetherAndOpenAloneAsTheyStood) {
    Story s;
    const auto home = s.addHome("A");
    const auto other = s.addHome("B");
    s.visits(home, 2, 4, kNextWeek);
    s.visits(other, 3, 4, kNextWeek);
    const auto open = must(openWeek(s.agency(), kNextWeek, nullptr, 3));
    EXPECT_EQ(weeksIn(*open), 3);
    EXPECT_EQ(open->due.size(), 15U);
    rounds::SolveOptions options;
    options.iterations = 300;
    const auto weeks = must(planWeek(*open, options, {}, {}));
    EXPECT_TRUE(unplacedJobs(*weeks).empty());
    EXPECT_TRUE(weeks->evaluation.broken.empty());
    const auto records = must(planRecords(*weeks));
    ASSERT_EQ(records.size(), 3U);
    // A bad last week leaves the first ones unwritten too.
    auto bad = records;
    bad.back().visits.front().nurse.reset();
    EXPECT_EQ(flattened(refused(s.desk().acceptPlans(bad, true))).front().field, "nurse_id");
    EXPECT_TRUE(s.snapshot().visits.empty());
    const auto plans = must(s.desk().acceptPlans(records, true));
    ASSERT_EQ(plans.size(), 3U);
    for (int n = 0; n < 3; ++n) {
        const Date from = kNextWeek.plusDays(7 * n);
        EXPECT_EQ(plans[static_cast<std::size_t>(n)].weekStart, from);
        const auto alone = must(openWeek(s.agency(), from, nullptr));
        EXPECT_EQ(placedJobs(*alone).size(), 5U);
        EXPECT_TRUE(alone->evaluation.broken.empty());
        EXPECT_NEAR(plans[static_cast<std::size_t>(n)].cost, records[static_cast<std::size_t>(n)].cost, 1e-9);
    }
    const auto again = must(openWeek(s.agency(), kNextWeek, nullptr, 3));
    EXPECT_EQ(placedJobs(*again).size(), 15U);
    EXPECT_EQ(again->due.size(), 15U);
}

TEST(WeekStory, ADraftIsWrittenOnUntilItIsPublished) {
    Story s;
    const auto home = s.addHome("A");
    s.visits(home, 2, 4, kNextWeek);
    const auto week = planned(s);
    const Plan draft = must(s.desk().acceptPlan(kNextWeek, visitsOf(*week), 1, 0, false));
    EXPECT_EQ(draft.status, PlanStatus::Draft);
    const auto again = must(openWeek(s.agency(), kNextWeek, nullptr));
    EXPECT_EQ(must(s.desk().acceptPlan(kNextWeek, visitsOf(*again), 1, 0, false)).id, draft.id);
    const auto last = must(openWeek(s.agency(), kNextWeek, nullptr));
    const Plan published = must(s.desk().acceptPlan(kNextWeek, visitsOf(*last), 1, 0, true));
    EXPECT_EQ(published.id, draft.id);
    EXPECT_EQ(must(s.desk().planVersions(kNextWeek)).size(), 1U);
}

TEST(WeekStory, APlanMadeBeforeAnExitOrAHoldIsNotPublishedOverIt) {
    Story s;
    const auto gone = s.addHome("A");
    const auto away = s.addHome("B");
    s.visits(gone, 1, 4, kNextWeek);
    s.visits(away, 1, 4, kNextWeek);
    const auto week = planned(s);
    must(s.desk().exitPatient({gone.patient, CareStatus::Discharged, s.utc(at(kMonday, 7)), "goals met"}));
    Hold hold;
    hold.patient = away.patient;
    hold.from = kNextWeek;
    must(s.desk().save(hold));
    const Problems found = flattened(refused(s.desk().acceptPlan(kNextWeek, visitsOf(*week), 1, 0, true)));
    std::vector<std::string> why;
    for (const Problem &p : found)
        why.push_back(firstArg(p));
    EXPECT_NE(std::ranges::find(why, "left_service"), why.end());
    EXPECT_NE(std::ranges::find(why, "on_hold"), why.end());
    EXPECT_TRUE(s.snapshot().visits.empty());
    EXPECT_TRUE(must(s.desk().planVersions(kNextWeek)).empty());
}

TEST(WeekStory, AVisitClosesWithWhatHappenedAndOnlyThat) {
    Story s;
    const auto home = s.addHome("A");
    const Visit planned = s.publishVisit(home, kMonday, 9);
    s.now(at(kMonday, 12));
    Visit closed = planned;
    closed.status = VisitStatus::Done;
    EXPECT_EQ(refused(s.desk().closeVisit(closed)).field, "started_at");
    closed.startedAt = at(kMonday, 9, 10);
    closed.endedAt = at(kMonday, 13);
    const Problem early = refused(s.desk().closeVisit(closed));
    EXPECT_EQ(early.field, "ended_at");
    EXPECT_TRUE(words(early).contains(QStringLiteral("Mon 2 Mar 2026 13:00 has not happened yet")))
        << words(early).toStdString();
    closed.endedAt = at(kMonday, 10);
    closed.length = Minutes::of(400); // not a fact of what happened
    closed = must(s.desk().closeVisit(closed));
    EXPECT_EQ(s.visit(planned.id).status, VisitStatus::Done);
    EXPECT_EQ(s.visit(planned.id).length, planned.length);
    // A plan made meanwhile leaves it alone.
    Visit moved = planned;
    moved.on = kMonday.plusDays(1);
    moved.dueTo = kMonday.plusDays(2);
    must(s.desk().acceptPlan(Date::of(2026, 3, 1), {moved}, 1, 0, true));
    EXPECT_EQ(s.visit(planned.id).on, kMonday);
    EXPECT_EQ(s.visit(planned.id).status, VisitStatus::Done);
}

TEST(WeekStory, AMissedVisitNeedsItsReasonAndIsOwedAgainUnlessTheHospitalHadThePatient) {
    Story s;
    const auto home = s.addHome("A");
    s.visits(home, 1, 4, Date::of(2026, 3, 1));
    const DateRange week{Date::of(2026, 3, 1), Date::of(2026, 3, 8)};
    const auto owed = [&] {
        int n = 0;
        for (const auto &due : rounds::visitsDue(s.index(), week))
            n += due.cause == rounds::DueCause::VisitOrder && !due.visit.id.isSet() ? 1 : 0;
        return n;
    };
    const auto open = must(openWeek(s.agency(), kMonday, nullptr));
    std::vector<Visit> visits = visitsOf(*open);
    for (Visit &visit : visits) {
        visit.on = kMonday;
        visit.startAt = Minutes::of(60 * 9);
        visit.nurse = s.nurse;
    }
    const Plan plan = must(s.desk().acceptPlan(week.from, visits, 1, 0, true));
    const Visit stored = s.visit(plan.visits.front().visit);
    EXPECT_EQ(owed(), 0);
    s.now(at(kMonday, 12));
    Visit missed = stored;
    missed.status = VisitStatus::Missed;
    EXPECT_EQ(refused(s.desk().closeVisit(missed)).field, "miss_reason");
    missed.missReason = MissReason::NotHome;
    missed = must(s.desk().closeVisit(missed));
    EXPECT_EQ(owed(), 1);
    missed.missReason = MissReason::Hospital;
    must(s.desk().closeVisit(missed));
    EXPECT_EQ(owed(), 0);
}

TEST(WeekStory, AVisitNobodyFindsADayForIsRecordedAsMissedAndNotAskedForAgain) {
    Story s;
    const auto home = s.addHome("A");
    s.visits(home, 1, 4, Date::of(2026, 3, 1));
    const auto open = must(openWeek(s.agency(), kMonday, nullptr));
    std::vector<Visit> visits = visitsOf(*open);
    ASSERT_EQ(visits.size(), 1U);
    visits.front().on = kMonday.plusDays(1);
    visits.front().startAt = Minutes::of(60 * 9);
    visits.front().nurse = s.nurse;
    must(s.desk().acceptPlan(Date::of(2026, 3, 1), visits, 1, 0, true));
    const auto told = must(openWeek(s.agency(), kMonday, nullptr));
    const auto none = withPlacements(*told, std::vector<rounds::Placement>(told->due.size()));
    must(s.desk().acceptPlan(Date::of(2026, 3, 1), visitsOf(*none), 1, 0, true)); // it lost its place
    const auto week = must(openWeek(s.agency(), kMonday, nullptr));
    ASSERT_EQ(week->due.size(), 1U);
    Visit visit = week->due.front().visit;
    ASSERT_TRUE(visit.id.isSet() && !visit.on);
    visit.status = VisitStatus::Missed;
    visit.missReason = MissReason::NurseAway;
    must(s.desk().closeVisit(visit));
    EXPECT_EQ(s.visit(visit.id).status, VisitStatus::Missed);
    const auto after = must(openWeek(s.agency(), kMonday, nullptr)); // a dressing is still to be looked at
    EXPECT_TRUE(std::ranges::none_of(after->due, [](const auto &due) { return due.visit.order.has_value(); }))
        << "nobody could place it either";
}

TEST(WeekStory, AParcelGoesWithWhoeverMakesTheVisit) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 20, Date::of(2027, 6, 1));
    const Delivery parcel = s.promise(home, s.kit500, 5, kMonday.plusDays(3), s.otherNurse);
    const Visit visit = s.publishVisit(home, kMonday.plusDays(2), 9);
    EXPECT_EQ(s.delivery(parcel.id).visit, visit.id);
    EXPECT_EQ(s.delivery(parcel.id).carriedBy, s.nurse);
    EXPECT_EQ(s.delivery(parcel.id).promisedFor, kMonday.plusDays(2));
    EXPECT_EQ(must(s.desk().planVersions(Date::of(2026, 3, 1))).back().visits.front().carries, parcel.id);
}

TEST(WeekStory, AParcelOfAVisitThatFallsAwayWaitsForTheNext) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 20, Date::of(2027, 6, 1));
    const Delivery parcel = s.promise(home, s.kit500, 5, kMonday.plusDays(6), s.otherNurse);
    s.publishVisit(home, kMonday.plusDays(2), 9);
    ASSERT_TRUE(s.delivery(parcel.id).visit.has_value());
    Hold hold;
    hold.patient = home.patient;
    hold.kind = HoldKind::Travel;
    hold.from = kMonday.plusDays(2);
    hold.to = kMonday.plusDays(4);
    must(s.desk().save(hold));
    EXPECT_FALSE(s.delivery(parcel.id).visit.has_value()) << "the visit is not made";
    EXPECT_FALSE(s.delivery(parcel.id).carriedBy.has_value());
    EXPECT_EQ(s.delivery(parcel.id).status, DeliveryStatus::Promised);
    const Visit sooner = s.publishVisit(home, kMonday.plusDays(1), 9);
    EXPECT_EQ(s.delivery(parcel.id).visit, sooner.id);
}

TEST(WeekStory, AParcelWhoseVisitComesTooLateGoesWithTheOneBeforeAndWithoutAnyItWaits) {
    Story s;
    const auto home = s.addHome("A");
    const Date week = Date::of(2026, 3, 1);
    s.receive(s.kit500, "L1", 20, Date::of(2027, 6, 1));
    const Delivery parcel = s.promise(home, s.kit500, 5, kMonday.plusDays(2), s.otherNurse);
    Visit own = s.publishVisit(home, kMonday.plusDays(2), 9);
    ASSERT_EQ(s.delivery(parcel.id).visit, own.id);
    Visit sooner = own;
    sooner.id = {};
    sooner.rowVersion = 0;
    sooner.on = kMonday.plusDays(1);
    sooner.dueFrom = *sooner.on;
    own.on = kMonday.plusDays(4);
    own.dueTo = kMonday.plusDays(5);
    const auto publish = [&](const std::vector<Visit> &visits) {
        return must(s.desk().acceptPlan(week, visits, 1, 0, true));
    };
    const auto carrying = [&](const Plan &plan) {
        std::vector<VisitId> visits;
        for (const PlannedVisit &visit : plan.visits)
            if (visit.carries == parcel.id)
                visits.push_back(visit.visit);
        return visits;
    };
    const Plan late = publish({own});
    EXPECT_EQ(carrying(late), std::vector{own.id}) << "late is better than never";
    EXPECT_EQ(s.delivery(parcel.id).promisedFor, kMonday.plusDays(4));
    own = s.visit(own.id);
    own.on = kMonday.plusDays(5);
    own.dueTo = kMonday.plusDays(6);
    const Plan both = publish({own, sooner});
    const std::vector<VisitId> carriers = carrying(both);
    ASSERT_EQ(carriers.size(), 1U);
    EXPECT_NE(carriers.front(), own.id) << "there is one in time";
    EXPECT_EQ(s.delivery(parcel.id).visit, carriers.front());
    EXPECT_EQ(s.delivery(parcel.id).promisedFor, kMonday.plusDays(1));
    sooner = s.visit(carriers.front());
    sooner.on.reset();
    publish({sooner});
    EXPECT_FALSE(s.delivery(parcel.id).visit.has_value()) << "its visit has no place any more";
    EXPECT_FALSE(s.delivery(parcel.id).carriedBy.has_value());
}

TEST(WeekStory, AParcelThatNobodyPackedGoesWithNoVisitThatHasBegun) {
    for (const bool isPacked : {false, true}) {
        Story s;
        const auto home = s.addHome("A");
        const Date tuesday = kMonday.plusDays(1);
        const Delivery parcel = promiseWithVisit(s, home, kMonday, kMonday.plusDays(3));
        const Visit morning = s.publishVisit(home, kMonday, 9);
        ASSERT_EQ(s.delivery(parcel.id).visit, morning.id);
        EXPECT_TRUE(carriesInPicture(s, morning.id));
        if (isPacked)
            must(s.desk().pick(parcel.id));
        s.now(at(kMonday, 14));
        EXPECT_EQ(carriesInPicture(s, morning.id), isPacked);
        const Plan plan = must(s.desk().acceptPlan(
            Date::of(2026, 3, 1), {s.visit(morning.id), another(morning, tuesday)}, 1, 0, true));
        ASSERT_EQ(plan.visits.size(), 2U);
        const Date on = isPacked ? kMonday : tuesday;
        for (const PlannedVisit &place : plan.visits)
            EXPECT_EQ(place.carries == parcel.id, place.on == on) << place.on.toIso();
        ASSERT_TRUE(s.delivery(parcel.id).visit.has_value());
        EXPECT_EQ(s.visit(*s.delivery(parcel.id).visit).on, on);
    }
}

TEST(WeekStory, AParcelThatLosesItsVisitInOneWeekGoesWithOneOfTheNext) {
    Story s;
    const auto home = s.addHome("A");
    const Date later = kNextWeek.plusDays(2);
    const Delivery parcel = promiseWithVisit(s, home, kMonday.plusDays(2), later.plusDays(1));
    Visit own = s.publishVisit(home, kMonday.plusDays(2), 9);
    ASSERT_EQ(s.delivery(parcel.id).visit, own.id);
    const Visit next = another(own, later);
    own.on.reset();
    const std::vector<Desk::PlanRecord> weeks{{Date::of(2026, 3, 1), {own}, 1, 0}, {kNextWeek, {next}, 1, 0}};
    const auto plans = must(s.desk().acceptPlans(weeks, true));
    EXPECT_TRUE(plans[0].visits.empty());
    ASSERT_EQ(plans[1].visits.size(), 1U);
    EXPECT_EQ(plans[1].visits.front().carries, parcel.id);
    EXPECT_EQ(s.delivery(parcel.id).visit, plans[1].visits.front().visit);
    EXPECT_EQ(s.delivery(parcel.id).carriedBy, s.nurse);
    EXPECT_EQ(s.delivery(parcel.id).promisedFor, later);
}

TEST(WeekStory, AParcelOfAMissedVisitWaitsForTheNext) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 20, Date::of(2027, 6, 1));
    const Delivery parcel = s.promise(home, s.kit500, 5, kMonday.plusDays(3), s.otherNurse);
    Visit missed = s.publishVisit(home, kMonday, 9);
    ASSERT_EQ(s.delivery(parcel.id).visit, missed.id);
    s.now(at(kMonday, 12));
    missed.status = VisitStatus::Missed;
    missed.missReason = MissReason::NotHome;
    must(s.desk().closeVisit(missed));
    EXPECT_FALSE(s.delivery(parcel.id).visit.has_value());
}

TEST(WeekStory, ADoneStartOfCareMakesAReferralActive) {
    Story s;
    const auto home = s.addHome("A");
    Patient referred = *s.index().patient(home.patient);
    referred.status = CareStatus::Referred;
    referred.startOfCare.reset();
    must(s.desk().save(referred));
    Visit start = s.publishVisit(home, kMonday, 8, VisitKind::StartOfCare);
    s.now(at(kMonday, 12));
    start.status = VisitStatus::Done;
    start.startedAt = at(kMonday, 8);
    start.endedAt = at(kMonday, 10);
    must(s.desk().closeVisit(start));
    EXPECT_EQ(s.index().patient(home.patient)->status, CareStatus::Active);
    EXPECT_EQ(s.index().patient(home.patient)->startOfCare, kMonday);
}

} // namespace
} // namespace kitround::desk
