// What a mended plan asks of who gets the visits is told before it is taken.
#include "core/desk/views/RepairLoad.h"
#include "tests/core/desk/PublishedWeek.h"

namespace kitround::desk {
namespace {

TEST(RepairLoadStory, WhoGetsAVisitIsNamedWithTheShareBeforeAndAfter) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId was = nurseOfDuty(*p.week, first.duty);
    const auto takers = loadsOfTakers(*p.week, *p.moved(first));
    ASSERT_EQ(takers.size(), 1U) << "who gives one away is not told";
    EXPECT_NE(takers.front().nurse, was);
    EXPECT_FALSE(takers.front().isOverFull);
    EXPECT_TRUE(takers.front().text.contains(QStringLiteral(" gets 1 visit: ")))
        << takers.front().text.toStdString();
    EXPECT_TRUE(takers.front().text.contains(QStringLiteral(" (before: ")));
    EXPECT_TRUE(loadsOfTakers(*p.week, *p.week).empty());
}

TEST(RepairLoadStory, WhoIsOverFullByItIsMarked) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId taker = nurseOfDuty(*p.week, first.duty) == p.s.nurse ? p.s.otherNurse : p.s.nurse;
    const auto &nurses = p.s.snapshot().nurses;
    Nurse shortWeek = *std::ranges::find(nurses, taker, &Nurse::id);
    shortWeek.contractPerWeek = Minutes::of(60);
    must(p.s.desk().save(shortWeek));
    p.week = p.open();
    const auto takers = loadsOfTakers(*p.week, *p.moved(first));
    ASSERT_EQ(takers.size(), 1U);
    EXPECT_TRUE(takers.front().isOverFull) << takers.front().text.toStdString();
    EXPECT_TRUE(takers.front().text.contains(QStringLiteral("over full")));
    EXPECT_TRUE(takers.front().text.contains(QStringLiteral("min overtime")))
        << takers.front().text.toStdString();
}

} // namespace
} // namespace kitround::desk
