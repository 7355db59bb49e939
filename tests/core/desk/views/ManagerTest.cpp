// The manager's questions on a tiny invented agency: who can take a referral, the weeks ahead and the clocks.
#include "core/caseload/VisitsMade.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/IntakeCapacity.h"
#include "core/desk/views/ManagerReview.h"
#include "tests/core/desk/views/ManagerTeam.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

using namespace managers;

TEST(WeeksAheadTest, NobodyIsTakenToLeaveOnTime) {
    const auto ahead = weeksAhead(*Team(40).build(), 8, Minutes::of(20));
    ASSERT_EQ(ahead.weeks.size(), 8U);
    // Orders of four weeks that began on 16 Feb (week of the 15th): the last week is that of 8 March.
    EXPECT_EQ(ahead.weeks[0].inForce, 80);
    EXPECT_EQ(ahead.weeks[0].ifRenewed, 0);
    const WeekAhead &third = ahead.weeks[2];
    EXPECT_EQ(third.ifRenewed, 80) << "an order that runs out is no exit";
    EXPECT_GT(third.visits.middle, 40);
    for (const WeekAhead &w : ahead.weeks) {
        EXPECT_LE(w.visits.low, w.visits.middle);
        EXPECT_LE(w.visits.middle, w.visits.high);
        EXPECT_LE(w.visits.low, w.inForce + w.ifRenewed);
        EXPECT_EQ(w.capacity, Minutes::of(2 * 2400));
        EXPECT_EQ(w.room == Room::Free || w.room == Room::Tight, w.minutes.high <= 4800);
        EXPECT_EQ(w.room == Room::Free, w.startsLeft > 0) << "free is where a new start fits for sure";
    }
    EXPECT_GT(ahead.weeks[7].exits.middle, ahead.weeks[0].exits.middle);
    EXPECT_EQ(ahead.referralsSeen, 0);
}

// A home that stays with chance p: exits over many homes are binomial. With the published hazards and no
// referral rate to speak of, the middle of what 400 like homes ask for lies by 2 x 400 x p.
TEST(WeeksAheadTest, RangesFollowTheChanceToStay) {
    const auto agency = Team(400).build();
    const auto ahead = weeksAhead(*agency, 4, Minutes::of(20));
    const WeekAhead &w = ahead.weeks[3];
    const double left = w.exits.middle;
    EXPECT_NEAR(w.visits.middle, 2 * (400 - left), 0.03 * 800);
    const double p = left / 400;
    const double spread = w.exits.high - w.exits.low; // 2.563 standard deviations of a binomial
    EXPECT_NEAR(spread, 2.563 * std::sqrt(400 * p * (1 - p)), 0.2 * spread + 1);
}

// Of a week that may still be drafted anew nobody is promised anything.
TEST(ManagerReviewTest, TheWeeksAheadTravelAsTheWeeksMadeDid) {
    Team team;
    team.agency.edit([&](Snapshot &s) {
        for (int k = 0; k < 20; ++k) {
            Visit visit;
            visit.id = VisitId(900 + k);
            visit.patient = team.homes[static_cast<std::size_t>(k % 12)].patient;
            visit.status = VisitStatus::Done;
            visit.on = visit.dueFrom = kToday.plusDays(-8 - k % 10);
            visit.dueTo = visit.on->plusDays(1);
            visit.startAt = Minutes::of(540);
            visit.length = Minutes::of(45);
            visit.nurse = kSecond;
            visit.driven = Metres::of(48280); // 30 miles
            s.visits.push_back(visit);
        }
    });
    const auto agency = team.build();
    const Minutes made = caseload::roadFromMiles(agency->settings(), Metres::of(48280),
                                                 agency->snapshot().patients.front().address.area);
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    const auto planned = planWeek(**open, kSearch, {}, {});
    ASSERT_TRUE(planned);
    for (const WeekPicturePtr &week : {*open, *planned}) {
        const WeeksAhead ahead = managerReview(week).ahead;
        EXPECT_EQ(ahead.travelPerVisit, made);
        EXPECT_TRUE(ahead.travelIsMade);
    }
}

TEST(ManagerReviewTest, DaysWithNobodyOnCallAreNamed) {
    Team team;
    team.agency.edit([](Snapshot &s) {
        for (int day = 0; day < 28; ++day) {
            ExtraShift call;
            call.id = ExtraShiftId(900 + day);
            call.nurse = kSecond;
            call.on = kToday.plusDays(day);
            call.from = Minutes::of(1020);
            call.to = Minutes::of(480);
            call.isOnCall = true;
            call.replacesPattern = false;
            if (day != 1 && day != 3 && day != 4) // Tuesday; Thursday and Friday
                s.extraShifts.push_back(call);
        }
    });
    const auto agency = team.build();
    const OnCallReview review = onCallReview(*agency);
    EXPECT_EQ(bareDaysText(review),
              QStringLiteral("Nobody is on call on 3 days: Tue 3 Mar; Thu 5 Mar to Fri 6 Mar."));
    EXPECT_EQ(onCallTable(review, *agency).notes.front(), bareDaysText(review).toStdString());
    const auto nobody = Team().build();
    EXPECT_TRUE(bareDaysText(onCallReview(*nobody)).isEmpty()) << "said by a note of its own";
}

TEST(WeeksAheadTest, ReferralsComeAtTheAgencysOwnRate) {
    Team team;
    team.agency.edit([](Snapshot &s) {
        for (std::size_t k = 0; k < s.patients.size(); ++k) // twelve in twelve weeks, one a week
            s.patients[k].referredAt =
                Instant::fromUnixSeconds((kToday.dayNumber() - 7 * static_cast<std::int64_t>(k) - 1) * 86400);
    });
    const auto ahead = weeksAhead(*team.build(), 4, std::nullopt);
    EXPECT_EQ(ahead.referralsSeen, 12);
    EXPECT_NEAR(ahead.referralsAWeek, 1.0, 1e-12);
    EXPECT_EQ(ahead.weeks[1].referrals.middle, 1);
    EXPECT_EQ(ahead.weeks[1].referrals.low, 0);
    EXPECT_TRUE(ahead.travelIsAssumed);
}

TEST(WeeksAheadTest, AReferralCountsOnTheDayOfTheAgencysClock) {
    Team team(1);
    const auto seen = [&](const char *utc) {
        team.agency.edit([&](Snapshot &s) { s.patients[0].referredAt = Instant::fromIso(utc); });
        return weeksAhead(*team.build(), 1, std::nullopt).referralsSeen;
    };
    EXPECT_EQ(seen("2026-03-03T01:30:00Z"), 1) << "today, 20:30 in New York";
    EXPECT_EQ(seen("2025-12-08T01:30:00Z"), 0) << "twelve weeks and a day ago";
}

TEST(DeadlineTest, TheFirstVisitClockRunsThroughTheWeekend) {
    Team team;
    const PatientId late = team.agency.addHome().patient;
    team.agency.edit([&](Snapshot &s) {
        Patient &patient = s.patients.back();
        patient.status = CareStatus::Referred;
        patient.startOfCare.reset();
        // Friday 27 February, 20:00 UTC: 48 clock hours end on Sunday 15:00 in New York.
        patient.referredAt = Instant::fromUnixSeconds(Date::of(2026, 2, 27).dayNumber() * 86400 + 20 * 3600);
    });
    const DeadlineList list = deadlineList(*team.build());
    const auto row = std::ranges::find_if(list.rows, [&](const DeadlineRow &r) {
        return r.kind == DeadlineKind::FirstVisit && r.patient == late;
    });
    ASSERT_NE(row, list.rows.end());
    EXPECT_EQ(row->due, (LocalTime{Date::of(2026, 3, 1), Minutes::of(15 * 60)}));
    EXPECT_TRUE(row->isOverdue) << "working days would say Tuesday";
    EXPECT_EQ(list.counts[0].due, 1);
    EXPECT_EQ(list.counts[0].inTime, 0);
}

TEST(DeadlineTest, AFirstVisitDueSoonThatNobodyPlannedComesBeforeALateRecertification) {
    Team team(1);
    team.agency.edit([&](Snapshot &s) {
        s.patients[0].startOfCare = kToday.plusDays(-100); // its recertification is six weeks late
        Visit before;
        before.id = VisitId(900);
        before.patient = team.homes.front().patient;
        before.status = VisitStatus::Done;
        before.on = before.dueFrom = kToday.plusDays(-70);
        before.dueTo = kToday.plusDays(-69);
        s.visits.push_back(before);
    });
    const PatientId referred = refer(team);
    const auto agency = team.build();
    const DeadlineList list = deadlineList(*agency);
    const auto overdue = std::ranges::count_if(list.rows, &DeadlineRow::isOverdue);
    ASSERT_GT(overdue, 0);
    EXPECT_EQ(list.rows.front().patient, referred);
    EXPECT_FALSE(list.rows.front().isOverdue);
    EXPECT_TRUE(list.rows.front().isPressing());
    EXPECT_EQ(list.counts[0].unplanned, 1);
    EXPECT_EQ(overdueCount(list), overdue + 1);
    const Table table = deadlineTable(list, *agency);
    EXPECT_EQ(table.rows.front()[3], unplannedText().toStdString());
    EXPECT_EQ(table.notes.front(), "First visit: 1 due soon without a planned visit.");

    team.agency.edit([&](Snapshot &s) {
        Visit start = s.visits.back();
        start.id = VisitId(901);
        start.patient = referred;
        start.kind = VisitKind::StartOfCare;
        start.status = VisitStatus::Drafted;
        start.on = start.dueFrom = kToday.plusDays(1);
        start.dueTo = kToday.plusDays(2);
        s.visits.push_back(start);
    });
    const DeadlineList planned = deadlineList(*team.build());
    EXPECT_TRUE(std::ranges::none_of(planned.rows, &DeadlineRow::isPressing));
    EXPECT_TRUE(planned.rows.front().isOverdue);
}

TEST(WeeksAheadTest, AStartPlannedForThisWeekIsNotAskedOfTheNextAsWell) {
    const auto firstWeek = [](bool isPlanned) {
        Team team;
        const PatientId fresh = team.agency.addHome().patient;
        team.agency.edit([&](Snapshot &s) {
            s.patients.back().status = CareStatus::Referred;
            s.patients.back().startOfCare.reset();
            if (!isPlanned)
                return;
            Visit start;
            start.id = VisitId(901);
            start.patient = fresh;
            start.kind = VisitKind::StartOfCare;
            start.status = VisitStatus::Published;
            start.on = start.dueFrom = kToday.plusDays(1);
            start.dueTo = kToday.plusDays(2);
            start.startAt = Minutes::of(600);
            start.nurse = SmallAgency::kNurse;
            s.visits.push_back(start);
        });
        return weeksAhead(*team.build(), 1, std::nullopt).weeks.front().inForce;
    };
    EXPECT_EQ(firstWeek(true), firstWeek(false) - 1);
}

TEST(DeadlineTest, AReferralWithoutItsTimeIsNotLost) {
    Team team;
    const PatientId untimed = team.agency.addHome().patient;
    team.agency.edit([](Snapshot &s) {
        Patient &patient = s.patients.back();
        patient.status = CareStatus::Referred;
        patient.startOfCare.reset();
        patient.referredAt.reset();
        patient.homeFrom.reset();
    });
    const auto agency = team.build();
    const DeadlineList list = deadlineList(*agency);
    const auto row = std::ranges::find(list.rows, std::optional(untimed), &DeadlineRow::patient);
    ASSERT_NE(row, list.rows.end());
    EXPECT_FALSE(row->isClockKnown);
    EXPECT_FALSE(row->isOverdue);
    EXPECT_TRUE(row->detail.contains(QStringLiteral("enter the referral time"))) << row->detail.toStdString();
    EXPECT_EQ(overdueCount(list), std::ranges::count_if(list.rows, &DeadlineRow::isOverdue) + 1);
    const std::string csv = asCsv(deadlineTable(list, *agency));
    EXPECT_NE(csv.find(",,clock not known,"), std::string::npos) << csv;
    const IntakeCapacity intake = intakeCapacity(*agency, weeksAhead(*agency, 1, std::nullopt));
    EXPECT_NE(asCsv(waitingTable(intake, *agency)).find("enter the referral time"), std::string::npos);
}

TEST(DeadlineTest, AMissedRecertificationStaysUntilItIsMadeAndAHoldIsSaid) {
    Team team(1);
    const PatientId patient = team.homes.front().patient;
    team.agency.edit([&](Snapshot &s) {
        s.patients[0].startOfCare = kToday.plusDays(-100); // the window ended six weeks ago
        Visit before;
        before.id = VisitId(900);
        before.patient = patient;
        before.status = VisitStatus::Done;
        before.on = before.dueFrom = kToday.plusDays(-70);
        before.dueTo = kToday.plusDays(-69);
        s.visits.push_back(before);
    });
    const auto rows = [&] {
        std::vector<DeadlineRow> found;
        for (const DeadlineRow &row : deadlineList(*team.build()).rows)
            if (row.kind == DeadlineKind::Recertification)
                found.push_back(row);
        return found;
    };
    ASSERT_EQ(rows().size(), 1U);
    EXPECT_TRUE(rows()[0].isOverdue);
    EXPECT_EQ(rows()[0].due.date, kToday.plusDays(-41));
    EXPECT_EQ(rows()[0].detail, QStringLiteral("No visit planned."));
    team.agency.hold(team.homes.front(), kToday.plusDays(-2), std::nullopt);
    ASSERT_EQ(rows().size(), 1U);
    EXPECT_TRUE(rows()[0].detail.startsWith(QStringLiteral("On hold: "))) << rows()[0].detail.toStdString();
    EXPECT_TRUE(rows()[0].detail.contains(QStringLiteral("Sat 28 Feb")));
    team.agency.edit([&](Snapshot &s) {
        Visit late = s.visits.back();
        late.id = VisitId(901);
        late.kind = VisitKind::Recertification;
        late.on = kToday.plusDays(-20);
        s.visits.push_back(late);
    });
    EXPECT_TRUE(rows().empty());
}

TEST(DeadlineTest, SignaturesAndCompetencesFallDueWithTheirCounts) {
    Team team;
    team.agency.edit([](Snapshot &s) {
        s.drainOrders[0].isVerbal = true;
        s.drainOrders[0].signedOn.reset(); // 60 days old
        s.drainOrders[1].isVerbal = true;  // signed the same day
        s.nurses[1].skills[0].expiresOn = kToday;
        s.nurses[1].skills[1].expiresOn = kToday.plusDays(20);
    });
    const DeadlineList list = deadlineList(*team.build());
    const auto count = [&](DeadlineKind kind) { return list.counts[static_cast<std::size_t>(kind)]; };
    EXPECT_EQ(count(DeadlineKind::Signature).overdue, 1);
    EXPECT_EQ(count(DeadlineKind::Signature).due, 2);
    EXPECT_EQ(count(DeadlineKind::Signature).inTime, 1);
    EXPECT_EQ(count(DeadlineKind::Competence).overdue, 1);
    EXPECT_EQ(count(DeadlineKind::Competence).soon, 1);
    EXPECT_EQ(count(DeadlineKind::Competence).due, 10);
    EXPECT_EQ(count(DeadlineKind::Competence).inTime, 9);
    EXPECT_TRUE(std::ranges::is_sorted(list.rows, {}, [](const DeadlineRow &r) { return !r.isOverdue; }));
}

TEST(LoadTableTest, MileageIsMoneyInTheAgencysCurrency) {
    const auto agency = Team().build();
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    caseload::LoadReview review;
    review.week = (*open)->week;
    caseload::NurseLoad load;
    load.nurse = SmallAgency::kNurse;
    load.mileage = Money::of(288);
    review.nurses.push_back(load);
    load.nurse = kSecond;
    load.mileage = Money::of(0);
    review.nurses.push_back(load);
    review.mileage = Money::of(288);
    const Table table = loadTable(**open, review);
    const auto column = std::ranges::find(table.columns, "mileage", &Column::key);
    ASSERT_NE(column, table.columns.end());
    EXPECT_EQ(column->name, "Mileage, " + agency->settings().currency);
    const auto at = static_cast<std::size_t>(column - table.columns.begin());
    ASSERT_EQ(table.rows.size(), 2U);
    EXPECT_EQ(table.rows[0].at(at), "2.88");
    EXPECT_EQ(table.rows[1].at(at), "0.00");
    ASSERT_FALSE(table.notes.empty());
    EXPECT_NE(table.notes.front().find("2.88"), std::string::npos) << table.notes.front();
}

TEST(ManagerReviewTest, HeatHoldsEveryNurseInEveryWeekAndAreasAddUp) {
    const auto agency = Team().build();
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    const auto week = planWeek(**open, kSearch, {}, {});
    ASSERT_TRUE(week);
    const ManagerReview review = managerReview(*week);
    ASSERT_EQ(review.heat.weeks.size(), 6U); // four gone by, this one, next
    for (const LoadHeat::Row &row : review.heat.rows) {
        ASSERT_EQ(row.cells.size(), 6U);
        EXPECT_EQ(row.cells.back().points,
                  std::ranges::find(review.load.nurses, row.nurse, &caseload::NurseLoad::nurse)->points);
    }
    Minutes travel, direct;
    int visits = 0;
    double days = 0;
    for (const AreaTravel &area : review.areas) {
        travel += area.travel;
        direct += area.direct;
        visits += area.visits;
        days += area.nurseDays;
    }
    Minutes planned;
    int duties = 0;
    for (const rounds::DutyTimes &times : (*week)->evaluation.duties) {
        planned += Minutes::of(times.travel);
        duties += times.stops.empty() ? 0 : 1;
    }
    EXPECT_EQ(travel, planned);
    EXPECT_EQ(visits, review.load.placed);
    EXPECT_NEAR(days, duties, 1e-9);
    EXPECT_TRUE(weightsText(agency->settings()).contains(QStringLiteral("2.00"))) << "weights are visible";
}

// The headline counts a visit once, the tables count it for each nurse, and both say so.
TEST(ManagerReviewTest, AVisitByTwoNursesIsOneInTheHeadlineAndOneForEachInTheTables) {
    Team team;
    team.agency.edit([](Snapshot &s) { s.visitOrders.front().twoNurses = true; });
    const auto agency = team.build();
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    const auto week = planWeek(**open, kSearch, {}, {});
    ASSERT_TRUE(week);
    const caseload::LoadReview review = loadReview(**week);
    ASSERT_EQ(review.twoNurse, 2);
    const auto areas = travelByArea(**week);
    int visits = 0, second = 0, ofNurses = 0;
    for (const AreaTravel &area : areas) {
        visits += area.visits;
        second += area.second;
    }
    for (const caseload::NurseLoad &nurse : review.nurses)
        ofNurses += nurse.visits;
    EXPECT_EQ(second, review.twoNurse);
    EXPECT_EQ(visits, review.placed + second);
    EXPECT_EQ(ofNurses, visits);
    EXPECT_NE(areaTable(areas).notes.front().find("2 visits by two nurses count for each"),
              std::string::npos);
    EXPECT_TRUE(loadHeadline(review).contains(QStringLiteral("visits placed (2 by two nurses), ")))
        << loadHeadline(review).toStdString();
}

TEST(ManagerReviewTest, OfAWeekThatIsOverNothingIsStillToBePlaced) {
    const auto agency = Team().build();
    const auto past = openWeek(agency, kToday.plusDays(-7), nullptr);
    ASSERT_TRUE(past);
    const caseload::LoadReview review = loadReview(**past);
    ASSERT_GT(review.notMade, 0);
    EXPECT_EQ(review.toPlace(), 0);
    const QString head = loadHeadline(review);
    EXPECT_TRUE(head.contains(QStringLiteral(", %1 not made, 0 missed.").arg(review.notMade)))
        << head.toStdString();
    EXPECT_FALSE(head.contains(QStringLiteral("not placed"))) << head.toStdString();
    const Table left = leftTable(review, *agency, PatientNamed::InFull);
    EXPECT_EQ(left.rows.front()[0], "not made");
    EXPECT_TRUE(left.notes.empty());
}

TEST(ManagerReviewTest, VisitsWithoutAPlaceAreListedAndThePlanIsToldBesideWhatIsOrdered) {
    Team team;
    // The dressing of a home that no order sends anybody to.
    team.agency.order(team.agency.addHome(), everyDays(2, kToday));
    const auto agency = team.build();
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    const ManagerReview review = managerReview(*open);
    ASSERT_GT(review.load.unplaced, 0) << "nothing is planned yet";
    EXPECT_EQ(std::ssize(review.load.left), review.load.unplaced + review.load.missed);
    const Table left = leftTable(review.load, *agency, PatientNamed::InFull);
    EXPECT_EQ(left.rows.size(), review.load.left.size());
    EXPECT_EQ(left.rows.front()[0], "not placed");
    EXPECT_TRUE(loadHeadline(review.load).startsWith(QStringLiteral("Most visits of this week are not")));

    ASSERT_TRUE(review.ahead.plan);
    const PlanBeside &plan = *review.ahead.plan;
    EXPECT_GE(plan.ordered, 24) << "two visits a home";
    EXPECT_EQ(plan.ordered + plan.byEvents + plan.made,
              review.load.placed + review.load.unplaced + review.load.missed);
    const Table ahead = weeksAheadTable(review.ahead);
    EXPECT_TRUE(std::ranges::any_of(ahead.notes, [&](const std::string &note) {
        return note.find("counts " + std::to_string(plan.ordered + plan.byEvents + plan.made) + " visits") !=
               std::string::npos;
    }));
}

TEST(ManagerReviewTest, TheHeadCountsWhoIsAboveAFullWeeksPointsBesideWhoIsOverFull) {
    caseload::LoadReview review;
    review.placed = 30;
    caseload::NurseLoad load;
    load.pointsCapacity = 15;
    load.points = 17.7;
    load.sign = caseload::LoadSign::Red;
    review.nurses.push_back(load);
    load.sign = caseload::LoadSign::Usual;
    review.nurses.push_back(load);
    load.points = 12;
    review.nurses.push_back(load);
    review.beyondCapacity = Minutes::of(95);
    const QString head = loadHeadline(review);
    EXPECT_TRUE(head.startsWith(
        QStringLiteral("1 nurse over full. 1 nurse not over full, but above a full week's points.")))
        << head.toStdString();
    EXPECT_TRUE(head.contains(QStringLiteral("beyond capacity 95 min"))) << head.toStdString();
}

TEST(ManagerReviewTest, RangesAheadStandToTheRightAsTheNumbersBesideThem) {
    const Table table = weeksAheadTable(weeksAhead(*Team().build(), 2, std::nullopt));
    for (const char *key : {"if_renewed", "left", "referrals", "hours"}) {
        const auto column = std::ranges::find(table.columns, key, &Column::key);
        ASSERT_NE(column, table.columns.end()) << key;
        EXPECT_EQ(column->align, Align::Right) << key;
    }
}

TEST(ManagerReviewTest, PointsAreRoundedAlikeAndEachShareSaysOfWhatItIs) {
    caseload::NurseLoad load;
    load.points = 13.44;
    load.pointsCapacity = 12.5;
    EXPECT_EQ(pointsText(load), QStringLiteral("13.4 of 12.5"));
    HeatCell cell;
    cell.points = load.points;
    cell.inFull = load.pointsCapacity;
    EXPECT_EQ(heatText(cell), QStringLiteral("13.4 (108 %)"));
    EXPECT_EQ(pointsMarkedText(load), QStringLiteral("13.4 of 12.5, over"));
    load.points = 12.54; // reads as 12.5
    EXPECT_EQ(pointsMarkedText(load), QStringLiteral("12.5 of 12.5"));
    const auto agency = Team().build();
    const auto week = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(week);
    const auto isNoted = [](const Table &table, const QString &note) {
        return std::ranges::find(table.notes, note.toStdString()) != table.notes.end();
    };
    EXPECT_TRUE(isNoted(loadTable(**week, loadReview(**week)), minutesShareText()));
    EXPECT_TRUE(isNoted(heatTable(loadHeat(**week), *agency), pointsShareText()));
    EXPECT_TRUE(isNoted(loadTable(**week, loadReview(**week)), overtimeCountsText()));
}

} // namespace
} // namespace kitround::desk
