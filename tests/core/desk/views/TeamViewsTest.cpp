// Leave before it is approved, room for referrals by area, the lines of a hand-over, and the tables of work
// done, on tiny invented agencies.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/views/IntakeCapacity.h"
#include "core/desk/views/KeptWhatIfs.h"
#include "core/desk/views/LeavePlan.h"
#include "core/desk/views/WorkReview.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using test::Home;
using test::SmallAgency;

constexpr Date kToday = Date::of(2026, 3, 2); // a Monday; the next week starts on Sunday the 8th
constexpr NurseId kSecond{2};

// Two nurses of one area and one patient of the first's with two visits in the week of the 8th.
struct Pair {
    SmallAgency agency{kToday};
    Home home = agency.addHome();
    Pair() {
        agency.edit([&](Snapshot &s) {
            Nurse nurse = s.nurses.front();
            nurse.id = kSecond;
            nurse.code = "N2";
            nurse.familyName = "Second";
            s.nurses.push_back(nurse);
            for (std::size_t k = 0, n = s.shiftPatterns.size(); k < n; ++k) {
                ShiftPattern shift = s.shiftPatterns[k];
                shift.id = ShiftPatternId(100 + static_cast<std::int64_t>(k));
                shift.nurse = kSecond;
                s.shiftPatterns.push_back(shift);
            }
            VisitOrder order;
            order.id = VisitOrderId(1);
            order.patient = home.patient;
            order.start = kToday.plusDays(-14);
            VisitSegment segment;
            segment.leastPerWeek = segment.mostPerWeek = 2;
            segment.weeks = 8;
            order.segments = {segment};
            s.visitOrders.push_back(order);
        });
    }
    TimeOffId off(NurseId nurse, Date from, Date to, LeaveStatus status) {
        TimeOff made;
        agency.edit([&](Snapshot &s) {
            made.id = TimeOffId(static_cast<std::int64_t>(s.timeOff.size()) + 1);
            made.nurse = nurse;
            made.from = from;
            made.to = to;
            made.status = status;
            s.timeOff.push_back(made);
        });
        return made.id;
    }
    AgencyPtr build() const { return std::make_shared<const Agency>(agency.build()); }
};

constexpr Date kSunday = Date::of(2026, 3, 8);

TEST(LeavePlanTest, TwoCompetentNursesOfOneAreaOffTogetherAreFlagged) {
    Pair pair;
    const TimeOffId asked =
        pair.off(SmallAgency::kNurse, kSunday, kSunday.plusDays(7), LeaveStatus::Requested);
    auto plan = leavePlan(*pair.build(), asked);
    ASSERT_TRUE(plan) << debugText(plan.error());
    ASSERT_EQ(plan->cover.size(), 2U) << "both drain skills";
    EXPECT_EQ(plan->cover[0].competent, 2);
    EXPECT_EQ(plan->cover[0].mostOff, 1);
    EXPECT_EQ(plan->cover[0].leastAtWork, 1);
    EXPECT_FALSE(plan->isFlagged());
    EXPECT_EQ(plan->visits.size(), 2U) << "both visits of that week are hers";
    EXPECT_EQ(plan->uncovered(), 0);

    // A request of the other is not leave yet; approved, it leaves nobody.
    const Date wednesday = kSunday.plusDays(3);
    pair.off(kSecond, wednesday, wednesday.plusDays(1), LeaveStatus::Requested);
    EXPECT_FALSE(leavePlan(*pair.build(), asked)->isFlagged());
    pair.off(kSecond, wednesday, wednesday.plusDays(1), LeaveStatus::Approved);
    const auto agency = pair.build();
    plan = leavePlan(*agency, asked);
    EXPECT_TRUE(plan->isFlagged());
    EXPECT_EQ(plan->cover[0].mostOff, 2);
    EXPECT_EQ(plan->cover[0].leastAtWork, 0);
    EXPECT_EQ(plan->cover[0].worst, wednesday);
    EXPECT_EQ(plan->cover[0].alsoOff, std::vector{kSecond});
    EXPECT_TRUE(leaveWarnings(*plan, *agency).join(u' ').contains(QStringLiteral("Second")));
}

TEST(LeavePlanTest, AnOwedVisitThatNobodyElseMayMakeIsTold) {
    Pair pair;
    const TimeOffId asked =
        pair.off(SmallAgency::kNurse, kSunday, kSunday.plusDays(7), LeaveStatus::Requested);
    pair.agency.edit([&](Snapshot &s) { s.patients[0].barredNurses = {kSecond}; });
    const auto agency = pair.build();
    const auto plan = leavePlan(*agency, asked);
    ASSERT_TRUE(plan);
    EXPECT_EQ(plan->uncovered(), 2);
    EXPECT_TRUE(plan->isFlagged());
    EXPECT_FALSE(leaveWarnings(*plan, *agency).isEmpty());
    EXPECT_EQ(leaveVisitTable(*plan, *agency).rows.size(), 2U);
    EXPECT_FALSE(leavePlan(*agency, TimeOffId(99)));
}

TEST(LeavePlanTest, AVisitThatFitsBeforeOrAfterTheLeaveIsNoneOfItsVisits) {
    Pair pair;
    const Date monday = kSunday.plusDays(1);
    const TimeOffId asked = pair.off(SmallAgency::kNurse, monday, monday.plusDays(1), LeaveStatus::Requested);
    const auto plan = leavePlan(*pair.build(), asked);
    ASSERT_TRUE(plan);
    EXPECT_TRUE(plan->visits.empty());
    EXPECT_EQ(plan->visitingDays, 1);
    // What a plan would bring is not known: nothing may sound as if it were.
    ASSERT_EQ(plan->unplanned, std::vector{kSunday});
    for (const QString &said :
         {noLeaveVisitsText(*plan), leaveCountedText(*plan), leaveVerdict(*plan, *pair.build(), u' ')})
        EXPECT_TRUE(said.contains(QStringLiteral("is not planned yet"))) << said.toStdString();
    EXPECT_FALSE(noLeaveVisitsText(*plan).contains(QStringLiteral("has to be made")));
    EXPECT_TRUE(leaveCountedText(*plan).contains(QStringLiteral("0 bound to these days, 2 that")));
    pair.agency.edit([](Snapshot &s) {
        Plan stored;
        stored.id = PlanId(1);
        stored.weekStart = kSunday;
        s.plans.push_back(stored);
    });
    const auto planned = leavePlan(*pair.build(), asked);
    ASSERT_TRUE(planned);
    EXPECT_TRUE(planned->unplanned.empty());
    EXPECT_TRUE(noLeaveVisitsText(*planned).contains(QStringLiteral("No owed visit has to be made")));
    const WhatIfQuestion question = leaveQuestion(*plan, {kSunday, kSunday.plusDays(7)});
    EXPECT_EQ(question.kind, WhatIfKind::NurseAway);
    EXPECT_EQ(question.away->from, monday);
    EXPECT_EQ(question.away->length(), Days::of(1));
}

TEST(LeavePlanTest, VisitsThatMoveAreHeldTogetherAgainstTheTimeLeftOnTheOtherDays) {
    Pair pair;
    const Date monday = kSunday.plusDays(1);
    const TimeOffId asked = pair.off(SmallAgency::kNurse, monday, monday.plusDays(1), LeaveStatus::Requested);
    auto plan = leavePlan(*pair.build(), asked);
    ASSERT_TRUE(plan);
    ASSERT_EQ(plan->moves.size(), 1U);
    EXPECT_EQ(plan->moves[0].moved, 2);
    EXPECT_TRUE(plan->moves[0].fits());
    EXPECT_FALSE(plan->moves[0].isPlanned);
    ASSERT_EQ(leaveMoves(*plan).size(), 1);
    EXPECT_TRUE(leaveMoves(*plan).front().contains(QStringLiteral("no plan yet")));
    EXPECT_FALSE(plan->isFlagged());
    // A contract of a minute less than they ask for: each alone would fit, together they do not.
    pair.agency.edit(
        [&](Snapshot &s) { s.nurses[0].contractPerWeek = plan->moves[0].work - Minutes::of(1); });
    const auto agency = pair.build();
    plan = leavePlan(*agency, asked);
    ASSERT_TRUE(plan);
    EXPECT_FALSE(plan->allMovedFit());
    EXPECT_TRUE(plan->isFlagged());
    EXPECT_TRUE(leaveWarnings(*plan, *agency).join(u' ').contains(QStringLiteral("NOT ALL FIT")));
    EXPECT_FALSE(noLeaveVisitsText(*plan).contains(QStringLiteral("somebody else.")));
}

TEST(IntakeTest, StartsThatFitForSureAreJudgedAsIfNobodyLeft) {
    Pair pair;
    pair.agency.edit([](Snapshot &s) {
        IntakeClosure closure;
        closure.id = IntakeClosureId(1);
        closure.area = AreaKind::Suburban;
        closure.from = kSunday;
        closure.to = kSunday.plusDays(7);
        closure.reason = "no room";
        s.intakeClosures.push_back(closure);
    });
    const auto agency = pair.build();
    const IntakeCapacity intake = intakeCapacity(*agency, weeksAhead(*agency, 4, Minutes::of(20)));
    ASSERT_EQ(intake.areas.size(), 4U) << "one area, four weeks";
    for (const AreaWeek &w : intake.areas) {
        EXPECT_LE(w.startsForSure, w.startsAtBest);
        EXPECT_EQ(w.capacity, Minutes::of(2 * 2400)) << "all hours go where the nurses live";
        EXPECT_EQ(w.closed.has_value(), w.week.from == kSunday);
    }
    const Table table = intakeTable(intake);
    EXPECT_EQ(table.rows.size(), 4U);
    EXPECT_NE(asCsv(table).find("CLOSED: no room"), std::string::npos);
}

TEST(IntakeTest, WhereNoStartFitsForSureItIsTight) {
    const Spread minutes{100, 200, 300};
    EXPECT_EQ(roomIn(301, minutes, 0), Room::Tight);
    EXPECT_EQ(roomIn(301, minutes, 1), Room::Free);
    EXPECT_EQ(roomIn(301, minutes, std::nullopt), Room::Free) << "no case tells how long a start takes";
    EXPECT_EQ(roomIn(250, minutes, 0), Room::IfOnTime);
    EXPECT_EQ(roomIn(150, minutes, 0), Room::Full);
    EXPECT_EQ(words(Room::Tight), QStringLiteral("tight"));
}

TEST(IntakeTest, AReferralWaitsUntilItsFirstVisitIsPlanned) {
    Pair pair;
    pair.agency.edit([](Snapshot &s) {
        Patient &p = s.patients[0];
        p.status = CareStatus::Referred;
        p.startOfCare.reset();
        p.primaryNurse.reset();
        p.referredAt = Instant::fromUnixSeconds(kToday.plusDays(-3).dayNumber() * 86400 + 15 * 3600);
    });
    auto agency = pair.build();
    IntakeCapacity intake = intakeCapacity(*agency, weeksAhead(*agency, 4, Minutes::of(20)));
    ASSERT_EQ(intake.waiting.size(), 1U);
    EXPECT_EQ(intake.waiting[0].waiting, Days::of(3));
    EXPECT_TRUE(intake.waiting[0].isLate) << "48 clock hours are over";
    pair.agency.edit([](Snapshot &s) { s.patients[0].primaryNurse = kSecond; });
    agency = pair.build();
    intake = intakeCapacity(*agency, weeksAhead(*agency, 4, Minutes::of(20)));
    ASSERT_EQ(intake.waiting.size(), 1U) << "a name is not a visit";
    EXPECT_NE(asCsv(waitingTable(intake, *agency)).find("nurse named"), std::string::npos);
    pair.agency.edit([](Snapshot &s) {
        Visit first;
        first.id = VisitId(1);
        first.patient = s.patients[0].id;
        first.kind = VisitKind::StartOfCare;
        first.status = VisitStatus::Drafted;
        first.on = kToday.plusDays(1);
        first.nurse = kSecond;
        s.visits.push_back(first);
    });
    agency = pair.build();
    EXPECT_TRUE(intakeCapacity(*agency, weeksAhead(*agency, 4, Minutes::of(20))).waiting.empty());
    EXPECT_TRUE(waitingTable(IntakeCapacity{}, *agency).notes.empty())
        << "nobody waits: nothing is said of them";
}

TEST(WorkReviewTest, EveryTableSaysWhatVisitsADayDoNotAndCopiesAsCsv) {
    Pair pair;
    const auto agency = pair.build();
    const DateRange days = wholeWeeksBack(*agency, 4);
    EXPECT_EQ(days, (DateRange{Date::of(2026, 2, 1), Date::of(2026, 3, 1)}));
    const auto tables = workTables(caseload::productivity(agency->index(), days), *agency);
    ASSERT_EQ(tables.size(), 6U);
    EXPECT_NE(tables[2].notes.at(0).find("not compared by visits a day alone"), std::string::npos);
    for (const Table &table : tables)
        for (const auto &row : table.rows)
            EXPECT_EQ(row.size(), table.columns.size()) << table.key;
    EXPECT_NE(asCsv(tables[3]).find("visits_a_day,travel_percent"), std::string::npos);
}

TEST(WorkReviewTest, CostEndsWithItsSumAndOvertimeIsMoneyOnlyWhereItsPayIsTold) {
    Pair pair;
    auto agency = pair.build();
    const auto costs = [&] {
        return nurseCostTable(caseload::productivity(agency->index(), wholeWeeksBack(*agency, 4)), *agency);
    };
    Table table = costs();
    ASSERT_TRUE(table.endsWithSum);
    ASSERT_EQ(table.rows.size(), 2U) << "the home's main nurse, and the sum";
    EXPECT_EQ(table.rows.back().front(), "Sum");
    EXPECT_EQ(table.columns[5].key, "overtime_pay");
    EXPECT_EQ(table.rows.back()[5], "") << "not told is not nothing";
    EXPECT_TRUE(asCsv(table).starts_with("nurse,visits,miles_paid,mileage,overtime_min,overtime_pay,"));
    EXPECT_EQ(asCsv(table).find("Sum"), std::string::npos) << "in a copy it would be a nurse";
    pair.agency.edit([](Snapshot &s) { s.settings.set(SettingKey::OvertimeHourMinor, 4500); });
    agency = pair.build();
    table = costs();
    EXPECT_EQ(table.rows.back()[5], "0.00");
}

TEST(LeavePlanTest, TheListHasRequestsFirstAndTellsNoReason) {
    Pair pair;
    pair.off(SmallAgency::kNurse, kToday.plusDays(-9), kToday, LeaveStatus::Approved); // over
    pair.off(kSecond, kToday, kToday.plusDays(2), LeaveStatus::Approved);
    pair.off(SmallAgency::kNurse, kSunday, kSunday.plusDays(7), LeaveStatus::Requested);
    pair.agency.edit([](Snapshot &s) {
        for (TimeOff &off : s.timeOff) {
            off.kind = TimeOffKind::Sick;
            off.note = "private matter";
        }
    });
    const auto agency = pair.build();
    const auto list = leaveList(*agency);
    ASSERT_EQ(list.size(), 2U);
    EXPECT_EQ(list[0].status, LeaveStatus::Requested);
    const Table table = leaveListTable(*agency);
    ASSERT_EQ(table.rows.size(), 2U);
    EXPECT_NE(table.rows[0].back().find("no backup nurse at work"), std::string::npos)
        << table.rows[0].back();
    EXPECT_EQ(table.rows[1].back(), "") << "what is decided is decided";
    const std::string text = asCsv(table);
    EXPECT_EQ(text.find("private matter"), std::string::npos);
    EXPECT_EQ(text.find(words(TimeOffKind::Sick).toStdString()), std::string::npos);
}

TEST(KeptWhatIfTest, OnlyWhatTheQuestionAsksIsKeptAndComesBackTheSame) {
    Pair pair;
    const auto agency = pair.build();
    const auto week = openWeek(agency, kSunday, nullptr);
    ASSERT_TRUE(week);
    WhatIfAnswer answer;
    answer.before = answer.after = *week;
    answer.question = {
        .kind = WhatIfKind::Setting, .setting = SettingKey::CostOvertimeMinute100, .value = 300};
    const KeptWhatIf kept = keptOf(answer, QStringLiteral("Dearer overtime"), kToday);
    EXPECT_EQ(kept.setting, "cost_overtime_minute");
    EXPECT_FALSE(kept.nurse);
    const auto again = reopened(kept, *agency);
    ASSERT_TRUE(again);
    EXPECT_EQ(again->question.setting, SettingKey::CostOvertimeMinute100);
    EXPECT_EQ(again->question.value, 300);
    KeptWhatIf unknown = kept;
    unknown.setting = "no_such_setting";
    EXPECT_EQ(reopened(unknown, *agency).error().field, "setting");
}

// Kim hands over, Robin may accept; a refill call and a run-out of one home are open now.
struct Handed : Pair {
    static constexpr UserId kKim{1}, kRobin{2};
    AttentionItem refill, runOut;
    Handed() {
        refill.patient = runOut.patient = home.patient;
        refill.harm = runOut.harm = Harm::Soon;
        refill.kind = AttentionKind::RefillCall;
        runOut.kind = AttentionKind::RunOut;
        agency.edit([](Snapshot &s) {
            for (UserId id : {kKim, kRobin}) {
                User user;
                user.id = id;
                user.name = id == kKim ? "Kim" : "Robin";
                s.users.push_back(user);
            }
        });
    }
    // At seven in the morning in New York (winter), accepted ten minutes later or not yet.
    void handed(const std::string &subject, Date on, bool isAccepted) {
        HandOverItem item;
        item.topic = HandOverTopic::Stock;
        item.subject = subject;
        item.what = "Refill call";
        HandOver made;
        made.handedBy = kKim;
        made.handedAt = Instant::fromUnixSeconds(on.dayNumber() * 86400 + 12 * 3600);
        if (isAccepted) {
            item.acceptedBy = kRobin;
            item.acceptedAt = made.handedAt + Minutes::of(10);
        }
        made.items = {item};
        agency.edit([&](Snapshot &s) {
            made.id = HandOverId(static_cast<std::int64_t>(s.handOvers.size()) + 1);
            s.handOvers.push_back(made);
        });
    }
};

TEST(HandOverViewTest, AnAcceptanceOfLongAgoIsNotTodays) {
    Handed shift;
    const std::string subject = handOverSubject(shift.refill, *shift.build());
    const auto isTakenAfter = [&](Date accepted) {
        shift.handed(subject, accepted, true);
        const HandOverBoard board = handOverBoard({shift.refill}, *shift.build());
        EXPECT_EQ(board.open.size(), 1U);
        const HandOverRow &row = board.open.front();
        EXPECT_EQ(takenText(row).startsWith(QStringLiteral("Robin, ")), row.takenAt.has_value());
        EXPECT_EQ(board.accepted.empty(), !row.takenAt.has_value()) << "what is shown beside it";
        return row.takenAt.has_value();
    };
    EXPECT_FALSE(isTakenAfter(kToday.plusDays(-60))) << "the home's refill of back then";
    EXPECT_FALSE(isTakenAfter(kToday.plusDays(-2)));
    EXPECT_TRUE(isTakenAfter(kToday.plusDays(-1)));
}

TEST(HandOverViewTest, WindowPaperAndTableNameTheStateOfALineAlike) {
    Handed shift;
    shift.handed("order:8", kToday.plusDays(-1), false); // waits for a day, a shift is eight hours
    shift.handed("order:9", kToday, false);
    shift.handed(handOverSubject(shift.refill, *shift.build()), kToday, true);
    const auto built = shift.build();
    const std::vector<AttentionItem> items = {shift.refill, shift.runOut};
    const HandOverBoard board = handOverBoard(items, *built);
    std::vector<std::string> states;
    for (const auto *rows : {&board.waiting, &board.open, &board.accepted})
        for (const HandOverRow &row : *rows)
            states.push_back(stateText(row).toStdString());
    EXPECT_EQ(states,
              (std::vector<std::string>{"waits too long", "waits", "open, taken", "open", "accepted"}));
    const Table table = handOverTable(board, *built);
    ASSERT_EQ(table.rows.size(), states.size());
    for (std::size_t i = 0; i < states.size(); ++i)
        EXPECT_EQ(table.rows[i].front(), states[i]) << i;
    const Paper paper = handOverPaper(items, *built);
    std::vector<std::string> onPaper;
    for (const Paper::Section &section : paper.sections)
        if (section.table)
            for (const auto &row : section.table->rows)
                onPaper.push_back(row.back());
    ASSERT_EQ(onPaper.size(), 4U) << "what is accepted and settled is not on it";
    EXPECT_TRUE(onPaper[0].starts_with("waits too long, since ")) << onPaper[0];
    EXPECT_TRUE(onPaper[1].starts_with("waits, since ")) << onPaper[1];
}

TEST(HandOverViewTest, ALineWaitsForAllButWhoHandedItOver) {
    Handed shift;
    shift.handed("order:9", kToday, false);
    shift.handed("order:8", kToday, true);
    const HandOverBoard board = handOverBoard({}, *shift.build());
    ASSERT_EQ(board.waiting.size(), 1U);
    EXPECT_TRUE(board.waiting.front().waitsFor(Handed::kRobin));
    EXPECT_FALSE(board.waiting.front().waitsFor(Handed::kKim));
    ASSERT_EQ(board.accepted.size(), 1U);
    EXPECT_FALSE(board.accepted.front().waitsFor(Handed::kRobin)) << "taken already";
}

} // namespace
} // namespace kitround::desk
