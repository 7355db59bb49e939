// What a snapshot holds and how it is sorted.
#include "core/store/AgencyFileInner.h"
#include "core/supply/Ledger.h"
#include "tests/core/store/World.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::store {
namespace {

const Date kToday = Date::of(2026, 11, 25);
const LocalTime kNow{kToday, Minutes::of(600)};

std::string textOf(const std::vector<StockBalance> &balances) {
    std::string text;
    for (const StockBalance &b : balances)
        text += std::to_string(int(b.place.kind)) + ":" + std::to_string(b.place.ref) + " item " +
                std::to_string(b.item.value()) + " lot " + std::to_string(b.lot ? b.lot->value() : 0) +
                " = " + std::to_string(b.quantity.count()) + "\n";
    return text;
}

class LoadTest : public testing::Test {
protected:
    LoadTest() : file(makeFile(folder.path("a"))), agency(addSmallAgency(*file)) {}
    Snapshot load(std::int64_t logBack = 30) {
        auto snapshot = file->load({kNow, Days::of(logBack)}, {}, {});
        EXPECT_TRUE(snapshot) << debugText(snapshot.error());
        return *snapshot;
    }
    template <class R>
    R save(R record) {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        auto saved = unit.save(std::move(record));
        EXPECT_TRUE(saved) << debugText(saved.error());
        EXPECT_TRUE(unit.commit());
        return *saved;
    }
    StockMovement post(StockMovement movement) {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        auto posted = unit.post(std::move(movement));
        EXPECT_TRUE(posted) << debugText(posted.error());
        EXPECT_TRUE(unit.commit());
        return *posted;
    }
    Visit visit(Date from, std::optional<Date> on = {}) {
        Visit v;
        v.patient = agency.patient.id;
        v.dueFrom = from;
        v.dueTo = from.plusDays(3);
        v.length = Minutes::of(30);
        v.on = on;
        return save(v);
    }

    TestFolder folder;
    std::unique_ptr<AgencyFile> file;
    SmallAgency agency;
};

TEST_F(LoadTest, TheLogRunsFromLogFromToNowWithoutVoidEntries) {
    const auto entry = [&](std::int64_t daysBack, std::int64_t minute) {
        return plainEntry(agency, {kToday.plusDays(-daysBack), Minutes::of(minute)});
    };
    save(entry(31, 1439)); // before the log
    const DrainEntry first = save(entry(30, 0));
    DrainEntry isVoid = entry(3, 0);
    isVoid.isVoid = true;
    save(isVoid);
    const DrainEntry now = save(entry(0, 600));
    save(entry(0, 601)); // later today
    save(entry(-1, 0));  // tomorrow
    DrainEntry dateOnly = entry(0, 720);
    dateOnly.timeIsKnown = false; // some time today
    dateOnly = save(dateOnly);
    EXPECT_EQ(load().drainEntries, (std::vector<DrainEntry>{first, now, dateOnly}));
    EXPECT_EQ(load().logFrom, kToday.plusDays(-30));
    EXPECT_EQ(file->wholeLog(agency.catheter.id)->size(), 7U);
}

TEST_F(LoadTest, TheLogIsSortedByCatheterThenTimeThenNumberWithItsLists) {
    Catheter second = agency.catheter;
    second.id = {};
    second = save(second);
    Random random(11);
    std::vector<DrainEntry> expected;
    UnitOfWork unit(*file, kFirstUser, kMoment);
    for (int i = 0; i < 200; ++i) {
        DrainEntry entry = plainEntry(
            agency, {kToday.plusDays(-random.between(0, 40)), Minutes::of(random.between(0, 3) * 100)});
        if (random.chance(0.5))
            entry.catheter = second.id;
        if (random.chance(0.3))
            entry.supplies.clear();
        if (random.chance(0.3))
            entry.symptoms = {Symptom::Leak, Symptom::Fever};
        entry.note = std::to_string(i);
        entry = unit.save(entry).value();
        if (entry.at.date >= kToday.plusDays(-30))
            expected.push_back(entry);
    }
    ASSERT_TRUE(unit.commit());
    std::ranges::sort(expected, {}, [](const DrainEntry &e) { return std::tuple(e.catheter, e.at, e.id); });
    EXPECT_TRUE(load().drainEntries == expected);
}

TEST_F(LoadTest, BalancesAreTheSumsOfTheInsidePlacesUpToNow) {
    WorldBuilder builder(99);
    {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        builder.grow(unit, 20);
        ASSERT_TRUE(unit.commit()) << builder.refusal();
    }
    std::vector<StockMovement> upToNow;
    const std::vector<StockMovement> all = file->allMovements().value();
    for (const StockMovement &movement : all)
        if (movement.at <= kNow)
            upToNow.push_back(movement);
    ASSERT_GT(upToNow.size(), 20U);
    EXPECT_EQ(textOf(load().balances),
              textOf(supply::balancesOf(upToNow))); // the pure sum, one movement after another
}

TEST_F(LoadTest, AMovementOfTheFutureDoesNotCountYetAndZeroRowsAreLeftOut) {
    StockMovement in = plainMovement(agency, {kToday, Minutes::of(600)}, 5);
    in.from = Place{PlaceKind::Supplier, 0};
    in.to = Place::storeroom();
    post(in);
    post(plainMovement(agency, {kToday, Minutes::of(601)}, 2)); // a minute later
    const StockBalance all{Place::storeroom(), agency.item.id, agency.lot.id, Eaches::of(5)};
    EXPECT_EQ(load().balances, std::vector<StockBalance>{all});
    post(plainMovement(agency, {kToday, Minutes::of(0)}, 5));
    EXPECT_EQ(load().balances, (std::vector<StockBalance>{{Place::home(agency.catheter.id), agency.item.id,
                                                           agency.lot.id, Eaches::of(5)}}));
}

TEST_F(LoadTest, ALedgerBelowZeroIsShownNotClipped) {
    post(plainMovement(agency, {kToday, Minutes::of(0)}, 4));
    const Snapshot snapshot = load();
    ASSERT_EQ(snapshot.balances.size(), 2U);
    EXPECT_EQ(snapshot.balances[0].quantity, Eaches::of(-4));
}

TEST_F(LoadTest, TheLastCountOfALineIsLoadedHoweverOld) {
    const auto count = [&](std::int64_t daysBack, std::int64_t counted) {
        HomeCount c;
        c.catheter = agency.catheter.id;
        c.item = agency.item.id;
        c.at = {kToday.plusDays(-daysBack), Minutes::of(60)};
        c.counted = Eaches::of(counted);
        return save(c);
    };
    const HomeCount old = count(200, 5);
    count(300, 6);
    count(-2, 9); // of the day after tomorrow
    EXPECT_EQ(load().homeCounts, std::vector<HomeCount>{old});
    const HomeCount recent = count(10, 3), again = count(20, 4);
    EXPECT_EQ(load().homeCounts, (std::vector<HomeCount>{again, recent}));
}

TEST_F(LoadTest, VisitsReachFromTheLogToTheFuture) {
    visit(kToday.plusDays(-40));
    const Visit edge = visit(kToday.plusDays(-32)); // its last due day is the first of the log
    const Visit moved = visit(kToday.plusDays(-60), kToday.plusDays(-5));
    const Visit future = visit(kToday.plusDays(400));
    EXPECT_EQ(load().visits, (std::vector<Visit>{edge, moved, future}));
}

TEST_F(LoadTest, TheNewestPlanOfEachWeekIsLoaded) {
    const auto plan = [&](Date week, int version) {
        Plan p;
        p.weekStart = week;
        p.version = version;
        return save(p);
    };
    const Date week = Date::of(2026, 11, 22);
    const Plan newest = plan(week, 3);
    const Plan older = plan(week, 1);
    const Plan before = plan(week.plusDays(-7), 1);
    plan(week.plusDays(-70), 1);
    EXPECT_EQ(load().plans, (std::vector<Plan>{newest, before}));
    EXPECT_EQ(file->planVersions(week).value(), (std::vector<Plan>{older, newest}));
}

TEST_F(LoadTest, ThePlanInForceOfAWeekThatIsNotOverIsLoadedBesideItsDraft) {
    const auto plan = [&](Date week, int version, PlanStatus status, std::optional<Instant> published) {
        Plan p;
        p.weekStart = week;
        p.version = version;
        p.status = status;
        p.publishedAt = published;
        return save(p);
    };
    const Date week = Date::of(2026, 11, 22);
    const Instant hourLater = kMoment + Minutes::of(60);
    plan(week.plusDays(-7), 1, PlanStatus::Published, kMoment);
    plan(week, 1, PlanStatus::Superseded, kMoment);
    const Plan inForce = plan(week, 2, PlanStatus::Published, hourLater);
    const Plan draft = plan(week, 3, PlanStatus::Draft, {});
    const Plan next = plan(week.plusDays(7), 1, PlanStatus::Published, kMoment);
    plan(week.plusDays(14), 1, PlanStatus::Draft, {});
    const Snapshot snapshot = load();
    EXPECT_EQ(snapshot.plansInForce, (std::vector<Plan>{next, inForce})) << "in the order of publishing";
    EXPECT_NE(std::ranges::find(snapshot.plans, draft), snapshot.plans.end());
}

TEST_F(LoadTest, WhatNursesKnowOfTheirRoundsIsTheFirstPublishedPlanAndWhatTheyWereTold) {
    const auto plan = [&](Date week, int version, bool isPublished) {
        Plan p;
        p.weekStart = week;
        p.version = version;
        p.status = isPublished ? PlanStatus::Published : PlanStatus::Draft;
        if (isPublished)
            p.publishedAt = kMoment;
        return save(p);
    };
    const auto told = [&](Date on) {
        PlanTold t;
        t.nurse = agency.nurse.id;
        t.on = on;
        t.at = {kToday, Minutes::of(9 * 60)};
        t.by = "Ada";
        return save(t);
    };
    const Date week = Date::of(2026, 11, 22);
    plan(week, 1, false);
    const Plan first = plan(week, 2, true);
    plan(week, 3, true);
    const Plan ofNextWeek = plan(week.plusDays(7), 1, true);
    plan(week.plusDays(-7), 1, true);
    told(kToday.plusDays(-1));
    const PlanTold today = told(kToday), tomorrow = told(kToday.plusDays(1));
    EXPECT_EQ(load().firstPublished, (std::vector<Plan>{first, ofNextWeek}));
    EXPECT_EQ(load().planTold, (std::vector<PlanTold>{today, tomorrow}));
}

TEST_F(LoadTest, WhatHomesWereToldIsLoadedAsFarBackAsTheLog) {
    const VisitId about = visit(kToday).id;
    const auto told = [&](Date on) {
        PatientTold t;
        t.patient = agency.patient.id;
        t.at = {on, Minutes::of(9 * 60)};
        t.reached = Reached::Patient;
        t.by = kFirstUser;
        t.visits = {{about, {}}};
        return save(t);
    };
    told(kToday.plusDays(-31));
    const PatientTold first = told(kToday.plusDays(-30)), second = told(kToday);
    EXPECT_EQ(load().patientTold, (std::vector<PatientTold>{first, second}));
}

TEST_F(LoadTest, IncidentsAreLoadedHoweverLongAgoTheyWereClosed) {
    Incident incident;
    incident.at = {kToday.plusDays(-900), Minutes::of(9 * 60)};
    incident.learnedOn = incident.at.date;
    incident.facts = "No vacuum.";
    incident.closedOn = incident.at.date.plusDays(3);
    incident.outcome = "Replaced.";
    const Incident old = save(incident);
    EXPECT_EQ(load().incidents, std::vector<Incident>{old});
}

TEST_F(LoadTest, OpenRecordsStayHoweverOldAndClosedOnesGo) {
    const auto delivery = [&](DeliveryStatus status, Date promised, std::optional<LocalTime> delivered) {
        Delivery d;
        d.patient = agency.patient.id;
        d.status = status;
        d.promisedFor = promised;
        d.deliveredAt = delivered;
        d.lines = {{agency.catheter.id, agency.item.id, agency.lot.id, Eaches::of(1)}};
        return save(d);
    };
    const Date old = kToday.plusDays(-100);
    const Delivery open = delivery(DeliveryStatus::InTransit, old, {});
    delivery(DeliveryStatus::Delivered, old, LocalTime{old, {}});
    delivery(DeliveryStatus::Cancelled, old, {});
    const Delivery late = delivery(DeliveryStatus::Delivered, old, LocalTime{kToday.plusDays(-30), {}});
    EXPECT_EQ(load().deliveries, (std::vector<Delivery>{open, late}));

    const auto call = [&](const char *subject, CallItemStatus status) {
        CallItem c;
        c.patient = agency.patient.id;
        c.subject = subject;
        c.raisedAt = {old, {}};
        c.status = status;
        if (status == CallItemStatus::Closed) {
            c.closedAt = LocalTime{old, Minutes::of(5)};
            c.outcome = "told";
        }
        return save(c);
    };
    const CallItem standing = call("silence:1", CallItemStatus::Open);
    call("silence:2", CallItemStatus::Closed);
    EXPECT_EQ(load().callItems, std::vector<CallItem>{standing});
    EXPECT_EQ(load(200).callItems.size(), 2U);
}

TEST_F(LoadTest, StoppingIsAnsweredAndProgressRises) {
    std::stop_source stop;
    stop.request_stop();
    const auto stopped = file->load({kNow, Days::of(30)}, stop.get_token(), {});
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().code, ProblemCode::Cancelled);
    std::vector<double> shares;
    ASSERT_TRUE(file->load({kNow, Days::of(30)}, {}, [&](const Progress &p) { shares.push_back(p.share); }));
    EXPECT_TRUE(std::ranges::is_sorted(shares));
    EXPECT_EQ(shares.back(), 1.0);
}

TEST_F(LoadTest, AValueNoTypeCanHoldIsNamedNotGuessed) {
    Connection &connection = *file->inner().connection;
    ASSERT_TRUE(connection.run(QStringLiteral("PRAGMA ignore_check_constraints = 1")));
    ASSERT_TRUE(connection.run(QStringLiteral("UPDATE patient SET status = 'asleep'")));
    const auto loaded = file->load({kNow, Days::of(30)}, {}, {});
    ASSERT_FALSE(loaded);
    EXPECT_EQ(loaded.error().code, ProblemCode::FileCorrupt);
    EXPECT_EQ(loaded.error().field, "patient");
    EXPECT_EQ(loaded.error().args,
              (std::vector<std::string>{"status", std::to_string(agency.patient.id.value())}));
}

} // namespace
} // namespace kitround::store
