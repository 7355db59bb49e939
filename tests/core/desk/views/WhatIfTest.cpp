// What-ifs on a copy of a tiny invented agency: what is asked, what comes of it, what is refused.
#include "core/desk/views/WhatIf.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/KeptWhatIfs.h"
#include "core/desk/views/ManagerReview.h"
#include "tests/core/desk/views/ManagerTeam.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

using namespace managers;

Result<WhatIfAnswer> ask(const AgencyPtr &agency, const WhatIfQuestion &question) {
    return askWhatIf(agency, nextWeek(*agency), nullptr, question, kSearch, {}, {});
}
const caseload::NurseLoad *loadOf(const caseload::LoadReview &review, NurseId nurse) {
    const auto found = std::ranges::find(review.nurses, nurse, &caseload::NurseLoad::nurse);
    return found == review.nurses.end() ? nullptr : &*found;
}

TEST(WhatIfTest, OnePointIsOnePoint) {
    const auto agency = Team().build();
    auto answer = ask(agency, {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer) << debugText(answer.error());
    const auto change = [&](double share) {
        for (auto *review : {&answer->reviewBefore, &answer->reviewAfter})
            for (caseload::NurseLoad &load : review->nurses)
                load.share = review == &answer->reviewBefore ? 0.5 : share;
        return whatIfNurseLines(*answer).front().change;
    };
    EXPECT_EQ(change(0.51), QStringLiteral("+1 %-point"));
    EXPECT_EQ(change(0.52), QStringLiteral("+2 %-points"));
}

// What she made before stands, and is not too much for anybody.
TEST(WhatIfTest, VisitsMadeAreNobodysTooMuch) {
    Team team;
    team.agency.edit([&](Snapshot &s) {
        Visit visit;
        visit.id = VisitId(900);
        visit.patient = team.homes.front().patient;
        visit.status = VisitStatus::Done;
        visit.on = kToday;
        visit.startAt = Minutes::of(540);
        visit.length = Minutes::of(45);
        visit.dueFrom = kToday;
        visit.dueTo = kToday.plusDays(1);
        visit.nurse = kSecond;
        s.visits.push_back(visit);
    });
    const auto agency = team.build();
    const auto answer = askWhatIf(agency, kToday, nullptr, {.kind = WhatIfKind::NurseAway, .nurse = kSecond},
                                  kSearch, {}, {});
    ASSERT_TRUE(answer) << debugText(answer.error());
    ASSERT_EQ(loadOf(answer->reviewAfter, kSecond)->sign, caseload::LoadSign::Red) << "work without hours";
    for (const QString &note : answer->notes)
        EXPECT_FALSE(note.contains(QStringLiteral("Over full")) && note.contains(QStringLiteral("Second")))
            << note.toStdString();
    for (const WhatIfLine &line : whatIfNurseLines(*answer))
        EXPECT_TRUE(line.turn != Turn::Worse || !line.what.startsWith(QStringLiteral("Second")));
}

// 113 % may have no overtime: what the share has above 100 % stands beside it, and the table says why.
TEST(WhatIfTest, OvertimeStandsBesideTheMinutesBeyondCapacityAndSaysWhatItCounts) {
    auto answer = ask(Team().build(), {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer) << debugText(answer.error());
    answer->reviewAfter.beyondCapacity = Minutes::of(412);
    const auto lines = whatIfLines(*answer);
    const auto beyond = std::ranges::find(lines, QStringLiteral("Beyond capacity"), &WhatIfLine::what);
    ASSERT_NE(beyond, lines.end());
    EXPECT_EQ(beyond->after, QStringLiteral("412 min"));
    const Table table = whatIfTable(*answer);
    EXPECT_NE(std::ranges::find(table.notes, overtimeCountsText().toStdString()), table.notes.end());
}

TEST(WhatIfTest, ANurseOverFullIsToldSoWithTheDayThatMakesItSo) {
    auto answer = ask(Team().build(), {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer) << debugText(answer.error());
    const auto load =
        std::ranges::find(answer->reviewAfter.nurses, SmallAgency::kNurse, &caseload::NurseLoad::nurse);
    ASSERT_NE(load, answer->reviewAfter.nurses.end());
    load->sign = caseload::LoadSign::Red;
    const auto why = [&] {
        for (const WhatIfLine &line : whatIfNurseLines(*answer))
            if (line.turn == Turn::Worse)
                return line.why;
        return QString();
    };
    load->isByDay = false;
    EXPECT_EQ(why(), words(caseload::LoadSign::Red));
    load->isByDay = true;
    load->mostVisitsInADay = 8;
    EXPECT_EQ(why(), QStringLiteral("8 on one day"));
}

const WhatIfLine &lineNamed(const std::vector<WhatIfLine> &lines, const char *what) {
    return *std::ranges::find_if(
        lines, [&](const WhatIfLine &l) { return l.what.startsWith(QString::fromLatin1(what)); });
}

// Less staff is no gain, whatever figure falls with it.
TEST(WhatIfTest, NothingIsCalledBetterWhereHoursWereTakenAway) {
    auto answer = ask(Team().build(), {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer) << debugText(answer.error());
    ASSERT_TRUE(takesCapacity(*answer));
    answer->reviewBefore.beyondCapacity = answer->reviewAgain.beyondCapacity = Minutes::of(100);
    answer->reviewAfter.beyondCapacity = Minutes::of(20);
    const auto lines = whatIfLines(*answer);
    for (const WhatIfLine &l : lines)
        EXPECT_NE(l.turn, Turn::Better) << l.what.toStdString();
    const WhatIfLine &beyond = lineNamed(lines, "Beyond capacity");
    EXPECT_EQ(beyond.change, QStringLiteral("\u221280 min"));
    EXPECT_EQ(beyond.why, QStringLiteral("less capacity"));
    EXPECT_EQ(whatIfTurnNote(*answer).count(QStringLiteral("not called better")), 1);
}

TEST(WhatIfTest, WhatTheSearchChangesByItselfIsToldAsChance) {
    auto answer = ask(Team().build(), {.kind = WhatIfKind::NurseAdded, .nurse = SmallAgency::kNurse});
    ASSERT_TRUE(answer) << debugText(answer.error());
    ASSERT_NE(answer->again, nullptr);
    const auto overtime = [&](int before, int again, int after) {
        answer->reviewBefore.overtime = Minutes::of(before);
        answer->reviewAgain.overtime = Minutes::of(again);
        answer->reviewAfter.overtime = Minutes::of(after);
        return lineNamed(whatIfLines(*answer), "Overtime");
    };
    EXPECT_EQ(overtime(100, 90, 84).turn, Turn::Same);
    EXPECT_EQ(overtime(100, 90, 84).why, QStringLiteral("chance"));
    EXPECT_EQ(overtime(100, 90, 108).turn, Turn::Same);
    EXPECT_EQ(overtime(100, 90, 60).turn, Turn::Better);
    EXPECT_EQ(overtime(100, 90, 140).turn, Turn::Worse);
    EXPECT_EQ(overtime(100, 100, 99).turn, Turn::Better) << "the search found nothing more";
    EXPECT_TRUE(overtime(100, 90, 60).why.isEmpty());
}

TEST(WhatIfTest, EvennessIsOneJudgement) {
    auto answer = ask(Team().build(), {.kind = WhatIfKind::NurseAdded, .nurse = SmallAgency::kNurse});
    ASSERT_TRUE(answer) << debugText(answer.error());
    for (auto *review : {&answer->reviewBefore, &answer->reviewAgain}) {
        review->gini = 0.20;
        review->jain = 0.80;
    }
    answer->reviewAfter.gini = 0.30; // worse
    answer->reviewAfter.jain = 0.90; // better
    EXPECT_EQ(lineNamed(whatIfLines(*answer), "Gini").turn, Turn::Same);
    EXPECT_EQ(lineNamed(whatIfLines(*answer), "Jain").turn, Turn::Same);
    answer->reviewAfter.jain = 0.70;
    EXPECT_EQ(lineNamed(whatIfLines(*answer), "Gini").turn, Turn::Worse);
    EXPECT_EQ(lineNamed(whatIfLines(*answer), "Jain").turn, Turn::Worse);
}

TEST(WhatIfTest, AKeptAnswerHoldsWhoIsOverFullAndTheMinutesBeyondCapacity) {
    auto answer = ask(Team().build(), {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer) << debugText(answer.error());
    answer->reviewAfter.beyondCapacity = Minutes::of(412);
    const QString said = saidText(*answer);
    EXPECT_TRUE(said.contains(QStringLiteral("; over full "))) << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral("to 412 min"))) << said.toStdString();
    EXPECT_FALSE(said.contains(u'%' + QStringLiteral("1"))) << said.toStdString();
}

TEST(WhatIfTest, TheShiftThatIsThereIsTold) {
    Team team;
    EXPECT_TRUE(shiftNowText(*team.build(), kSecond, kToday).contains(QStringLiteral(" to ")));
    team.agency.edit([](Snapshot &s) {
        TimeOff off;
        off.id = TimeOffId(1);
        off.nurse = kSecond;
        off.from = kToday;
        off.to = kToday.plusDays(1);
        s.timeOff.push_back(off);
    });
    EXPECT_EQ(shiftNowText(*team.build(), kSecond, kToday), QStringLiteral("now no shift"));
}

TEST(WhatIfTest, ANurseAwayLeavesHerNothingToDoAndTheAgencyAsItWas) {
    const auto agency = Team().build();
    const auto off = agency->snapshot().timeOff.size();
    const auto answer = ask(agency, {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer) << debugText(answer.error());
    ASSERT_TRUE(loadOf(answer->reviewAfter, kSecond));
    EXPECT_EQ(loadOf(answer->reviewAfter, kSecond)->visits, 0);
    EXPECT_TRUE(loadOf(answer->reviewAfter, kSecond)->capacity.isZero());
    EXPECT_GT(loadOf(answer->reviewBefore, kSecond)->visits, 0);
    EXPECT_EQ(answer->reviewBefore.placed + answer->reviewBefore.unplaced,
              answer->reviewAfter.placed + answer->reviewAfter.unplaced);
    EXPECT_TRUE(answer->after->evaluation.broken.empty());
    EXPECT_GT(loadOf(answer->reviewAfter, SmallAgency::kNurse)->share,
              loadOf(answer->reviewBefore, SmallAgency::kNurse)->share);
    EXPECT_EQ(agency->snapshot().timeOff.size(), off);
    // One nurse is left for each site on every day: the cover is said to be thin, day by day.
    EXPECT_TRUE(std::ranges::any_of(answer->notes, [](const QString &note) {
        return note.contains(QStringLiteral("Fewer than 2")) && note.contains(QStringLiteral("Mon"));
    }));
}

TEST(WhatIfTest, ADayThatIsAsThinWithoutTheChangeIsNotLaidToIt) {
    Team team;
    team.agency.edit([](Snapshot &s) { // the second has no hours as it is
        std::erase_if(s.shiftPatterns, [](const ShiftPattern &shift) { return shift.nurse == kSecond; });
    });
    const auto answer = ask(team.build(), {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer) << debugText(answer.error());
    EXPECT_FALSE(std::ranges::any_of(
        answer->notes, [](const QString &note) { return note.contains(QStringLiteral("Fewer than 2")); }));
}

TEST(WhatIfTest, LeaveOfTwoWithTheSameSkillInOneAreaIsNamed) {
    Team team;
    team.agency.edit([](Snapshot &s) {
        TimeOff off;
        off.id = TimeOffId(1);
        off.nurse = SmallAgency::kNurse;
        off.from = kToday.plusDays(8);
        off.to = kToday.plusDays(10);
        s.timeOff.push_back(off);
    });
    const auto answer = ask(team.build(), {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer);
    EXPECT_TRUE(std::ranges::any_of(answer->notes, [](const QString &note) {
        return note.contains(QStringLiteral("Also off")) &&
               note.contains(QStringLiteral("same kind of area"));
    }));
}

TEST(WhatIfTest, AnotherNurseNeverMakesThePlanWorse) {
    const auto answer = ask(Team(30).build(), {.kind = WhatIfKind::NurseAdded, .nurse = SmallAgency::kNurse});
    ASSERT_TRUE(answer) << debugText(answer.error());
    EXPECT_EQ(answer->reviewAfter.nurses.size(), answer->reviewBefore.nurses.size() + 1);
    EXPECT_LE(answer->reviewAfter.unplaced, answer->reviewBefore.unplaced);
    const auto lines = whatIfNurseLines(*answer);
    EXPECT_TRUE(std::ranges::any_of(
        lines, [](const WhatIfLine &l) { return l.before == QStringLiteral("not there"); }));
}

TEST(WhatIfTest, DifferencesOfPercentagesAreToldInPointsAndANurseAwayAnywayIsSaid) {
    const auto answer = ask(Team().build(), {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(answer);
    for (const WhatIfLine &l : whatIfLines(*answer))
        EXPECT_FALSE(QString(l.change).remove(QStringLiteral("%-points")).contains(u'%'))
            << l.what.toStdString();
    Team team;
    team.agency.edit([](Snapshot &s) {
        TimeOff off;
        off.id = TimeOffId(1);
        off.nurse = kSecond;
        off.from = kToday.plusDays(6);
        off.to = kToday.plusDays(13);
        s.timeOff.push_back(off);
    });
    const auto agency = team.build();
    EXPECT_EQ(awayAllWeek(*agency, {kToday.plusDays(6), kToday.plusDays(13)}), std::vector{kSecond});
    const auto same = ask(agency, {.kind = WhatIfKind::NurseAway, .nurse = kSecond});
    ASSERT_TRUE(same);
    EXPECT_TRUE(std::ranges::any_of(same->notes, [](const QString &note) {
        return note.contains(QStringLiteral("no hours that week"));
    }));
}

TEST(WhatIfTest, ANurseWithoutAnyVisitIsSaidNotToBeNeededAndMakesNothingWorse) {
    const auto answer = ask(Team(1).build(), {.kind = WhatIfKind::NurseAdded, .nurse = SmallAgency::kNurse});
    ASSERT_TRUE(answer) << debugText(answer.error());
    const caseload::NurseLoad *added = loadOf(answer->reviewAfter, NurseId(3));
    ASSERT_TRUE(added);
    ASSERT_EQ(added->visits, 0) << "one patient, whose visits the nurse who is there makes";
    EXPECT_TRUE(std::ranges::any_of(
        answer->notes, [](const QString &note) { return note.contains(QStringLiteral("was not needed")); }));
    EXPECT_EQ(answer->reviewAfter.unplaced, answer->reviewBefore.unplaced);
    EXPECT_EQ(answer->reviewAfter.mileage, answer->reviewBefore.mileage);
    EXPECT_EQ(answer->reviewAfter.meanMainShare, answer->reviewBefore.meanMainShare);
}

TEST(WhatIfTest, ReferralsAreDrawnFromTheCaseloadTheSameForTheSameSeed) {
    const auto agency = Team().build();
    const DateRange week{Date::of(2026, 3, 8), Date::of(2026, 3, 15)};
    const WhatIfQuestion five{.kind = WhatIfKind::Referrals, .referrals = 5, .seed = 7};
    const auto one = changedAgency(*agency, week, five), again = changedAgency(*agency, week, five);
    ASSERT_TRUE(one);
    ASSERT_TRUE(again);
    EXPECT_EQ((*one)->snapshot().patients, (*again)->snapshot().patients);
    EXPECT_EQ((*one)->snapshot().patients.size(), agency->snapshot().patients.size() + 5);
    EXPECT_EQ((*one)->snapshot().visitOrders.size(), agency->snapshot().visitOrders.size() + 5);
    auto other = five;
    other.seed = 8;
    EXPECT_NE((*one)->snapshot().patients, (*changedAgency(*agency, week, other))->snapshot().patients);
    const auto answer = ask(agency, five);
    ASSERT_TRUE(answer) << debugText(answer.error());
    const auto owed = [](const caseload::LoadReview &r) { return r.placed + r.unplaced; };
    EXPECT_GE(owed(answer->reviewAfter), owed(answer->reviewBefore) + 5) << "a first visit each";
}

TEST(WhatIfTest, AChangedShiftAndAChangedWeightArePlannedWith) {
    const auto agency = Team().build();
    const Date monday = Date::of(2026, 3, 9);
    const auto off = ask(agency, {.kind = WhatIfKind::Shift, .nurse = kSecond, .on = monday});
    ASSERT_TRUE(off) << debugText(off.error());
    // Five days of 510 minutes are cut at the contract; four whole days are not.
    EXPECT_EQ(loadOf(off->reviewBefore, kSecond)->capacity, Minutes::of(2400));
    EXPECT_EQ(loadOf(off->reviewAfter, kSecond)->capacity, Minutes::of(4 * 510));
    for (const PlacedJob &placed : placedJobs(*off->after)) {
        const rounds::Duty &duty = off->after->problem.duties[static_cast<std::size_t>(placed.duty)];
        EXPECT_FALSE(off->after->problem.nurses[static_cast<std::size_t>(duty.nurse)].id == kSecond &&
                     off->after->week.from.plusDays(duty.day) == monday);
    }
    const auto setting =
        ask(agency, {.kind = WhatIfKind::Setting, .setting = SettingKey::CostTravelMinute100, .value = 400});
    ASSERT_TRUE(setting) << debugText(setting.error());
    EXPECT_EQ(setting->after->problem.weights.travelMinute, 4.0);
    EXPECT_EQ(setting->before->problem.weights.travelMinute, 1.0);
    EXPECT_TRUE(
        whatIfTitle(setting->question, *agency).endsWith(QStringLiteral(": 4.00 min in place of 1.00")))
        << whatIfTitle(setting->question, *agency).toStdString();
}

TEST(WhatIfTest, ADrawIsNamedByItsNumberAndAKeptNameIsNotProposedAgain) {
    Team team;
    const WhatIfQuestion drawn{.kind = WhatIfKind::Referrals, .referrals = 5, .seed = 7};
    const QString title = whatIfTitle(drawn, *team.build());
    EXPECT_EQ(title, QStringLiteral("5 referrals more, draw 7"));
    EXPECT_EQ(freeKeptName(*team.build(), title), title);
    team.agency.edit([&](Snapshot &s) {
        for (const char *name : {"5 Referrals more, draw 7", "5 referrals more, draw 7 (2)"}) {
            KeptWhatIf kept;
            kept.id = KeptWhatIfId(static_cast<std::int64_t>(s.keptWhatIfs.size()) + 1);
            kept.name = name;
            s.keptWhatIfs.push_back(kept);
        }
    });
    EXPECT_EQ(freeKeptName(*team.build(), title), QStringLiteral("5 referrals more, draw 7 (3)"));
}

TEST(WhatIfTest, WhatCannotBeAskedIsRefusedAtItsField) {
    const auto agency = Team().build();
    const auto field = [&](const WhatIfQuestion &question) {
        const auto answer = ask(agency, question);
        return answer ? std::string("answered") : answer.error().field;
    };
    EXPECT_EQ(field({.kind = WhatIfKind::NurseAway, .nurse = NurseId(99)}), "nurse_id");
    const auto nobody = ask(agency, {.kind = WhatIfKind::NurseAway});
    ASSERT_FALSE(nobody);
    EXPECT_EQ(nobody.error().code, ProblemCode::Missing) << "not: there is no nurse \"0\"";
    EXPECT_EQ(field({.kind = WhatIfKind::NurseAway,
                     .nurse = kSecond,
                     .away = DateRange{Date::of(2026, 3, 11), Date::of(2026, 3, 10)}}),
              "away_to_on");
    EXPECT_EQ(field({.kind = WhatIfKind::NurseAway,
                     .nurse = kSecond,
                     .away = DateRange{kToday, Date::of(2026, 3, 10)}}),
              "away_from_on");
    EXPECT_EQ(field({.kind = WhatIfKind::Referrals, .referrals = 0}), "referrals");
    EXPECT_EQ(field({.kind = WhatIfKind::Shift, .nurse = kSecond, .on = kToday.plusDays(90)}), "on_date");
    EXPECT_EQ(field({.kind = WhatIfKind::Shift,
                     .nurse = kSecond,
                     .on = Date::of(2026, 3, 9),
                     .from = Minutes::of(900),
                     .to = Minutes::of(600)}),
              "to_time");
    EXPECT_EQ(field({.kind = WhatIfKind::Setting, .setting = SettingKey::StopMinutes, .value = -1}), "value");
    std::stop_source stop;
    stop.request_stop();
    const auto stopped =
        askWhatIf(agency, nextWeek(*agency), nullptr, {.kind = WhatIfKind::NurseAway, .nurse = kSecond},
                  kSearch, stop.get_token(), {});
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().code, ProblemCode::Cancelled);
    const auto unread =
        askWhatIf(agency, nextWeek(*agency), nullptr,
                  {.kind = WhatIfKind::Setting, .setting = SettingKey::StopMinutes, .value = -1}, kSearch,
                  stop.get_token(), {});
    ASSERT_FALSE(unread);
    EXPECT_EQ(unread.error().code, ProblemCode::Cancelled) << "who has left waits for nothing to be opened";
}

} // namespace
} // namespace kitround::desk
