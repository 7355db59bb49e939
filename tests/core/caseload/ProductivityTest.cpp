// Work done and its cost, every figure worked by hand in the comments; and who may be named.
#include "core/caseload/Assignment.h"
#include "core/caseload/WorkCost.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::caseload {
namespace {

using test::Home;
using test::SmallAgency;

constexpr Date kToday = Date::of(2026, 3, 2); // a Monday
const DateRange kWeek{Date::of(2026, 2, 22), Date::of(2026, 3, 1)};

class ProductivityTest : public ::testing::Test {
protected:
    Visit visit(const Home &home, Date on, std::int64_t minutes, std::int64_t metres) {
        Visit v;
        v.id = VisitId(++visits_);
        v.patient = home.patient;
        v.status = VisitStatus::Done;
        v.dueFrom = kWeek.from;
        v.dueTo = kWeek.to;
        v.length = Minutes::of(45);
        v.on = on;
        v.nurse = SmallAgency::kNurse;
        v.startedAt = LocalTime{on, Minutes::of(540)};
        v.endedAt = LocalTime{on, Minutes::of(540 + minutes)};
        v.driven = Metres::of(metres);
        return v;
    }
    void add(const Visit &v) {
        agency_.edit([&](Snapshot &s) { s.visits.push_back(v); });
    }
    Productivity run() {
        snapshot_ = agency_.build();
        const SnapshotIndex index(snapshot_);
        return productivity(index, kWeek);
    }

    std::int64_t visits_ = 0;
    SmallAgency agency_{kToday};
    Snapshot snapshot_;
};

TEST_F(ProductivityTest, WhatWasEstimatedIsToldFromWhatWasReadOffTheCar) {
    const Home home = agency_.addHome();
    add(visit(home, kWeek.from.plusDays(1), 50, 5000));
    Visit guessed = visit(home, kWeek.from.plusDays(2), 40, 3000);
    guessed.drivenIsEstimated = true;
    add(guessed);
    const Productivity done = run();
    ASSERT_EQ(done.nurses.size(), 1U);
    EXPECT_EQ(done.nurses[0].done.driven, Metres::of(8000));
    EXPECT_EQ(done.nurses[0].done.estimated, Metres::of(3000));
}

// Two visits on a Monday, 50 and 40 min, after 16.09344 km (10 miles) each: one rural (40 mph: 15 min), one
// urban (18 mph: 33 min); a stop takes 5 min; notes 15 min each. Road 20 + 38 = 58; in homes 90; notes 30;
// travel share 58 / 178.
TEST_F(ProductivityTest, TheTravelShareStandsBesideVisitsADay) {
    const Home far = agency_.addHome(), near = agency_.addHome();
    agency_.edit([&](Snapshot &s) {
        s.patients[0].address.area = AreaKind::Rural;
        s.patients[1].address.area = AreaKind::Urban;
    });
    const Date monday = kWeek.from.plusDays(1);
    add(visit(far, monday, 50, 16093));
    add(visit(near, monday, 40, 16093));
    Visit missed = visit(near, monday, 40, 0);
    missed.status = VisitStatus::Missed;
    add(missed);
    add(visit(near, kToday, 40, 0)); // not in the week
    const Productivity work = run();
    ASSERT_EQ(work.nurses.size(), 1U);
    const WorkDone &done = work.nurses[0].done;
    EXPECT_EQ(done.visits, 2);
    EXPECT_NEAR(done.visitsADay(), 2.0, 1e-12);
    EXPECT_EQ(done.inHome, Minutes::of(90));
    EXPECT_EQ(done.notes, Minutes::of(30));
    EXPECT_EQ(done.road, Minutes::of(58));
    EXPECT_NEAR(done.travelShare(), 58.0 / 178.0, 1e-12);
    EXPECT_TRUE(done.overtime.isZero());
    ASSERT_EQ(work.areas.size(), 2U);
    EXPECT_EQ(work.areas[0].area, AreaKind::Urban);
    EXPECT_NEAR(work.areas[0].done.days, 0.5, 1e-12) << "a day in two areas is shared out";
    EXPECT_NEAR(work.areas[1].done.travelShare(), 20.0 / 85.0, 1e-12);
    ASSERT_EQ(work.kinds.size(), 1U);
    EXPECT_EQ(work.kinds[0].inHome, Minutes::of(90));
    EXPECT_EQ(work.kinds[0].planned, Minutes::of(90));
}

// A contract of one hour; 50 min in the home, 15 of notes, 5 + 15 on the road: 85 - 60 = 25 over.
TEST_F(ProductivityTest, NotesAndTheRoadCountForOvertime) {
    const Home home = agency_.addHome();
    agency_.edit([&](Snapshot &s) {
        s.patients[0].address.area = AreaKind::Rural;
        s.nurses[0].contractPerWeek = Minutes::of(60);
    });
    add(visit(home, kWeek.from.plusDays(1), 50, 16093));
    EXPECT_EQ(run().nurses.at(0).done.overtime, Minutes::of(25));
    agency_.edit([](Snapshot &s) { s.nurses[0].overtimeExempt = true; });
    EXPECT_TRUE(run().nurses.at(0).done.overtime.isZero());
}

// Rural: 50 min, 15 of notes, 15 + 5 on 10 miles: 85. Urban: 40, 15 and 67 + 5 on 20 estimated miles: 127. Of
// 212 the contract pays 60, so 152 are overtime: 152 x 127 / 212 = 91 of it urban, the other 61 rural. An
// hour is paid 45.00, a mile 72.5 cents, a courier's run 25.00.
TEST_F(ProductivityTest, CostIsSharedOutByNurseAndByAreaToTheSameSum) {
    const Home far = agency_.addHome(), near = agency_.addHome();
    agency_.edit([&](Snapshot &s) {
        s.patients[0].address.area = AreaKind::Rural;
        s.patients[0].primaryNurse = SmallAgency::kNurse;
        s.patients[1].address.area = AreaKind::Urban;
        s.patients[1].primaryNurse.reset();
        s.nurses[0].contractPerWeek = Minutes::of(60);
        s.settings.set(SettingKey::OvertimeHourMinor, 4500);
    });
    const Date monday = kWeek.from.plusDays(1);
    add(visit(far, monday, 50, 16093));
    Visit guessed = visit(near, monday, 40, 32187);
    guessed.drivenIsEstimated = true;
    add(guessed);
    agency_.delivery(near, SmallAgency::kKit500, 4, monday);
    agency_.delivery(near, SmallAgency::kBottle500, 4, monday); // the same run
    agency_.delivery(near, SmallAgency::kKit500, 4, kWeek.to);  // not in the week
    const Productivity work = run();
    const SnapshotIndex index(snapshot_);
    const WorkCosts costs = workCosts(work, index);
    ASSERT_EQ(costs.byNurse.size(), 2U);
    const WorkCost &nurse = costs.byNurse[0], &nobody = costs.byNurse[1];
    EXPECT_EQ(nurse.nurse, SmallAgency::kNurse);
    EXPECT_EQ(nurse.visits, 2);
    EXPECT_EQ(nurse.mileage, Money::of(725)) << "estimated miles are not paid as driven";
    EXPECT_EQ(nurse.overtime, Minutes::of(152));
    EXPECT_EQ(nurse.overtimePay, Money::of(11400));
    EXPECT_FALSE(nobody.nurse);
    EXPECT_EQ(nobody.courierRuns, 1);
    EXPECT_EQ(nobody.couriers, Money::of(2500));
    ASSERT_EQ(costs.byArea.size(), 2U);
    EXPECT_EQ(costs.byArea[0].area, AreaKind::Urban);
    EXPECT_EQ(costs.byArea[0].overtime, Minutes::of(91));
    EXPECT_EQ(costs.byArea[0].sum(), Money::of(6825 + 2500));
    EXPECT_EQ(costs.byArea[1].overtime, Minutes::of(61));
    EXPECT_EQ(costs.byArea[1].sum(), Money::of(725 + 4575));
    EXPECT_EQ(wholeCost(costs.byArea).sum(), Money::of(14625));
    EXPECT_EQ(wholeCost(costs.byNurse).sum(), Money::of(14625));
}

TEST_F(ProductivityTest, CentsAreRoundedOnceSoThatBothListsComeToTheSame) {
    snapshot_ = agency_.build();
    const SnapshotIndex index(snapshot_);
    Productivity work;
    SupplyCost one, two; // 10.4 cents each: 10 and 10 by area, 21 by nurse, were each rounded by itself
    one.area = AreaKind::Urban;
    two.area = AreaKind::Rural;
    one.costMinor = two.costMinor = 10.4;
    work.suppliesByArea = {one, two};
    SupplyCost both;
    both.mainNurse = SmallAgency::kNurse;
    both.costMinor = 20.8;
    work.suppliesByNurse = {both};
    const WorkCosts costs = workCosts(work, index);
    EXPECT_EQ(wholeCost(costs.byNurse).supplies, Money::of(21));
    EXPECT_EQ(wholeCost(costs.byArea).supplies, Money::of(21));
}

// Seven patient-days; two kits opened and one lost: 3 eaches of a case of 10 at 200.00, so 60.00 or 8.57 a
// day. A hospital stay of two days leaves five patient-days, so 12.00 a day.
TEST_F(ProductivityTest, SuppliesAPatientDay) {
    const Home home = agency_.addHome();
    agency_.edit([&](Snapshot &s) {
        s.supplierItems.clear();
        SupplierItem offer;
        offer.id = SupplierItemId(1);
        offer.supplier = SmallAgency::kSupplier;
        offer.item = SmallAgency::kKit500;
        offer.pack = PackSize{Eaches::of(10)};
        offer.perCase = Money::of(20000);
        s.supplierItems.push_back(offer);
    });
    agency_.drained(home, kWeek.from.plusDays(1), 400, {{SmallAgency::kKit500, 1, 1}});
    agency_.drained(home, kWeek.from.plusDays(3), 400, {{SmallAgency::kKit500, 1, 0}});
    agency_.drained(home, kWeek.from.plusDays(5), 400);
    Productivity work = run();
    ASSERT_EQ(work.suppliesByArea.size(), 1U);
    EXPECT_EQ(work.suppliesByArea[0].patientDays, 7);
    EXPECT_EQ(work.suppliesByArea[0].used, Eaches::of(3));
    EXPECT_NEAR(work.suppliesByArea[0].costMinor, 6000, 1e-9);
    EXPECT_NEAR(work.suppliesByArea[0].perPatientDayMinor(), 6000.0 / 7, 1e-9);
    EXPECT_EQ(work.drainsWithoutSupplies, 1);
    agency_.hold(home, kWeek.from, kWeek.from.plusDays(2));
    work = run();
    ASSERT_EQ(work.suppliesByNurse.size(), 1U);
    EXPECT_EQ(work.suppliesByNurse[0].patientDays, 5);
    EXPECT_NEAR(work.suppliesByNurse[0].perPatientDayMinor(), 1200, 1e-9);
}

TEST(AssignmentTest, ASkillThatRanOutIsToldFromOneNeverHeld) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome(CavitySite::Abdomen);
    agency.edit([](Snapshot &s) {
        s.nurses[0].skills = {{Skill::DrainChest, std::nullopt}, {Skill::DrainAbdomen, kToday}};
    });
    const Snapshot s = agency.build();
    const SnapshotIndex index(s);
    const auto lacking = lackingSkills(index, home.patient, s.nurses[0], kToday);
    ASSERT_EQ(lacking.size(), 1U);
    EXPECT_EQ(lacking[0], (LackingSkill{Skill::DrainAbdomen, kToday}));
    EXPECT_TRUE(lackingSkills(index, home.patient, s.nurses[0], kToday.plusDays(-1)).empty());
    Nurse without = s.nurses[0];
    without.skills.clear();
    EXPECT_EQ(lackingSkills(index, home.patient, without, kToday).at(0).expiredOn, std::nullopt);
}

} // namespace
} // namespace kitround::caseload
