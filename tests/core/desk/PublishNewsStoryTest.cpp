// Before a changed week is published again, it is said whom that touches: the very homes and nurses that wait
// to be phoned and told afterwards.
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/PublishNews.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/PublishedWeek.h"

namespace kitround::desk {
namespace {

QStringList homesWaiting(const Agency &agency) {
    QStringList names;
    for (const PatientCall &call : patientCalls(agency))
        names << call.who;
    return names;
}

QStringList nursesWaiting(const Agency &agency) {
    QStringList names;
    for (const RoundNews &news : roundNews(agency))
        if (const QString name = personName(*agency.index().nurse(news.toTell.nurse)); !names.contains(name))
            names << name;
    return names;
}

TEST(PublishNewsStory, AFirstVersionTouchesNobodyApart) {
    Story s;
    s.visits(s.addHome("A"), 2, 4, PublishedWeek::kFrom);
    const auto planned = PublishedWeek::planned(*must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr)));
    ASSERT_FALSE(placedJobs(*planned).empty());
    const PublishNews news = must(publishNews(*planned));
    EXPECT_FALSE(news.isAgain);
    EXPECT_TRUE(news.patients.isEmpty() && news.nurses.isEmpty());
    EXPECT_TRUE(publishNewsLines(news).isEmpty()) << "everybody is told by the week itself";
}

TEST(PublishNewsStory, WhatIsForetoldIsWhoWaitsAfterwards) {
    PublishedWeek p;
    const auto moved = p.moved(p.someVisit());
    const PublishNews news = must(publishNews(*moved));
    EXPECT_TRUE(news.isAgain);
    ASSERT_FALSE(news.patients.isEmpty());
    EXPECT_EQ(news.nurses.size(), 2) << "who lost it and who got it";
    EXPECT_TRUE(homesWaiting(*p.s.agency()).isEmpty()) << "nothing is stored by asking";

    const auto draft = p.store(*moved, false);
    EXPECT_TRUE(must(publishNews(*draft)).patients == news.patients) << "saved as a draft in between";
    const auto published = p.store(*draft, true);
    EXPECT_TRUE(news.patients == homesWaiting(*p.s.agency())) << news.patients.join(u'|').toStdString();
    EXPECT_TRUE(news.nurses == nursesWaiting(*p.s.agency())) << news.nurses.join(u'|').toStdString();

    const PublishNews again = must(publishNews(*published));
    EXPECT_TRUE(again.patients.isEmpty() && again.nurses.isEmpty()) << "they wait for that already";
    EXPECT_EQ(publishNewsLines(again).join(u'|'),
              QStringLiteral("No patient has to be phoned and no nurse told because of it."));
}

// The half hour is the homes'; who drives by the sheet has to know of every minute.
TEST(PublishNewsStory, AShiftOfMinutesIsToldToTheNurseAndToNoHome) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const QString nurse = nurseNameIn(*p.week, nurseOfDuty(*p.week, first.duty));
    rounds::WeekPlan plan = p.week->plan;
    plan.placements[static_cast<std::size_t>(first.job)].start += 10;
    const auto shifted = withPlan(*p.week, plan);
    const PublishNews news = must(publishNews(*shifted));
    EXPECT_TRUE(news.patients.isEmpty()) << news.patients.join(u'|').toStdString();
    EXPECT_EQ(news.nurses, QStringList(nurse));
    p.store(*shifted, true);
    EXPECT_TRUE(homesWaiting(*p.s.agency()).isEmpty());
    ASSERT_EQ(nursesWaiting(*p.s.agency()), QStringList(nurse));
    const RoundNews round = roundNews(*p.s.agency()).front();
    ASSERT_EQ(round.changes.size(), 1);
    EXPECT_TRUE(round.changes.front().contains(QStringLiteral("starts at")))
        << round.changes[0].toStdString();
    PlanTold told = round.toTell;
    told.by = "Coordinator";
    must(p.s.desk().tellPlan(told));
    EXPECT_TRUE(roundNews(*p.s.agency()).empty()) << "she knows it to the minute";
}

TEST(PublishNewsStory, AVisitThatIsTakenOutIsNewsToo) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto out = offerRemoval(*p.week, first.job);
    ASSERT_TRUE(out.isAllowed());
    const PublishNews news = must(publishNews(*out.after));
    const PatientId patient = p.week->due[static_cast<std::size_t>(first.job)].visit.patient;
    EXPECT_TRUE(news.patients.contains(personName(*p.s.index().patient(patient))));
    EXPECT_TRUE(news.nurses.contains(nurseNameIn(*p.week, nurseOfDuty(*p.week, first.duty))));
}

TEST(PublishNewsStory, TheyAreNamedAndManyAreCounted) {
    PublishNews news;
    news.isAgain = true;
    news.patients << QStringLiteral("Alder, Rosa");
    for (const char *name : {"Ash", "Bell", "Cole", "Dale", "Elm", "Fern", "Gorse", "Hale"})
        news.nurses << QString::fromLatin1(name);
    const QStringList lines = publishNewsLines(news);
    ASSERT_EQ(lines.size(), 2);
    EXPECT_EQ(lines[0], QStringLiteral("1 patient to phone: Alder, Rosa."));
    EXPECT_EQ(lines[1], QStringLiteral("8 nurses to tell: Ash; Bell; Cole; Dale; Elm; Fern; 2 more."));
}

} // namespace
} // namespace kitround::desk
