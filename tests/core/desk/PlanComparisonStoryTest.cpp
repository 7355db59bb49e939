// The coordinator lays two plans of the week side by side.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/PlanComparison.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr DateRange kThatWeek{PublishedWeek::kFrom, PublishedWeek::kFrom.plusDays(7)};

std::int64_t differenceOf(const PlanComparison &comparison, const char *name) {
    const auto found = std::ranges::find(comparison.figures, QString::fromLatin1(name), &PlanFigure::name);
    EXPECT_NE(found, comparison.figures.end()) << name;
    return found == comparison.figures.end() ? 0 : found->second - found->first;
}

TEST(PlanComparisonStory, WhatIsOnRecordAsItStandsDiffersInNothing) {
    PublishedWeek p;
    const LaidPlan hand = planInHand(p.week, kThatWeek, true);
    const auto versions = must(p.s.desk().planVersions(kThatWeek.from));
    ASSERT_EQ(versions.size(), 1U);
    const PlanComparison same = comparePlans(laidOver(hand, versions[0], std::nullopt), hand);
    EXPECT_TRUE(same.visits.empty());
    EXPECT_TRUE(same.summary.startsWith(QStringLiteral("Every visit stands at the same place")));
    for (const PlanFigure &figure : same.figures)
        EXPECT_EQ(figure.first, figure.second) << figure.name.toStdString();
    EXPECT_TRUE(same.first.startsWith(QStringLiteral("Version 1, published Mon 2 Mar 08:00")))
        << same.first.toStdString();
}

TEST(PlanComparisonStory, EachVersionIsHeldAgainstEveryOtherAndAgainstThePlanInHand) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const VisitId id = p.week->due[static_cast<std::size_t>(first.job)].visit.id;
    const VisitPlace before = plannedPlace(p.s.visit(id));
    const auto second = p.store(*p.moved(first), true);
    const VisitPlace after = plannedPlace(p.s.visit(id));
    const auto out = offerRemoval(*second, p.jobOf(*second, first));
    ASSERT_TRUE(out.isAllowed());
    const LaidPlan hand = planInHand(out.after, kThatWeek, false);
    const auto versions = must(p.s.desk().planVersions(kThatWeek.from));
    ASSERT_EQ(versions.size(), 2U);
    const LaidPlan one = laidOver(hand, versions[0], std::nullopt);
    const LaidPlan two = laidOver(hand, versions[1], std::nullopt);
    EXPECT_TRUE(one.name.endsWith(QStringLiteral("replaced since"))) << one.name.toStdString();
    const auto hers = [&](const PlanComparison &comparison) {
        const auto found = std::ranges::find(comparison.visits, p.jobOf(*second, first), &PlanChange::job);
        return found == comparison.visits.end() ? PlanChange{} : *found;
    };
    const PlanComparison published = comparePlans(one, two);
    EXPECT_EQ(hers(published).was, placeText(*second, before));
    EXPECT_EQ(hers(published).now, placeText(*second, after));
    EXPECT_EQ(differenceOf(published, "Visits placed"), 0);
    const PlanComparison inHand = comparePlans(two, hand);
    EXPECT_TRUE(hers(inHand).isUnplaced);
    EXPECT_EQ(hers(inHand).was, placeText(*second, after));
    EXPECT_EQ(differenceOf(inHand, "Visits not placed"), 1);
    EXPECT_GT(differenceOf(inHand, "Weighted minutes: visits not placed"), 0);
    EXPECT_EQ(hers(comparePlans(hand, two)).was, placeText(*second, {})) << "either way round";
    EXPECT_EQ(comparisonTable(inHand, *p.s.agency()).rows.size(), inHand.visits.size());
    const Paper paper = comparisonPaper(inHand, *second);
    EXPECT_EQ(paper.title, QStringLiteral("Two plans of the week of Sun 8 Mar")) << "the file's name, too";
    ASSERT_EQ(paper.sections.size(), 3U);
    ASSERT_TRUE(paper.sections.back().table);
    const Table &figures = *paper.sections.back().table;
    EXPECT_EQ(figures.columns.back().name, "Difference");
    const auto open = std::ranges::find(figures.rows, std::string("Visits not placed"),
                                        [](const std::vector<std::string> &row) { return row.front(); });
    ASSERT_NE(open, figures.rows.end());
    EXPECT_EQ(open->back(), "+1");
}

TEST(PlanComparisonStory, AVisitThatIsNotDueAnyMoreIsListedAndLeftOutOfTheFigures) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const Visit visit = p.s.visit(p.week->due[static_cast<std::size_t>(first.job)].visit.id);
    must(p.s.desk().dropVisit(visit, "prescriber: one fewer"));
    const LaidPlan hand = planInHand(p.open(), kThatWeek, true);
    const auto versions = must(p.s.desk().planVersions(kThatWeek.from));
    const LaidPlan laid = laidOver(hand, versions.front(), std::nullopt);
    EXPECT_EQ(laid.unfit, 0);
    EXPECT_EQ(laid.notDue.size(), 1U);
    const PlanComparison comparison = comparePlans(laid, hand);
    ASSERT_EQ(comparison.visits.size(), 1U);
    EXPECT_TRUE(comparison.visits[0].isGone);
    EXPECT_EQ(comparison.visits[0].patient, visit.patient);
    EXPECT_EQ(comparison.visits[0].note, QStringLiteral("called off"));
    EXPECT_EQ(differenceOf(comparison, "Visits placed"), 0);
    EXPECT_TRUE(
        comparison.summary.contains(QStringLiteral("1 visit of these plans is made or not due any more")));
}

TEST(PlanComparisonStory, ARoundThatIsNoMoreIsSaidAndItsVisitsKeepTheirPlaceInTheList) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    TimeOff off;
    off.nurse = nurse;
    off.kind = TimeOffKind::Sick;
    off.from = day;
    off.to = day.plusDays(1);
    must(p.s.desk().save(off));
    const LaidPlan hand = planInHand(p.open(), kThatWeek, true);
    const auto versions = must(p.s.desk().planVersions(kThatWeek.from));
    const LaidPlan laid = laidOver(hand, versions.front(), std::nullopt);
    EXPECT_GE(laid.unfit, 1);
    const PlanComparison comparison = comparePlans(laid, hand);
    EXPECT_TRUE(comparison.summary.contains(QStringLiteral("on rounds that are no more")));
    const auto isOfThatRound = [&](const PlanChange &change) {
        return change.was.contains(nurseNameIn(*p.week, nurse)) && change.isUnplaced;
    };
    EXPECT_EQ(std::ranges::count_if(comparison.visits, isOfThatRound), laid.unfit);
}

TEST(PlanComparisonStory, AMadeVisitStandsWhereItIsOnRecord) {
    PublishedWeek p;
    const auto versions = must(p.s.desk().planVersions(kThatWeek.from));
    p.s.now(at(kThatWeek.to.plusDays(-1), 9)); // Saturday: every planned day is over
    const LaidPlan hand = planInHand(p.open(), kThatWeek, true);
    const PlanComparison comparison = comparePlans(laidOver(hand, versions.front(), std::nullopt), hand);
    EXPECT_TRUE(comparison.visits.empty()) << comparison.summary.toStdString();
}

TEST(PlanComparisonStory, InAPlanOfTwoWeeksTheOtherWeekStaysAsItIs) {
    PublishedWeek p;
    const auto two = must(openWeek(p.s.agency(), kThatWeek.from, nullptr, 2));
    const LaidPlan hand = planInHand(p.planned(*two), kThatWeek, false);
    const LaidPlan laid = laidOver(hand, must(p.s.desk().planVersions(kThatWeek.from)).front(), std::nullopt);
    int beyond = 0;
    for (std::size_t j = 0; j < hand.places.size(); ++j) {
        if (!hand.places[j].isSet() || kThatWeek.contains(*hand.places[j].on))
            continue;
        ++beyond;
        EXPECT_EQ(laid.places[j], hand.places[j]);
    }
    EXPECT_GE(beyond, 8);
    EXPECT_EQ(std::ssize(placedJobs(*laid.week)), std::ranges::count_if(laid.places, &VisitPlace::isSet));
}

TEST(PlanComparisonStory, AVersionIsNamedByItsStateAndMoment) {
    PublishedWeek p;
    Plan draft;
    draft.version = 3;
    EXPECT_EQ(versionName(*p.s.agency(), draft, std::nullopt), QStringLiteral("Version 3, draft"));
    EXPECT_EQ(versionName(*p.s.agency(), draft, p.s.utc(at(kMonday, 14, 10))),
              QStringLiteral("Version 3, draft, Mon 2 Mar 14:10"));
}

} // namespace
} // namespace kitround::desk
