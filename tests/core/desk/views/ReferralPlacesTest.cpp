// Who can take a referral, on a tiny invented agency: ranked nurses, why not, and the first visit in its
// place.
#include "core/desk/views/ReferralPlaces.h"
#include "core/desk/views/IntakeCapacity.h"
#include "tests/core/desk/views/ManagerTeam.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using namespace managers;

TEST(ReferralTest, RanksNursesAndSaysWhyNot) {
    Team team;
    constexpr NurseId kBarred{3}, kUnskilled{4}, kFull{5};
    const PatientId referred = team.agency.addHome().patient;
    team.agency.edit([&](Snapshot &s) {
        for (const NurseId id : {kBarred, kUnskilled, kFull}) {
            Nurse nurse = s.nurses.front();
            nurse.id = id;
            nurse.code = "N" + std::to_string(id.value());
            nurse.familyName = "Nurse" + std::to_string(id.value());
            if (id == kUnskilled)
                nurse.skills = {{Skill::Teach, std::nullopt}, {Skill::DrainChest, kToday}};
            if (id == kFull)
                nurse.mostVisitsADay = 0;
            s.nurses.push_back(nurse);
            ShiftPattern shift = s.shiftPatterns.front();
            shift.id = ShiftPatternId(100 + id.value());
            shift.nurse = id;
            s.shiftPatterns.push_back(shift);
        }
        Patient &patient = s.patients.back();
        patient.status = CareStatus::Referred;
        patient.startOfCare.reset();
        patient.primaryNurse.reset();
        patient.barredNurses = {kBarred};
        // Monday 13:00 UTC is 08:00 in New York; 48 clock hours end on Wednesday.
        patient.referredAt = Instant::fromUnixSeconds(kToday.dayNumber() * 86400 + 13 * 3600);
    });
    const auto agency = team.build();
    const auto answer = whoCanTake(agency, referred, nullptr, kSearch, {}, {});
    ASSERT_TRUE(answer) << debugText(answer.error());
    ASSERT_EQ(answer->places.size(), 5U);
    ASSERT_TRUE(answer->deadline);
    EXPECT_EQ(answer->deadline->date, kToday.plusDays(2));
    const auto place = [&](NurseId id) {
        return *std::ranges::find(answer->places, id, &ReferralPlace::nurse);
    };
    EXPECT_TRUE(place(SmallAgency::kNurse).isPossible());
    EXPECT_TRUE(place(kSecond).isPossible());
    EXPECT_EQ(backupFor(*answer, answer->places[0].nurse), answer->places[1].nurse);
    EXPECT_EQ(backupFor(*answer, answer->places[1].nurse), answer->places[0].nurse) << "never the main nurse";
    EXPECT_TRUE(answer->places[0].cheapest->isInTime);
    EXPECT_LE(answer->places[0].cheapest->addedCost, answer->places[1].cheapest->addedCost);
    EXPECT_LT(answer->places[0].cheapest->addedCost, 1000) << "beside leaving it out, not against it";
    EXPECT_GT(answer->places[0].shareAfter, answer->places[0].shareBefore);
    EXPECT_FALSE(place(kBarred).isPossible());
    EXPECT_TRUE(place(kBarred).note.contains(QStringLiteral("Barred")));
    EXPECT_TRUE(place(kUnskilled).note.contains(QStringLiteral("Lacks the skill")));
    EXPECT_TRUE(place(kUnskilled).note.contains(QStringLiteral("expired")))
        << "a competence that ended is no competence";
    EXPECT_TRUE(place(kFull).note.contains(QStringLiteral("too many visits")))
        << place(kFull).note.toStdString();
    EXPECT_TRUE(std::ranges::none_of(agency->snapshot().visits,
                                     [&](const Visit &v) { return v.patient == referred; }));
    EXPECT_FALSE(whoCanTake(agency, PatientId(999), nullptr, kSearch, {}, {}));
}

TEST(ReferralTest, OfAHomeOnNoMapItIsSaidThatTheDrivingIsAGuess) {
    Team team(2);
    const PatientId referred = refer(team);
    const QString guess = QStringLiteral("Place unknown: driving is a guess.");
    const auto known = whoCanTake(team.build(), referred, nullptr, kSearch, {}, {});
    ASSERT_TRUE(known) << debugText(known.error());
    EXPECT_FALSE(known->notes.contains(guess));
    team.agency.edit(
        [&](Snapshot &s) { std::ranges::find(s.patients, referred, &Patient::id)->address.point.reset(); });
    const auto unknown = whoCanTake(team.build(), referred, nullptr, kSearch, {}, {});
    ASSERT_TRUE(unknown) << debugText(unknown.error());
    EXPECT_TRUE(unknown->notes.contains(guess)) << unknown->notes.join(u'|').toStdString();
}

TEST(ReferralTest, LeaveOfTheFirstWeeksIsToldAndWhoWouldBeOverFullComesAfterTheOthers) {
    Team team(2);
    const PatientId referred = refer(team);
    team.agency.edit([](Snapshot &s) {
        s.nurses[1].contractPerWeek = Minutes::of(60); // one visit is more than her week
        TimeOff off;
        off.id = TimeOffId(1);
        off.nurse = kSecond;
        off.from = kToday.plusDays(7);
        off.to = kToday.plusDays(9);
        s.timeOff.push_back(off);
        off.id = TimeOffId(2);
        off.from = kToday.plusDays(40); // long after the first weeks
        off.to = kToday.plusDays(41);
        s.timeOff.push_back(off);
        off.id = TimeOffId(3);
        off.nurse = SmallAgency::kNurse;
        off.from = kToday.plusDays(10);
        off.to = kToday.plusDays(11);
        off.status = LeaveStatus::Requested; // nobody is away by it yet
        s.timeOff.push_back(off);
    });
    const auto answer = whoCanTake(team.build(), referred, nullptr, kSearch, {}, {});
    ASSERT_TRUE(answer) << debugText(answer.error());
    ASSERT_EQ(answer->places.size(), 2U);
    const ReferralPlace &first = answer->places[0], &second = answer->places[1];
    ASSERT_EQ(second.nurse, kSecond);
    ASSERT_TRUE(second.isPossible()) << second.note.toStdString();
    EXPECT_TRUE(second.isOverFull);
    for (const ReferralPlace &place : answer->places) {
        ASSERT_EQ(place.weeks.size(), 2U) << "this week and next, for everybody";
        EXPECT_TRUE(place.weeks[0].week.contains(kToday));
        EXPECT_TRUE(place.weeks[1].week.contains(kToday.plusDays(7)));
        EXPECT_FALSE(weekShareText(place.weeks[1]).isEmpty());
    }
    EXPECT_TRUE(std::ranges::any_of(second.weeks, [](const ReferralWeek &w) {
        return w.isOverFull && weekShareText(w).endsWith(QStringLiteral("over full"));
    }));
    EXPECT_FALSE(second.note.contains(QStringLiteral("First free"))) << "the table tells it";
    EXPECT_TRUE(second.note.contains(QStringLiteral("Away Mon 9 Mar to Tue 10 Mar.")))
        << second.note.toStdString();
    EXPECT_EQ(second.note.count(QStringLiteral("Away")), 1) << second.note.toStdString();
    EXPECT_TRUE(second.note.contains(QStringLiteral("ver full"))) << second.note.toStdString();
    EXPECT_FALSE(first.isOverFull);
    EXPECT_FALSE(first.note.contains(QStringLiteral("Away"))) << first.note.toStdString();
    EXPECT_TRUE(first.note.contains(QStringLiteral("Asks to be away Thu 12 Mar.")))
        << first.note.toStdString();
}

TEST(ReferralTest, TheFirstVisitIsPlacedWhereTheWeekHasAPlan) {
    Team team(2);
    const PatientId referred = refer(team);
    const auto placed = [&] {
        const auto agency = team.build();
        const auto answer = whoCanTake(agency, referred, nullptr, kSearch, {}, {});
        EXPECT_TRUE(answer);
        EXPECT_TRUE(firstVisitOpenText(*answer).contains(QStringLiteral("Wed 4 Mar")));
        EXPECT_TRUE(waitsForFirstVisit(*agency, *agency->index().patient(referred)));
        const ReferralPlace &main = answer->places.front();
        const auto week = openWeek(agency, main.cheapest->on, nullptr);
        EXPECT_TRUE(week);
        return std::pair(main, withFirstVisit(**week, referred, main.nurse, *main.cheapest));
    };
    EXPECT_EQ(placed().second, nullptr) << "no plan on record: the whole week is planned first";
    team.agency.edit([](Snapshot &s) {
        for (const std::int64_t days : {-1, 6}) { // the Sundays
            Plan plan;
            plan.id = PlanId(2 + days);
            plan.weekStart = kToday.plusDays(days);
            s.plans.push_back(plan);
        }
    });
    const auto [main, week] = placed();
    ASSERT_NE(week, nullptr);
    const auto visits = visitsOf(*week);
    const auto visit = std::ranges::find_if(
        visits, [&](const Visit &v) { return v.patient == referred && v.kind == VisitKind::StartOfCare; });
    ASSERT_NE(visit, visits.end());
    EXPECT_EQ(visit->on, main.cheapest->on);
    EXPECT_EQ(visit->nurse, main.nurse);
    EXPECT_TRUE(visit->dayIsLocked && visit->nurseIsLocked);
    EXPECT_EQ(withFirstVisit(*week, referred, main.nurse, *main.cheapest), nullptr) << "it has its place";
}

} // namespace
} // namespace kitround::desk
