// What the manager sees of skills that run out or hang on one nurse, and of too short a rest before work.
#include "core/desk/views/Attention.h"
#include "core/desk/views/RestFlags.h"
#include "core/desk/views/SkillMatrix.h"
#include "core/desk/words/Words.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using test::SmallAgency;

constexpr Date kToday = Date::of(2026, 3, 2); // a Monday

AgencyPtr agencyWith(const std::function<void(Snapshot &)> &edit) {
    SmallAgency agency(kToday);
    agency.edit(edit);
    return std::make_shared<const Agency>(agency.build());
}

TEST(SkillMatrixTest, SaysWhatRanOutWhatSoonDoesAndWhatOneNurseAloneHolds) {
    const AgencyPtr agency = agencyWith([](Snapshot &s) {
        Nurse &first = s.nurses.front();
        first.familyName = "Alder";
        first.skills = {{Skill::DrainChest, std::nullopt},
                        {Skill::DrainAbdomen, kToday}, // the first day no longer valid
                        {Skill::Teach, kToday.plusDays(30)},
                        {Skill::Assess, kToday.plusDays(31)}};
        Nurse second = first;
        second.id = NurseId(2);
        second.code = "N2";
        second.familyName = "Birch";
        second.skills = {{Skill::DrainChest, std::nullopt}};
        Nurse gone = second;
        gone.id = NurseId(3);
        gone.code = "N3";
        gone.isActive = false;
        s.nurses.insert(s.nurses.end(), {second, gone});
    });
    const SkillMatrix matrix = skillMatrix(*agency);
    ASSERT_EQ(matrix.rows.size(), 2U) << "who has left is not in it";
    const auto at = [&](Skill skill) { return matrix.rows[0].cells[static_cast<std::size_t>(skill)]; };
    EXPECT_EQ(at(Skill::DrainAbdomen).state, SkillState::Expired);
    EXPECT_EQ(at(Skill::Teach).state, SkillState::Soon);
    EXPECT_EQ(at(Skill::Assess).state, SkillState::Held);
    EXPECT_EQ(at(Skill::SiteCare).state, SkillState::NotHeld);
    EXPECT_FALSE(at(Skill::DrainChest).isOnlyHolder);
    EXPECT_TRUE(at(Skill::Teach).isOnlyHolder);
    EXPECT_FALSE(at(Skill::DrainAbdomen).isOnlyHolder) << "what has run out is held by nobody";
    EXPECT_EQ(matrix.valid[static_cast<std::size_t>(Skill::DrainChest)], 2);

    const Nurse &alder = agency->snapshot().nurses.front();
    EXPECT_EQ(skillNotice(alder, kToday),
              QStringLiteral("%1 has expired; %2 is valid to %3")
                  .arg(words(Skill::DrainAbdomen), words(Skill::Teach), dayText(kToday.plusDays(29), kToday)))
        << "the last valid day, not the first that is not";
    EXPECT_TRUE(skillsText(alder, kToday)
                    .startsWith(QStringLiteral("%1, %2 (expired)")
                                    .arg(words(Skill::DrainChest), words(Skill::DrainAbdomen))));
    EXPECT_TRUE(skillNotice(agency->snapshot().nurses[1], kToday).isEmpty());

    const Table table = skillTable(matrix, *agency);
    ASSERT_EQ(table.notes.size(), 2U);
    EXPECT_NE(table.notes[0].find("abdominal drainage"), std::string::npos);
    EXPECT_NE(table.notes[1].find("teaching (Alder"), std::string::npos);
    const std::string csv = asCsv(table);
    for (const char *said : {"✕ expired, valid to", "! ends soon, valid to", "only holder"})
        EXPECT_NE(csv.find(said), std::string::npos) << said;
    EXPECT_EQ(table.columns.size(), 7U) << "no visit was made by two nurses";
}

TEST(SkillMatrixTest, TheLastVisitByTwoNursesStandsWithBoth) {
    SmallAgency small(kToday);
    const test::Home home = small.addHome();
    small.edit([&](Snapshot &s) {
        Nurse second = s.nurses.front();
        second.id = NurseId(2);
        second.code = "N2";
        s.nurses.push_back(second);
        Visit visit;
        visit.id = VisitId(1);
        visit.patient = home.patient;
        visit.status = VisitStatus::Done;
        visit.on = kToday.plusDays(-9);
        visit.nurse = NurseId(1);
        visit.secondNurse = NurseId(2);
        s.visits.push_back(visit);
    });
    const Agency agency(small.build());
    for (const SkillRow &row : skillMatrix(agency).rows)
        EXPECT_EQ(row.lastJoint, kToday.plusDays(-9));
    EXPECT_EQ(skillTable(skillMatrix(agency), agency).columns.back().key, "last_joint_visit_on");
}

ShiftPattern weekly(Weekday day, int from, int to) {
    ShiftPattern shift;
    shift.nurse = SmallAgency::kNurse;
    shift.weekday = day;
    shift.from = Minutes::of(from * 60);
    shift.to = Minutes::of(to * 60);
    shift.validFrom = kToday.plusDays(-60);
    return shift;
}

TEST(RestFlagsTest, AShiftSaysWhileItIsEnteredThatItLeavesTooLittleRest) {
    const AgencyPtr agency = agencyWith([](Snapshot &s) {
        ShiftPattern early = weekly(Weekday::Thursday, 7, 15);
        early.id = ShiftPatternId(1);
        s.shiftPatterns = {early};
    });
    const QStringList late = restFlags(*agency, weekly(Weekday::Wednesday, 14, 22));
    ASSERT_EQ(late.size(), 4) << "three of the four weeks, and how many more";
    EXPECT_TRUE(late[0].contains(QStringLiteral("9 h"))) << late[0].toStdString();
    EXPECT_TRUE(late[0].contains(dayText(kToday.plusDays(3))));
    EXPECT_TRUE(restFlags(*agency, weekly(Weekday::Wednesday, 12, 20)).isEmpty()) << "11 hours";
    ShiftPattern moved = weekly(Weekday::Wednesday, 14, 22);
    moved.id = ShiftPatternId(1);
    EXPECT_TRUE(restFlags(*agency, moved).isEmpty()) << "it stands in place of the stored one";
    ExtraShift call;
    call.nurse = SmallAgency::kNurse;
    call.on = kToday.plusDays(2);
    call.from = Minutes::of(22 * 60);
    call.to = Minutes::of(6 * 60);
    call.isOnCall = true;
    ASSERT_EQ(restFlags(*agency, call).size(), 1);
    EXPECT_TRUE(restFlags(*agency, call)[0].contains(QStringLiteral("on call")));
    call.on = kToday.plusDays(9 * 7 + 2);
    EXPECT_EQ(restFlags(*agency, call).size(), 1) << "beyond the next four weeks, too";
}

TEST(RestFlagsTest, OfHoursThatCannotBeSavedNoNightIsMadeUp) {
    const AgencyPtr agency = agencyWith([](Snapshot &s) {
        ShiftPattern early = weekly(Weekday::Thursday, 7, 15);
        early.id = ShiftPatternId(1);
        s.shiftPatterns = {early};
    });
    EXPECT_TRUE(restFlags(*agency, weekly(Weekday::Wednesday, 22, 6)).isEmpty())
        << "no turn on call: its end lies before its start";
    ExtraShift backwards;
    backwards.nurse = SmallAgency::kNurse;
    backwards.on = kToday.plusDays(2);
    backwards.from = Minutes::of(22 * 60);
    backwards.to = Minutes::of(6 * 60);
    EXPECT_TRUE(restFlags(*agency, backwards).isEmpty());
}

TEST(RestFlagsTest, WhatTheShiftBringsComesBeforeWhatWasSoWithoutIt) {
    const AgencyPtr agency = agencyWith([](Snapshot &s) {
        ShiftPattern late = weekly(Weekday::Tuesday, 14, 22), early = weekly(Weekday::Wednesday, 7, 13),
                     next = weekly(Weekday::Thursday, 7, 15);
        std::int64_t id = 0;
        for (ShiftPattern *shift : {&late, &early, &next}) {
            shift->id = ShiftPatternId(++id);
            shift->validTo = kToday.plusDays(7); // this week only
        }
        s.shiftPatterns = {late, early, next};
    });
    ExtraShift extra;
    extra.nurse = SmallAgency::kNurse;
    extra.on = kToday.plusDays(2);
    extra.from = Minutes::of(14 * 60);
    extra.to = Minutes::of(22 * 60);
    extra.replacesPattern = false; // beside the morning's
    const QStringList flags = restFlags(*agency, extra);
    ASSERT_EQ(flags.size(), 2);
    EXPECT_TRUE(flags[0].startsWith(dayText(kToday.plusDays(3)))) << flags[0].toStdString();
    EXPECT_TRUE(
        flags[1].startsWith(QStringLiteral("Already so without this shift: ") + dayText(kToday.plusDays(2))))
        << flags[1].toStdString();
}

TEST(RestFlagsTest, WhatAStoredShiftBringsIsNotCalledSoWithoutIt) {
    ShiftPattern late = weekly(Weekday::Wednesday, 14, 22);
    late.id = ShiftPatternId(1);
    const AgencyPtr agency = agencyWith([&](Snapshot &s) {
        ShiftPattern early = weekly(Weekday::Thursday, 7, 15);
        early.id = ShiftPatternId(2);
        s.shiftPatterns = {late, early};
    });
    const QStringList flags = restFlags(*agency, late);
    ASSERT_FALSE(flags.isEmpty());
    EXPECT_TRUE(flags.filter(QStringLiteral("Already so")).isEmpty()) << flags[0].toStdString();
}

TEST(RestFlagsTest, TheManagerReadsOfTheComingWeek) {
    const auto shortRests = [](Date late) {
        const AgencyPtr agency = agencyWith([&](Snapshot &s) {
            s.shiftPatterns = {weekly(Weekday::Thursday, 7, 15)};
            ExtraShift shift;
            shift.nurse = SmallAgency::kNurse;
            shift.on = late;
            shift.from = Minutes::of(14 * 60);
            shift.to = Minutes::of(22 * 60);
            s.extraShifts = {shift};
        });
        auto items = attention(*agency, nullptr, nullptr);
        std::erase_if(items, [](const AttentionItem &item) { return item.kind != AttentionKind::ShortRest; });
        return items;
    };
    const auto found = shortRests(kToday.plusDays(2));
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].nurse, SmallAgency::kNurse);
    EXPECT_EQ(found[0].dueOn, kToday.plusDays(3));
    EXPECT_EQ(found[0].forRole, UserRole::NurseManager);
    EXPECT_TRUE(shortRests(kToday.plusDays(9)).empty()) << "not of the week after";
}

} // namespace
} // namespace kitround::desk
