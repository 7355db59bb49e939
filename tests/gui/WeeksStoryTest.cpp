// The coordinator plans two weeks at once.
#include "tests/gui/WindowFixture.h"
#include "ui/calendar/WeekGrid.h"
#include "ui/shared/Ask.h"

#include <QComboBox>
#include <QLabel>
#include <QPushButton>

#include <algorithm>

namespace kitround::ui {
namespace {

class WeeksStory : public WindowTest {
protected:
    static std::size_t cards(const WeekGrid &grid) {
        std::size_t sum = 0;
        for (const desk::BoardRow &row : grid.board().rows)
            for (const desk::BoardDay &day : row.days)
                sum += day.cards.size();
        return sum;
    }
};

TEST_F(WeeksStory, TwoWeeksArePlannedTogetherLookedThroughAndPublishedInOneStep) {
    openSample();
    window_->showPage(QStringLiteral("calendar"));
    auto &weeks = find<QComboBox>("weeksTogether");
    weeks.setFocus();
    QTest::keyClick(&weeks, Qt::Key_Down);
    auto &status = find<QLabel>("planStatus");
    ASSERT_TRUE(waitFor([&] { return status.text().contains(QStringLiteral("in 2 weeks")); }))
        << status.text().toStdString();
    planWeek();
    ASSERT_TRUE(status.text().contains(QStringLiteral("all placed"))) << status.text().toStdString();

    auto &grid = *window_->findChild<WeekGrid *>();
    const Date first = session().nextWeek()->week.from;
    const std::size_t inFirst = cards(grid);
    EXPECT_EQ(grid.board().rows.front().days.front().on, first);
    EXPECT_GT(inFirst, 80U);
    QTest::keyClick(window_.get(), Qt::Key_PageDown, Qt::ControlModifier);
    EXPECT_EQ(grid.board().rows.front().days.front().on, first.plusDays(7)) << "the same draft, a week on";
    EXPECT_EQ(grid.board().rows.front().days.size(), 7U);
    EXPECT_TRUE(status.text().contains(QStringLiteral("not saved")));
    const std::size_t inSecond = cards(grid);
    EXPECT_GT(inSecond, 70U);

    Ask::nextAnswer(true); // publishing is asked once
    find<QPushButton>("planPublish").click();
    waitComputed();
    for (const Date from : {first, first.plusDays(7)}) {
        const auto versions = session().desk().planVersions(from);
        ASSERT_TRUE(versions);
        ASSERT_EQ(versions->size(), 1U);
        EXPECT_EQ(versions->front().status, PlanStatus::Published);
    }
    const DateRange both{first, first.plusDays(14)};
    const auto published = std::ranges::count_if(session().agency()->snapshot().visits, [&](const Visit &v) {
        return v.status == VisitStatus::Published && v.on && both.contains(*v.on);
    });
    EXPECT_GE(published, static_cast<std::ptrdiff_t>(inFirst + inSecond) - 4)
        << "two-nurse visits have two cards";

    // Back to one week: it stands as it was published.
    weeks.setFocus();
    QTest::keyClick(&weeks, Qt::Key_Up);
    ASSERT_TRUE(waitFor([&] { return !status.text().contains(QStringLiteral("in 2 weeks")); }));
    EXPECT_EQ(cards(grid), grid.board().rows.front().days.front().on == first ? inFirst : inSecond);
}

} // namespace
} // namespace kitround::ui
