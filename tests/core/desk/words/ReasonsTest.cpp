// Why a line or a plan is as it is, in sentences.
#include "core/desk/words/Reasons.h"

#include "core/desk/words/Words.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <set>

namespace kitround::desk {
namespace {

TEST(ReasonsTest, ARefillLineNamesTheDayOfTheNextPossibleDelivery) {
    const Snapshot snapshot;
    const SnapshotIndex index(snapshot);
    supply::RefillLine line;
    line.nextOn = Date::of(2026, 11, 30);
    EXPECT_TRUE(
        reason(line, index)
            .contains(QStringLiteral("if nothing is sent, before Mon 30 Nov, the next possible delivery: ")))
        << reason(line, index).toStdString();
}

TEST(ReasonsTest, AReorderLineExplainsItselfWithItsNumbers) {
    Snapshot snapshot;
    snapshot.settings.set(SettingKey::ReviewDays, 7);
    const SnapshotIndex index(snapshot);
    supply::ReorderLine line;
    line.storeroom = Eaches::of(18);
    line.promised = Eaches::of(6);
    line.onOrder = Eaches::of(10);
    line.demandMean = 41;
    line.coverDays = Days::of(12);
    line.orderUpTo = Eaches::of(55);
    line.servicePermille = 980;
    line.exactNeed = Eaches::of(33); // 55 - (18 - 6 + 10)
    line.cases = Cases::of(3);
    line.pack = {Eaches::of(10)};
    EXPECT_EQ(reason(line, index),
              QStringLiteral("Order 3 cases (30): 18 on the shelf, 6 promised, 10 on order; 41 expected "
                             "over 12 days (review 7 + lead 5), level 55 at 98 %; need 33."));
    snapshot.settings.set(SettingKey::ReferralsPerWeekHundredths, 200);
    line.fromReferrals = 9;
    EXPECT_TRUE(
        reason(line, index)
            .endsWith(QStringLiteral(
                "Of these, 9 are for new referrals nobody knows yet (2 a week, assumed: see Settings, New "
                "referrals expected).")))
        << reason(line, index).toStdString();
    snapshot.settings.set(SettingKey::ReferralsPerWeekHundredths, 50);
    EXPECT_FALSE(reason(line, index).contains(QStringLiteral("assumed"))) << "somebody has set it";
    line.fromReferrals = 0;
    line.meanPerDay = 2;
    line.daysAfter = 26;
    EXPECT_TRUE(reason(line, index)
                    .endsWith(QStringLiteral(
                        "At 14 a week, the mean of the next four weeks, it lasts about 26 days.")))
        << "the rate it is worked out with";
    line.toppedUp = Cases::of(1);
    EXPECT_TRUE(reason(line, index)
                    .endsWith(QStringLiteral("Of these, 1 case only to reach the supplier's minimum.")))
        << reason(line, index).toStdString();
    line.toppedUp = {};
    line.flags = {supply::ReorderFlag::Backordered};
    line.cases = Cases::of(1);
    EXPECT_TRUE(reason(line, index).startsWith(QStringLiteral("Order 1 case (10): ")));
    EXPECT_TRUE(reason(line, index).endsWith(QStringLiteral("Note: backordered by the supplier.")));
}

TEST(ReasonsTest, EveryRuleAndWayOutIsASentenceEvenWithoutANurse) {
    const Snapshot snapshot;
    const SnapshotIndex index(snapshot);
    const rounds::WeekProblem problem;
    for (int k = 0; k <= static_cast<int>(rounds::Rule::Linked); ++k) {
        rounds::RuleBreak rule;
        rule.rule = static_cast<rounds::Rule>(k);
        rule.amount = 2;
        EXPECT_TRUE(reason(rule, problem, index).endsWith(u'.')) << k;
        EXPECT_FALSE(reason(rule, problem, index).contains(u'%')) << k;
    }
    for (int k = 0; k <= static_cast<int>(rounds::WayOutKind::OneVisitMore); ++k) {
        rounds::WayOut way;
        way.kind = static_cast<rounds::WayOutKind>(k);
        way.addedCost = -12.4;
        way.amount = 3;
        EXPECT_TRUE(reason(way, problem, index).endsWith(QStringLiteral("saves 12 weighted minutes.")))
            << reason(way, problem, index).toStdString();
        const QString plain = reason(way, problem, index, CostSaid::InTip);
        EXPECT_TRUE(plain.endsWith(u'.') && !plain.contains(QStringLiteral("weighted")) &&
                    !plain.contains(u'%'))
            << plain.toStdString();
    }
}

TEST(ReasonsTest, WhatPlansAreWeighedByHasOneNameAndAMeaning) {
    EXPECT_EQ(weightedMinutesText(737.6), QStringLiteral("738 weighted minutes"));
    EXPECT_EQ(weightedMinutesText(1.2), QStringLiteral("1 weighted minute"));
    EXPECT_EQ(addedMinutesText(9.4), QStringLiteral("adds 9 weighted minutes"));
    EXPECT_EQ(addedMinutesText(-0.6), QStringLiteral("saves 1 weighted minute"));
    EXPECT_EQ(addedMinutesText(-0.4), QStringLiteral("adds no weighted minutes"));
    EXPECT_TRUE(weightedMinutesMeaning().startsWith(QStringLiteral("Weighted minutes ")));
}

TEST(ReasonsTest, TheChangesOfThePartsAddUpToThatOfTheTotals) {
    rounds::CostParts before, after;
    before.travel = 100.4; // alone 42, beside the totals 41 without a rule
    after.travel = 141.6;
    before.waiting = 7.3;
    after.waiting = 7.3;
    before.wishes = 20.3;
    after.wishes = 20.7;
    std::int64_t sum = 0;
    for (const CostChange &part : costChanges(before, after)) {
        EXPECT_NE(part.name, QStringLiteral("waiting")) << "that is as it was";
        sum += part.is - part.was;
    }
    EXPECT_EQ(sum, wholeChange(before.total(), after.total()));
    EXPECT_TRUE(costChanges(before, before).empty());
    EXPECT_EQ(addedMinutesText(0.4, 41.5), QStringLiteral("adds 42 weighted minutes"))
        << "0, then 42, as the two are told";
}

TEST(ReasonsTest, ADayOnWhichTheAgencyMakesNoVisitsIsRefusedByItsName) {
    Snapshot snapshot;
    const SnapshotIndex index(snapshot);
    rounds::WeekProblem problem;
    problem.firstDay = Date::of(2026, 11, 23);
    problem.nurses.emplace_back();
    problem.jobs.emplace_back();
    problem.jobs.back().kind = VisitKind::Routine;
    problem.duties.emplace_back();
    rounds::RuleBreak rule;
    rule.rule = rounds::Rule::Day;
    rule.job = 0;
    rule.duty = 0;
    const auto onDay = [&](std::int32_t day) {
        problem.duties.back().day = day;
        return reason(rule, problem, index);
    };
    EXPECT_TRUE(onDay(3).endsWith(QStringLiteral("Thu 26 Nov: no routine visits on Thanksgiving Day.")))
        << onDay(3).toStdString();
    EXPECT_TRUE(onDay(2).endsWith(QStringLiteral("is not allowed on Wed 25 Nov."))) << onDay(2).toStdString();
    snapshot.settings.ownHolidays = {Date::of(2026, 11, 25)};
    EXPECT_TRUE(onDay(2).endsWith(QStringLiteral(": the agency is closed that day.")));
}

TEST(ReasonsTest, AWayOutTellsNoZeroAndCountsOneAsOne) {
    const Snapshot snapshot;
    const SnapshotIndex index(snapshot);
    const rounds::WeekProblem problem;
    rounds::WayOut way;
    way.kind = rounds::WayOutKind::Overtime;
    way.amount = 1;
    way.addedCost = 1.2;
    const QString one = reason(way, problem, index);
    EXPECT_TRUE(one.contains(QStringLiteral("1 minute longer"))) << one.toStdString();
    EXPECT_TRUE(one.endsWith(QStringLiteral("adds 1 weighted minute."))) << one.toStdString();
    way.addedCost = 0.2;
    EXPECT_TRUE(reason(way, problem, index).endsWith(QStringLiteral("adds no weighted minutes.")));
    way.kind = rounds::WayOutKind::OneVisitMore;
    way.amount = 7;
    EXPECT_TRUE(reason(way, problem, index)
                    .contains(QStringLiteral("one visit more than the nurse's usual most (7 a day)")));
}

TEST(ReasonsTest, NothingIsInTheWayOfAVisitThatHasAFreePlace) {
    const Snapshot snapshot;
    const SnapshotIndex index(snapshot);
    const rounds::WeekProblem problem;
    rounds::UnplacedReason why;
    why.blockers.emplace_back(rounds::Rule::MostVisits, 3);
    EXPECT_TRUE(reason(why, problem, index).contains(QStringLiteral("In the way: ")));
    why.freePlaces = 1;
    why.freeCost = -40;
    const QString free = reason(why, problem, index);
    EXPECT_FALSE(free.contains(QStringLiteral("In the way"))) << free.toStdString();
    EXPECT_TRUE(free.contains(QStringLiteral("1 place is free for it"))) << free.toStdString();
    why.freeCost = 40;
    EXPECT_TRUE(
        reason(why, problem, index).contains(QStringLiteral("more weighted minutes than leaving it out")));
}

TEST(ReasonsTest, ADriveThatIsTooLongIsNamedAndAWeekThatIsOverBlamesNothing) {
    const Snapshot snapshot;
    const SnapshotIndex index(snapshot);
    rounds::WeekProblem problem;
    rounds::UnplacedReason why;
    why.tooFar = 6;
    why.drive = 133 * 60 + 20;
    const QString far = reason(why, problem, index);
    EXPECT_TRUE(far.contains(QStringLiteral("the drive, which alone takes 133 h 20 min (6 nurse-days)")))
        << far.toStdString();
    problem.nowDay = problem.days;
    const QString over = reason(why, problem, index);
    EXPECT_TRUE(over.contains(QStringLiteral("was not planned"))) << over.toStdString();
    EXPECT_FALSE(over.contains(QStringLiteral("In the way")));
}

TEST(ReasonsTest, TheVisitThatStandsTooNearIsNamedWithItsDay) {
    const Snapshot snapshot;
    const SnapshotIndex index(snapshot);
    rounds::WeekProblem problem;
    problem.firstDay = Date::of(2026, 11, 15);
    problem.nurses.emplace_back();
    problem.duties.emplace_back();
    rounds::UnplacedReason why;
    why.blockers.emplace_back(rounds::Rule::SameDayTwice, 6);
    why.beside.push_back({5, 0, {0, -1, 540}});
    const QString text = reason(why, problem, index);
    EXPECT_TRUE(text.contains(QStringLiteral("one visit of an order a day (6 days)"))) << text.toStdString();
    EXPECT_TRUE(text.contains(QStringLiteral("too near to the visit of Fri 20 Nov at 09:00")))
        << text.toStdString();
    why.beside.front().job = -1;
    EXPECT_TRUE(reason(why, problem, index).contains(QStringLiteral("Fri 20 Nov, made or planned already")));
}

TEST(ReasonsTest, WhatBarsADayWhoeverComesIsCountedInDays) {
    const Snapshot snapshot;
    const SnapshotIndex index(snapshot);
    const rounds::WeekProblem problem;
    rounds::UnplacedReason why;
    why.blockers = {{rounds::Rule::LeastGap, 3}, {rounds::Rule::MostVisits, 1}};
    EXPECT_TRUE(reason(why, problem, index)
                    .contains(QStringLiteral("(3 days); the most visits in a day (1 nurse-day)")));
    why.blockers = {{rounds::Rule::NoDuty, 5}};
    EXPECT_TRUE(reason(why, problem, index).contains(QStringLiteral("nobody on duty (5 days)")));
    why.blockers = {{rounds::Rule::Day, 0}};
    EXPECT_TRUE(reason(why, problem, index).contains(QStringLiteral("the days allowed for this visit.")));
}

TEST(ReasonsTest, APatientIsNamedInFullOnlyWhereThatIsAskedFor) {
    Snapshot snapshot;
    Patient patient;
    patient.id = PatientId(1);
    patient.familyName = "Alder";
    patient.givenName = "Rosa";
    snapshot.patients.push_back(patient);
    const SnapshotIndex index(snapshot);
    rounds::WeekProblem problem;
    rounds::Job job;
    job.patient = patient.id;
    problem.jobs.push_back(job);
    rounds::RuleBreak rule;
    rule.rule = rounds::Rule::TwoNurses;
    rule.job = 0;
    EXPECT_FALSE(reason(rule, problem, index).contains(QStringLiteral("Alder")));
    EXPECT_TRUE(
        reason(rule, problem, index, PatientNamed::InFull).startsWith(QStringLiteral("Alder, Rosa (")));
}

TEST(ReasonsTest, CostLinesAddUpToTheTotal) {
    const rounds::CostParts parts{.unplaced = 1,
                                  .overtime = 2,
                                  .travel = 4,
                                  .waiting = 8,
                                  .softWindows = 16,
                                  .continuity = 32,
                                  .gaps = 64,
                                  .unevenness = 128,
                                  .couriers = 256,
                                  .changes = 512,
                                  .wishes = 1024,
                                  .secondNurses = 2048};
    double sum = 0;
    for (const CostLine &line : costLines(parts))
        sum += line.minutes;
    EXPECT_DOUBLE_EQ(sum, parts.total());
    EXPECT_TRUE(costText(parts).contains(QStringLiteral("wishes not met 1024")));
    EXPECT_TRUE(costText(parts).startsWith(weightedMinutesText(parts.total()) + QStringLiteral(": ")));
}

} // namespace
} // namespace kitround::desk
