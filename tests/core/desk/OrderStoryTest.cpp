// One order change, five effects, all shown first; two catheters of one patient; days of the calendar.
#include "core/calendar/Deadlines.h"
#include "core/calendar/DrainCalendar.h"
#include "core/calendar/VisitWeeks.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/PatientView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/VisitsDue.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using test::asNeeded;
using test::everyDays;
using test::timesAWeek;

std::vector<Date> drainDays(const Story &story, CatheterId catheter, DateRange range) {
    const SnapshotIndex &index = story.index();
    std::vector<Date> days;
    for (const auto &drain : calendar::plannedDrains(index.ordersOf(catheter),
                                                     index.holdsOf(index.catheter(catheter)->patient), range))
        days.push_back(drain.on);
    return days;
}
std::vector<std::int64_t> weeklyPlain(const Story &story, CatheterId catheter) {
    const auto picture = must(computeStock(story.agency(), {}, {}));
    std::vector<std::int64_t> weeks;
    for (const auto &item : picture->homes)
        for (std::size_t w = 0; item.catheter == catheter && weeks.size() < item.plain.weeks(); ++w)
            weeks.push_back(item.plain.inWeek(w));
    return weeks;
}

TEST(OrderStory, AChangeShowsItsFiveEffectsFromItsDayBeforeAnythingIsSaved) {
    Story story;
    const auto home = story.addHome("A");
    story.order(home, everyDays(2, kMonday), Date::of(2026, 2, 2), story.kit500);
    story.visits(home, 2, 6, kMonday);
    story.count(home, story.kit500, 10, at(kMonday, 7));
    const std::size_t before = story.auditLength();

    const Date effective = kMonday.plusDays(2); // Wednesday
    const OrderChangePreview preview = must(
        story.desk().previewOrder(story.blankOrder(home, everyDays(1, effective), effective, story.kit500)));

    // Drains: every other day is 3.5 a week; daily is 7, on each of the 14 days from Wednesday.
    EXPECT_DOUBLE_EQ(preview.before.drainsPerWeek, 3.5);
    EXPECT_DOUBLE_EQ(preview.after.drainsPerWeek, 7);
    EXPECT_EQ(preview.before.drains.size(), 7U);
    ASSERT_EQ(preview.after.drains.size(), 14U);
    EXPECT_EQ(preview.after.drains.front(), effective);
    // Supply: 10 kits every other day from 2 March cover 2, 4, ... 20 March, and the last lasts to the 21st.
    // With daily drains from the 4th, 9 are left after the 2nd: they cover 4 .. 12 March.
    ASSERT_TRUE(preview.before.supplyEnds && preview.after.supplyEnds);
    EXPECT_EQ(*preview.before.supplyEnds, Date::of(2026, 3, 21));
    EXPECT_EQ(*preview.after.supplyEnds, Date::of(2026, 3, 12));
    ASSERT_TRUE(preview.before.runOutP50 && preview.after.runOutP50);
    EXPECT_LT(*preview.after.runOutP50, *preview.before.runOutP50);
    ASSERT_TRUE(preview.after.refillBy);
    EXPECT_TRUE(!preview.before.refillBy || *preview.after.refillBy < *preview.before.refillBy);
    // Visits and load of the week after: the visit order is its own, so the change leaves them as they are.
    EXPECT_GE(preview.before.visitsDueNextWeek, 2);
    EXPECT_EQ(preview.after.visitsDueNextWeek, preview.before.visitsDueNextWeek);
    EXPECT_DOUBLE_EQ(preview.after.pointsNextWeek, preview.before.pointsNextWeek);
    EXPECT_GE(preview.after.pointsNextWeek, 2);

    ASSERT_TRUE(preview.endsOrder);
    EXPECT_EQ(preview.endsOrder->end, effective);
    EXPECT_EQ(story.auditLength(), before) << "a preview writes nothing";
    EXPECT_EQ(story.snapshot().drainOrders.size(), 1U);
}

TEST(OrderStory, AnAcceptedChangeHoldsFromItsDayEverywhereAndTheOldVersionStaysOnRecord) {
    Story story;
    const auto home = story.addHome("A");
    const DrainOrder old = story.order(home, everyDays(2, kMonday), Date::of(2026, 2, 2), story.kit500);
    story.count(home, story.kit500, 10, at(kMonday, 7));
    const auto forecastBefore = weeklyPlain(story, home.catheter);
    const Date effective = kMonday.plusDays(2);
    const DrainOrder changed = story.order(home, everyDays(1, effective), effective, story.kit500);

    EXPECT_EQ(changed.replaces, old.id);
    ASSERT_EQ(story.snapshot().drainOrders.size(), 2U);
    EXPECT_EQ(story.index().orderInForce(home.catheter, effective.plusDays(-1))->id, old.id);
    EXPECT_EQ(story.index().orderInForce(home.catheter, effective)->id, changed.id);
    // 2 March under the old version, then every day from the 4th: 2, 4, 5, 6, 7, 8.
    EXPECT_EQ(drainDays(story, home.catheter, {kMonday, kMonday.plusDays(7)}).size(), 6U);
    const auto forecastAfter = weeklyPlain(story, home.catheter);
    ASSERT_FALSE(forecastBefore.empty());
    EXPECT_GT(forecastAfter.front(), forecastBefore.front());
}

TEST(OrderStory, AnotherSeatsChangeBetweenLookingAndAcceptingIsNotOvertaken) {
    Story story;
    const auto home = story.addHome("A");
    story.order(home, everyDays(2, kMonday), Date::of(2026, 2, 2), story.kit500);
    const auto preview =
        must(story.desk().previewOrder(story.blankOrder(home, everyDays(1, kMonday), kMonday, story.kit500)));
    story.order(home, everyDays(3, kMonday), kMonday, story.kit500);
    EXPECT_EQ(refused(story.desk().acceptOrder(preview)).code, ProblemCode::ChangedMeanwhile);
    EXPECT_EQ(story.snapshot().drainOrders.size(), 2U);
}

TEST(OrderStory, ALaterVersionThatExistsIsNeverOvertakenUnseen) {
    Story story;
    const auto home = story.addHome("A");
    story.order(home, everyDays(2, kMonday), Date::of(2026, 2, 2), story.kit500);
    story.order(home, everyDays(1, kMonday), kMonday.plusDays(10), story.kit500);
    const Problem problem = refused(story.desk().previewOrder(
        story.blankOrder(home, everyDays(3, kMonday), kMonday.plusDays(2), story.kit500)));
    EXPECT_EQ(problem.code, ProblemCode::Conflict);
    EXPECT_EQ(problem.field, "start");
    EXPECT_EQ(problem.args, (std::vector<std::string>{"later_order", "2026-03-12"}));
}

TEST(OrderStory, ATreatmentIsNotEditedInPlaceButASignatureIsAdded) {
    Story story;
    const auto home = story.addHome("A");
    DrainOrder verbal = story.blankOrder(home, everyDays(2, kMonday), kMonday, story.kit500);
    verbal.isVerbal = true;
    verbal.signedOn.reset();
    const auto preview = must(story.desk().previewOrder(verbal));
    EXPECT_TRUE(
        std::ranges::any_of(preview.warnings, [](const Problem &p) { return p.field == "signed_on"; }));
    DrainOrder stored = must(story.desk().acceptOrder(preview));
    stored.signedOn = story.agency()->today().plusDays(1);
    EXPECT_EQ(refused(story.desk().previewOrder(stored)).field, "signed_on") << "nobody signs tomorrow";
    stored.signedOn = kMonday;
    stored = must(story.desk().acceptOrder(must(story.desk().previewOrder(stored))));
    EXPECT_EQ(story.snapshot().drainOrders.size(), 1U);
    stored.pattern = everyDays(1, kMonday);
    EXPECT_EQ(firstArg(refused(story.desk().previewOrder(stored))), "needs_new_version");
}

TEST(OrderStory, WhatAnOrderLeavesUnknownIsWarnedOfAndNotFilledIn) {
    Story story;
    const auto home = story.addHome("A");
    DrainOrder order = story.blankOrder(home, asNeeded(std::nullopt), kMonday, story.kit500);
    order.mostPerSession.reset();
    order.prescriber.clear();
    order.signedOn.reset();
    const auto preview = must(story.desk().previewOrder(order));
    std::vector<std::string> fields;
    for (const Problem &warning : preview.warnings) {
        fields.push_back(warning.field);
        EXPECT_FALSE(words(warning).contains(QStringLiteral("Fill it in"))) << words(warning).toStdString();
        EXPECT_TRUE(words(warning).contains(QStringLiteral("leave it empty until then")))
            << words(warning).toStdString();
    }
    EXPECT_EQ(fields,
              (std::vector<std::string>{"most_per_session_ml", "most_per_day", "prescriber", "signed_on"}));
    const DrainOrder stored = must(story.desk().acceptOrder(preview));
    EXPECT_FALSE(stored.mostPerSession);
    EXPECT_FALSE(stored.pattern.mostPerDay);
    EXPECT_DOUBLE_EQ(preview.after.drainsPerWeek, 0) << "no maximum is known, so none is planned";
}

TEST(OrderStory, AVolumeAboveTheCommonLimitIsToldAndStaysAsPrescribed) {
    Story story;
    const auto home = story.addHome("A");
    DrainOrder order = story.blankOrder(home, everyDays(1, kMonday), kMonday, story.kit500);
    order.mostPerSession = Millilitres::of(5000);
    const auto preview = must(story.desk().previewOrder(order));
    const auto warning =
        std::ranges::find(preview.warnings, std::string("most_per_session_ml"), &Problem::field);
    ASSERT_NE(warning, preview.warnings.end());
    const QString said = words(*warning);
    EXPECT_TRUE(
        said.contains(QStringLiteral("5,000 mL is above the common limit of 1,000 mL a session for the "
                                     "chest (common practice)")))
        << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral("call the prescriber"))) << said.toStdString();
    EXPECT_FALSE(said.contains(QStringLiteral("or less"))) << "nobody is told to lower it";
    const DrainOrder stored = must(story.desk().acceptOrder(preview));
    EXPECT_EQ(stored.mostPerSession, Millilitres::of(5000));
    EXPECT_TRUE(mostPerSessionText(stored, *story.index().catheter(home.catheter))
                    .contains(QStringLiteral("5,000 mL in one session, above the common limit of 1,000 mL")));
}

TEST(OrderStory, AMaximumAboveTheCommonOneStaysUnderTodayUntilThePrescriberHasAnswered) {
    Story story;
    const auto home = story.addHome("A");
    DrainOrder order = story.blankOrder(home, everyDays(1, kMonday), kMonday, story.kit500);
    order.mostPerSession = Millilitres::of(1500);
    const DrainOrder stored = must(story.desk().acceptOrder(must(story.desk().previewOrder(order))));
    const auto lines = [&] {
        std::vector<AttentionItem> found = attention(*story.agency(), nullptr, nullptr);
        std::erase_if(found,
                      [](const AttentionItem &i) { return i.kind != AttentionKind::MaximumToConfirm; });
        return found;
    };
    ASSERT_EQ(lines().size(), 1U);
    EXPECT_EQ(lines()[0].order, stored.id);
    OrderAnswer answer;
    answer.order = stored.id;
    answer.at = at(kMonday, 7, 55);
    answer.answeredBy = "the prescriber's office";
    answer.words = "1,500 mL is meant";
    must(story.desk().recordOrderAnswer(answer));
    EXPECT_TRUE(lines().empty());
    EXPECT_EQ(story.snapshot().drainOrders.front().mostPerSession, Millilitres::of(1500)) << "as prescribed";
}

TEST(OrderStory, TwoCathetersOfOnePatientHaveEachItsOrderLogStockAndForecast) {
    Story story;
    const auto right = story.addHome("A");
    const auto left = story.addCatheter(right, CavitySite::Chest, Side::Left);
    story.order(right, everyDays(1, kMonday), kMonday, story.kit500);
    story.order(left, everyDays(3, kMonday), kMonday, story.kit1000);
    story.count(right, story.kit500, 10, at(kMonday, 7));
    story.count(left, story.kit1000, 4, at(kMonday, 7));
    story.drain(right, at(kMonday, 7, 30), 300, story.kit500);
    // The same minute on the other side is another drain, not a duplicate.
    story.drain(left, at(kMonday, 7, 30), 700, story.kit1000);

    EXPECT_EQ(story.balance(Place::home(right.catheter), story.kit500), Eaches::of(9));
    EXPECT_EQ(story.balance(Place::home(left.catheter), story.kit1000), Eaches::of(3));
    EXPECT_EQ(story.balance(Place::home(left.catheter), story.kit500), Eaches{});
    EXPECT_EQ(story.index().entriesOf(right.catheter).size(), 1U);
    EXPECT_EQ(story.index().entriesOf(left.catheter).size(), 1U);
    const auto picture = must(computeStock(story.agency(), {}, {}));
    const auto of = [&](CatheterId catheter) {
        const auto found = std::ranges::find(picture->homes, catheter, &forecast::ItemForecast::catheter);
        EXPECT_NE(found, picture->homes.end());
        return *found;
    };
    EXPECT_EQ(of(right.catheter).item, story.kit500);
    EXPECT_EQ(of(left.catheter).item, story.kit1000);
    EXPECT_GT(of(right.catheter).plain.inWeek(0), of(left.catheter).plain.inWeek(0));

    // A change on one side leaves the other alone.
    story.order(right, everyDays(2, kMonday.plusDays(1)), kMonday.plusDays(1), story.kit500);
    EXPECT_EQ(drainDays(story, left.catheter, {kMonday, kMonday.plusDays(7)}).size(), 3U); // 2, 5, 8 March
    // One visit order serves both: the week owes one visit of it, not one a catheter.
    story.visits(right, 1, 4, kMonday.plusDays(6));
    int owed = 0;
    for (const auto &due : rounds::visitsDue(story.index(), {kMonday.plusDays(6), kMonday.plusDays(13)}))
        owed += due.cause == rounds::DueCause::VisitOrder ? 1 : 0;
    EXPECT_EQ(owed, 1);
}

TEST(OrderStory, EveryOtherDayIsAnchoredToADateThroughMonthEndsAndHolds) {
    Story story;
    const auto home = story.addHome("A");
    story.order(home, everyDays(2, Date::of(2026, 2, 2)), Date::of(2026, 2, 2), story.kit500);
    // 2, 4, ... 28 February, then 2 March: 28 days are 14 steps of two.
    EXPECT_EQ(drainDays(story, home.catheter, {Date::of(2026, 2, 27), Date::of(2026, 3, 5)}),
              (std::vector<Date>{Date::of(2026, 2, 28), Date::of(2026, 3, 2), Date::of(2026, 3, 4)}));
    Hold away;
    away.patient = home.patient;
    away.from = Date::of(2026, 3, 3);
    away.to = Date::of(2026, 3, 6); // three days
    must(story.desk().save(away));
    EXPECT_EQ(drainDays(story, home.catheter, {Date::of(2026, 3, 2), Date::of(2026, 3, 9)}),
              (std::vector<Date>{Date::of(2026, 3, 2), Date::of(2026, 3, 6), Date::of(2026, 3, 8)}));
}

TEST(OrderStory, VisitWeeksStartOnSundayUnlessTheAgencySetsMonday) {
    Story story;
    const auto home = story.addHome("A");
    const VisitOrder order = story.visits(home, 2, 1, Date::of(2026, 3, 8)); // a Sunday
    // In Sunday weeks the order's one week is 8 to 14 March; in Monday weeks it is over with the 8th.
    const DateRange range{Date::of(2026, 3, 1), Date::of(2026, 3, 22)};
    const auto sunday = calendar::weeksOwed(order, range, Weekday::Sunday);
    const auto monday = calendar::weeksOwed(order, range, Weekday::Monday);
    ASSERT_EQ(sunday.size(), 1U);
    EXPECT_EQ(sunday.front().days, (DateRange{Date::of(2026, 3, 8), Date::of(2026, 3, 15)}));
    ASSERT_EQ(monday.size(), 1U);
    EXPECT_EQ(monday.front().days, (DateRange{Date::of(2026, 3, 8), Date::of(2026, 3, 9)}));

    AgencySettings settings = story.desk().agency()->settings();
    settings.weekStart = Weekday::Monday;
    must(story.desk().save(settings));
    EXPECT_EQ(refused(story.desk().acceptPlan(Date::of(2026, 3, 8), {}, 1, 0, false)).field, "week_start");
    EXPECT_TRUE(story.desk().acceptPlan(Date::of(2026, 3, 9), {}, 1, 0, false));
}

TEST(OrderStory, FortyEightHoursAreClockHoursAcrossTheSpringChangeAndSixtyDaysAreCalendarDays) {
    Story story;
    const auto home = story.addHome("A");
    Patient patient = *story.index().patient(home.patient);
    patient.referredAt =
        story.utc(at(Date::of(2026, 3, 7), 16, 10)); // Saturday; the clocks go forward on Sunday
    patient.homeFrom.reset();
    const auto due = calendar::firstVisitDue(patient, story.desk().agency()->settings());
    ASSERT_TRUE(due);
    // 48 hours later the wall clock reads an hour more, because Sunday had 23.
    EXPECT_EQ(*due, story.utc(at(Date::of(2026, 3, 9), 17, 10)));
    EXPECT_EQ(due->unixSeconds() - patient.referredAt->unixSeconds(), 48 * 3600);
    // Start of care Thursday 1 January 2026: day 56 to 60 is 25 February to 1 March (worked check K10 of the
    // trade's list; 42 CFR 484.55(d) from memory), weekends and the month end counted.
    const auto period = calendar::certificationPeriod(Date::of(2026, 1, 1), Date::of(2026, 2, 1),
                                                      story.desk().agency()->settings());
    EXPECT_EQ(period.recertWindow, (DateRange{Date::of(2026, 2, 25), Date::of(2026, 3, 2)}));
}

} // namespace
} // namespace kitround::desk
