// The holidays by patient. Couriers run Monday to Friday and bring a parcel one courier day after it was
// handed over.
#include "core/desk/views/HolidayPlan.h"
#include "core/desk/paper/Papers.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <stop_token>

namespace kitround::desk {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

constexpr Date kToday = Date::of(2026, 3, 2);     // a Monday
constexpr Date kThursday = Date::of(2026, 3, 12); // closed, and the Friday after it
constexpr Date kFriday = Date::of(2026, 3, 13);

struct Closed {
    SmallAgency agency{kToday};
    Home home;
    explicit Closed(std::vector<Date> days = {kThursday, kFriday}) {
        home = agency.addHome();
        agency.order(home, everyDays(1, kToday));
        for (int back = 20; back > 0; --back)
            agency.drained(home, kToday.plusDays(-back), 400, {{SmallAgency::kKit500, 1}});
        agency.edit([&](Snapshot &s) { s.settings.ownHolidays = days; });
    }
    void stock(std::int64_t kits) {
        agency.counted(home, SmallAgency::kKit500, kits, kToday);
        agency.counted(home, SmallAgency::kBottle500, 40, kToday);
    }
    void visitsAWeek(int times) {
        agency.edit([&](Snapshot &s) {
            VisitOrder order;
            order.id = VisitOrderId(1);
            order.patient = home.patient;
            order.start = kToday.plusDays(-28);
            VisitSegment segment;
            segment.leastPerWeek = segment.mostPerWeek = times;
            segment.weeks = 12;
            order.segments = {segment};
            s.visitOrders = {order};
        });
    }
    void visit(Date on, VisitStatus status) {
        agency.edit([&](Snapshot &s) {
            Visit v;
            v.id = VisitId(static_cast<std::int64_t>(s.visits.size()) + 1);
            v.patient = home.patient;
            v.order = VisitOrderId(1);
            v.status = status;
            v.dueFrom = on;
            v.dueTo = on.plusDays(1);
            v.length = Minutes::of(45);
            v.on = on;
            v.startAt = Minutes::of(540);
            v.nurse = SmallAgency::kNurse;
            if (status == VisitStatus::Done)
                v.startedAt = LocalTime{on, Minutes::of(540)};
            s.visits.push_back(v);
        });
    }
    StockPicturePtr picture() const {
        auto stock = computeStock(std::make_shared<const Agency>(agency.build()), {}, {});
        EXPECT_TRUE(stock);
        return *stock;
    }
    HolidayPlan plan(int weeks = 4) const { return holidayPlan(*picture(), weeks); }
};

TEST(HolidayPlanTest, TwoClosedDaysAndTheWeekendAreOneStretchWithItsCutOff) {
    Closed s;
    s.stock(40);
    const HolidayPlan plan = s.plan();
    ASSERT_EQ(plan.stretches.size(), 1U);
    const HolidayStretch &stretch = plan.stretches.front();
    EXPECT_EQ(stretch.days.from, kThursday);
    EXPECT_EQ(stretch.days.to, Date::of(2026, 3, 16));
    EXPECT_TRUE(stretch.isTwoInARow());
    EXPECT_EQ(stretch.lastCourier, Date::of(2026, 3, 11));
    EXPECT_EQ(stretch.firstCourier, Date::of(2026, 3, 16));
    ASSERT_TRUE(stretch.handOver);
    EXPECT_LE(*stretch.handOver, *stretch.lastCourier);
    EXPECT_TRUE(stretchText(stretch, kToday).contains(QStringLiteral("4 days in a row")))
        << stretchText(stretch, kToday).toStdString();
    EXPECT_TRUE(plan.homes.empty()) << "40 kits and no visits: nothing to do";
    EXPECT_TRUE(s.plan(1).stretches.empty()) << "the week after next is not asked about";
}

TEST(HolidayPlanTest, AHomeThatWouldRunDryBeforeTheNextDeliveryIsNamed) {
    Closed s;
    s.stock(12); // one a day from Monday: dry on Saturday the 14th, the next parcel comes on the 16th
    const HolidayPlan plan = s.plan();
    ASSERT_EQ(plan.homes.size(), 1U);
    EXPECT_TRUE(plan.homes.front().needsStock);
    EXPECT_GT(plan.homes.front().chanceDry, 0.5);
    EXPECT_TRUE(stockText(plan, plan.homes.front()).contains(QStringLiteral("hand over by")));
    Closed unknown;
    ASSERT_EQ(unknown.plan().homes.size(), 1U);
    EXPECT_TRUE(unknown.plan().homes.front().isUnknown) << "nobody can tell";
}

TEST(HolidayPlanTest, AVisitPlannedOnAClosedDayIsNamedUntilItStandsElsewhere) {
    Closed s;
    s.stock(40);
    s.visitsAWeek(1);
    s.visit(kThursday, VisitStatus::Drafted);
    const HolidayPlan plan = s.plan();
    ASSERT_EQ(plan.homes.size(), 1U);
    EXPECT_EQ(plan.homes.front().onClosed, std::vector<Date>{kThursday});
    EXPECT_FALSE(plan.homes.front().isUsual);
    EXPECT_TRUE(visitText(plan.homes.front()).contains(QStringLiteral("not moved yet")));
    Closed moved;
    moved.stock(40);
    moved.visitsAWeek(1);
    moved.visit(kThursday.plusDays(-1), VisitStatus::Drafted);
    EXPECT_TRUE(moved.plan().homes.empty());
}

TEST(HolidayPlanTest, WhoIsUsuallyVisitedOnThatWeekdayIsOnTheListBeforeAnythingIsPlanned) {
    Closed s;
    s.stock(40);
    s.visitsAWeek(1);
    s.visit(kThursday.plusDays(-21), VisitStatus::Done);
    EXPECT_TRUE(s.plan().homes.empty()) << "once is no habit";
    s.visit(kThursday.plusDays(-14), VisitStatus::Done);
    const HolidayPlan plan = s.plan();
    ASSERT_EQ(plan.homes.size(), 1U);
    EXPECT_TRUE(plan.homes.front().isUsual);
    EXPECT_EQ(plan.homes.front().owed, 2) << "the week's visit, and the recertification nobody made";
}

TEST(HolidayPlanTest, AFrequencyThatNoLongerFitsIsSaid) {
    Closed s({Date::of(2026, 3, 9), Date::of(2026, 3, 10), Date::of(2026, 3, 11), kThursday, kFriday});
    s.stock(60);
    s.visitsAWeek(5);
    const HolidayPlan plan = s.plan();
    const auto home = std::ranges::find(plan.homes, true, &HolidayHome::fitsNot);
    ASSERT_NE(home, plan.homes.end());
    EXPECT_EQ(home->owed, 5);
    EXPECT_EQ(home->openDays, 2) << "Sunday and Saturday";
    EXPECT_TRUE(visitText(*home).contains(QStringLiteral("ask the prescriber")));
}

TEST(HolidayPlanTest, ThePaperAndTheCopyNameNobody) {
    Closed s;
    s.stock(12);
    s.agency.edit([](Snapshot &a) { a.patients[0].familyName = "Verysecret"; });
    const StockPicturePtr picture = s.picture();
    const HolidayPlan plan = holidayPlan(*picture, 4);
    const Table table = holidayTable(plan, *picture->agency);
    ASSERT_EQ(table.rows.size(), 1U);
    ASSERT_EQ(table.notes.size(), 1U);
    for (const std::string &cell : table.rows.front())
        EXPECT_EQ(cell.find("Verysecret"), std::string::npos);
    const Paper paper = holidayPaper(plan, *picture->agency, 4);
    ASSERT_TRUE(paper.sections.front().table);
    for (const std::string &cell : paper.sections.front().table->rows.front())
        EXPECT_EQ(cell.find("Verysecret"), std::string::npos);
}

TEST(HolidayPlanTest, WhatWantsADecisionIsSaidAlikeInTheCopyAndOnPaper) {
    const auto said = [](const Closed &s) {
        const StockPicturePtr picture = s.picture();
        const HolidayPlan plan = holidayPlan(*picture, 4);
        EXPECT_EQ(plan.homes.size(), 1U);
        const Table table = holidayTable(plan, *picture->agency);
        EXPECT_EQ(table.columns.back().key, "to_decide");
        const Paper paper = holidayPaper(plan, *picture->agency, 4);
        return table.rows.at(0).back() + "/" + paper.sections.front().table->rows.at(0).at(3);
    };
    Closed stands;
    stands.stock(40);
    stands.visitsAWeek(1);
    stands.visit(kThursday, VisitStatus::Drafted);
    EXPECT_EQ(said(stands), "yes/yes") << "on the closed day and nowhere else";
    Closed dry;
    dry.stock(12);
    EXPECT_EQ(said(dry), "no/") << "supplies only: no visit waits for a decision";
    HolidayHome home;
    home.onClosed = {kThursday};
    EXPECT_TRUE(home.isOpen());
    home.planned = {kThursday.plusDays(-1)};
    EXPECT_FALSE(home.isOpen()) << "it stands elsewhere already";
    home.fitsNot = true;
    EXPECT_TRUE(home.isOpen());
}

TEST(HolidayPlanTest, OneDayOpenIsNotSaidAsMany) {
    HolidayHome home;
    home.owed = 3;
    home.fitsNot = true;
    home.openDays = 1;
    EXPECT_TRUE(visitText(home).contains(QStringLiteral("only 1 day open: ")))
        << visitText(home).toStdString();
    home.openDays = 2;
    EXPECT_TRUE(visitText(home).contains(QStringLiteral("only 2 days open: ")));
}

TEST(HolidayPlanTest, AskedToStopItLeavesTheHomesAlone) {
    Closed s;
    s.stock(12);
    const StockPicturePtr picture = s.picture();
    std::stop_source stop;
    EXPECT_EQ(holidayPlan(*picture, 4, stop.get_token()).homes.size(), 1U);
    stop.request_stop();
    EXPECT_TRUE(holidayPlan(*picture, 4, stop.get_token()).homes.empty());
}

} // namespace
} // namespace kitround::desk
