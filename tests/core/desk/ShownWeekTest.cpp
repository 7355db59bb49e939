// With which week the calendar opens, what its head counts, which visit stays chosen when the records change,
// and how a lock in the way is let go.
#include "core/desk/views/ShownWeek.h"
#include "core/desk/views/WaysOut.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>

namespace kitround::desk {
namespace {

TEST(ShownWeek, TodaysRoundComesBeforeNextWeeksPlan) {
    Story s;
    const auto home = s.addHome("A");
    EXPECT_EQ(firstWeek(*s.agency()), nextWeek(*s.agency())) << "nobody drives today";
    Visit visit = s.publishVisit(home, kMonday, 8);
    EXPECT_EQ(firstWeek(*s.agency()), Date::of(2026, 3, 1));
    s.now(at(kMonday, 12));
    visit.status = VisitStatus::Done;
    visit.startedAt = at(kMonday, 8, 10);
    visit.endedAt = at(kMonday, 9);
    must(s.desk().closeVisit(visit));
    EXPECT_EQ(firstWeek(*s.agency()), nextWeek(*s.agency())) << "today's round is made";
}

TEST(ShownWeek, TheHeadCountsWhatIsMadeBesideWhatIsToDo) {
    Story s;
    const auto home = s.addHome("A");
    Visit visit = s.publishVisit(home, kMonday, 8);
    EXPECT_EQ(visitsCountText(*must(openWeek(s.agency(), kMonday, nullptr))), QStringLiteral("1 visit"));
    s.now(at(kMonday, 12));
    visit.status = VisitStatus::Done;
    visit.startedAt = at(kMonday, 8, 10);
    visit.endedAt = at(kMonday, 9);
    must(s.desk().closeVisit(visit));
    EXPECT_EQ(visitsCountText(*must(openWeek(s.agency(), kMonday, nullptr))),
              QStringLiteral("0 to do, 1 made"));
}

TEST(ShownWeek, WhichOfTheWeeksVisitsIsOwedIsNotReadAsHowMany) {
    Story s;
    s.visits(s.addHome("A"), 2, 4, PublishedWeek::kFrom);
    const auto week = must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr));
    ASSERT_EQ(week->due.size(), 2U);
    EXPECT_TRUE(visitCard(*week, 0).dueText.startsWith(QStringLiteral("visit 1 of the 2 this week, ")))
        << visitCard(*week, 0).dueText.toStdString();
}

TEST(ShownWeek, AVisitIsFoundAgainWhateverNumberItHas) {
    Story s;
    for (const char *code : {"A", "B", "C"})
        s.visits(s.addHome(code), 2, 4, PublishedWeek::kFrom);
    const auto open = [&] { return must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr)); };
    const auto before = open();
    ASSERT_EQ(before->due.size(), 6U);
    EXPECT_EQ(sameJob(*before, 4, *before), 4);
    EXPECT_EQ(sameJob(*before, -1, *before), -1);
    must(s.desk().dropVisit(before->due.front().visit, "one fewer this week"));
    const auto after = open();
    ASSERT_EQ(after->due.size(), 5U);
    for (std::int32_t job = 2; job < 6; ++job) {
        const std::int32_t is = sameJob(*before, job, *after);
        ASSERT_EQ(is, job - 1);
        EXPECT_EQ(after->due[static_cast<std::size_t>(is)].visit.patient,
                  before->due[static_cast<std::size_t>(job)].visit.patient);
    }
    // Stored since: it has a record now, and stands where it stood.
    const auto planned = PublishedWeek::planned(*after);
    must(s.desk().acceptPlan(PublishedWeek::kFrom, visitsOf(*planned), 1, 0, true));
    const auto stored = open();
    for (const PlacedJob &placed : placedJobs(*planned)) {
        const std::int32_t is = sameJob(*planned, placed.job, *stored);
        ASSERT_GE(is, 0);
        EXPECT_EQ(stored->plan.placements[static_cast<std::size_t>(is)].start, placed.start);
    }
    // Of a visit that is not owed any more nothing is taken for it.
    const Visit gone = stored->due.front().visit;
    must(s.desk().dropVisit(gone, "one fewer this week"));
    EXPECT_EQ(sameJob(*stored, 0, *open()), -1);
}

TEST(ShownWeek, AWayOutLetsGoOfTheLockAndNamesThePlace) {
    const PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const auto locked = withLocks(*p.week, visit.job, {.day = true, .nurse = true, .time = false});
    rounds::WeekPlan plan = locked->plan;
    plan.placements[static_cast<std::size_t>(visit.job)] = {};
    const auto open = withPlan(*locked, plan);
    const VisitReasons reasons = reasonsOf(*open, visit.job);
    const auto way = std::ranges::find_if(reasons.waysOut, [](const Suggestion &s) {
        return s.step == WayStep::Unlock && s.text.startsWith(QStringLiteral("Unlock the nurse"));
    });
    ASSERT_NE(way, reasons.waysOut.end());
    EXPECT_TRUE(way->kept.day);
    EXPECT_FALSE(way->kept.nurse);
    for (const Suggestion &other : reasons.waysOut)
        EXPECT_FALSE(other.text.startsWith(QStringLiteral("Allow "))) << other.text.toStdString();
    const auto unlocked = withLocks(*open, visit.job, way->kept);
    const auto job = static_cast<std::size_t>(visit.job);
    EXPECT_GE(unlocked->problem.jobs[job].lockedDay, 0) << "what is not let go stays";
    EXPECT_EQ(unlocked->problem.jobs[job].lockedNurse, -1);
    EXPECT_TRUE(offerMove(*unlocked, visit.job, way->nurse, way->on, way->start).isAllowed());
    EXPECT_EQ(withLocks(*unlocked, visit.job, {.day = false, .nurse = true})->problem.jobs[job].lockedNurse,
              -1)
        << "without a place there is nothing to lock it to";
}

TEST(ShownWeek, TwoLocksThatOnlyTogetherLetItFitAreOneWayOut) {
    const PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const auto locked = withLocks(*p.week, visit.job, {.day = true, .nurse = true, .time = false});
    rounds::WeekPlan plan = locked->plan;
    for (rounds::Placement &placed : plan.placements)
        placed = {};
    const auto tight = std::make_shared<WeekPicture>(*withPlan(*locked, plan));
    const rounds::Duty was = tight->problem.duties[static_cast<std::size_t>(visit.duty)];
    for (rounds::Duty &duty : tight->problem.duties)
        if (duty.day == was.day || duty.nurse == was.nurse)
            duty.mostVisits = 0; // only another nurse on another day has room
    const VisitReasons reasons = reasonsOf(*tight, visit.job);
    const auto way = std::ranges::find(reasons.waysOut, WayStep::Unlock, &Suggestion::step);
    ASSERT_NE(way, reasons.waysOut.end());
    EXPECT_TRUE(way->text.startsWith(QStringLiteral("Unlock the day and the nurse together: ")))
        << way->text.toStdString();
    EXPECT_FALSE(way->kept.day || way->kept.nurse);
    EXPECT_NE(way->nurse, nurseOfDuty(*tight, visit.duty));
    EXPECT_NE(way->on, dayOfDuty(*tight, visit.duty));
    EXPECT_FALSE(
        offerMove(*withLocks(*tight, visit.job, {.day = true}), visit.job, way->nurse, way->on).isAllowed())
        << "one of them alone is not enough";
    const auto unlocked = withLocks(*tight, visit.job, way->kept);
    EXPECT_TRUE(offerMove(*unlocked, visit.job, way->nurse, way->on, way->start).isAllowed());
}

// The first visit that an order owes in the week, which has no place.
std::int32_t orderedJob(const WeekPicture &week) {
    for (std::size_t j = 0; j < week.due.size(); ++j)
        if (week.due[j].visit.order)
            return static_cast<std::int32_t>(j);
    throw std::runtime_error("an order must owe a visit");
}

TEST(ShownWeek, AWayOutSaysWhatToChangeInThePatientsRecordAndTellsItOnce) {
    Story s;
    const auto home = s.addHome("A");
    VisitOrder order = s.visits(home, 1, 4, PublishedWeek::kFrom);
    order.allowedDays = WeekdaySet{Weekday::Saturday}; // when nobody works
    must(s.desk().save(order));
    const auto week = must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr));
    const auto ways = waysOutOf(*week, orderedJob(*week));
    ASSERT_FALSE(ways.empty());
    QStringList changes;
    for (const Suggestion &way : ways) {
        EXPECT_EQ(way.step, WayStep::PatientRecord);
        EXPECT_TRUE(way.change.startsWith(QStringLiteral("allow "))) << way.change.toStdString();
        EXPECT_TRUE(way.text.contains(way.change)) << way.text.toStdString();
        changes << way.change;
    }
    EXPECT_EQ(changes.removeDuplicates(), 0) << changes.join(u'\n').toStdString();
}

TEST(ShownWeek, AWayOutOntoAnotherDayKeepsToTheTimesOfThatDay) {
    Story s;
    const auto home = s.addHome("A");
    VisitOrder order = s.visits(home, 1, 4, PublishedWeek::kFrom);
    order.allowedDays = WeekdaySet{Weekday::Saturday}; // when nobody works
    must(s.desk().save(order));
    Patient patient = *s.index().patient(home.patient);
    VisitWindow late;
    late.weekday = Weekday::Tuesday;
    late.from = Minutes::of(13 * 60);
    late.to = Minutes::of(15 * 60);
    late.isHard = true;
    patient.windows = {late};
    must(s.desk().save(patient));
    const auto week = must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr));
    const std::int32_t job = orderedJob(*week);
    const rounds::Minute last = 15 * 60 - week->problem.jobs[static_cast<std::size_t>(job)].length;
    int onTuesday = 0;
    for (const rounds::WayOut &way : rounds::waysOut(week->problem, week->plan, job, 100)) {
        if (dayOfDuty(*week, way.duty).weekday() != Weekday::Tuesday)
            continue;
        ++onTuesday;
        EXPECT_GE(way.start, 13 * 60);
        EXPECT_LE(way.start, last);
    }
    EXPECT_GT(onTuesday, 0);
}

TEST(ShownWeek, AWayOutSaysHowWideTheVisitingTimeWouldHaveToBe) {
    Story s;
    const auto home = s.addHome("A");
    s.visits(home, 1, 4, PublishedWeek::kFrom);
    Patient patient = *s.index().patient(home.patient);
    VisitWindow early;
    early.weekday = Weekday::Tuesday;
    early.from = Minutes::of(6 * 60);
    early.to = Minutes::of(7 * 60);
    patient.windows = {early};
    must(s.desk().save(patient));
    const auto week = must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr));
    const auto ways = waysOutOf(*week, orderedJob(*week));
    const auto wider = std::ranges::find_if(
        ways, [](const Suggestion &way) { return way.change.startsWith(QStringLiteral("widen Tue")); });
    ASSERT_NE(wider, ways.end());
    EXPECT_TRUE(wider->change.startsWith(QStringLiteral("widen Tue 06:00\u201307:00 to 06:00\u2013")))
        << wider->change.toStdString();
    EXPECT_TRUE(std::ranges::any_of(ways, [](const Suggestion &way) {
        return way.change.contains(QStringLiteral("to the times the patient can be visited"));
    })) << "or another day";
}

TEST(ShownWeek, NothingIsAWayOutThatNoRecordCouldOpen) {
    const PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const auto job = static_cast<std::size_t>(visit.job);
    auto closed = std::make_shared<WeekPicture>(*p.week);
    closed->problem.jobs[job].allowedDays.assign(closed->problem.jobs[job].allowedDays.size(), false);
    rounds::WeekPlan plan = closed->plan;
    plan.placements[job] = {};
    const auto week = withPlan(*closed, plan);
    EXPECT_FALSE(rounds::waysOut(week->problem, week->plan, visit.job).empty());
    EXPECT_TRUE(waysOutOf(*week, visit.job).empty()) << "the order and the times allow every day as it is";
}

TEST(ShownWeek, OfAWeekThatIsOverNothingIsOfferedAndWhatWasNotPlannedIsSaid) {
    Story s;
    s.visits(s.addHome("A"), 2, 4, PublishedWeek::kFrom);
    EXPECT_EQ(notPlacedText(*must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr)), 2),
              QStringLiteral("2 not placed"));
    s.now(at(PublishedWeek::kFrom.plusDays(9), 9));
    const auto week = must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr));
    EXPECT_EQ(notPlacedText(*week, 2), QStringLiteral("2 were not planned"));
    const VisitReasons reasons = reasonsOf(*week, orderedJob(*week));
    EXPECT_TRUE(reasons.waysOut.empty());
    EXPECT_TRUE(reasons.alternatives.empty());
    ASSERT_EQ(reasons.why.size(), 1);
    EXPECT_TRUE(reasons.why.front().contains(QStringLiteral("was not planned")))
        << reasons.why.front().toStdString();
}

TEST(ShownWeek, APlanThatLeavesVisitsOutIsNotCalledTheBestPossible) {
    EXPECT_TRUE(provenText(true).contains(QStringLiteral("best possible")));
    EXPECT_EQ(provenText(false), QStringLiteral("no plan places more"));
}

} // namespace
} // namespace kitround::desk
