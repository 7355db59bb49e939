// The coordinator looks at one day on its time line and mends it there.
#include "core/desk/words/Words.h"
#include "tests/gui/WindowFixture.h"
#include "ui/calendar/DayLines.h"
#include "ui/calendar/RoundsMap.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Page.h"

#include <QAction>
#include <QHelpEvent>
#include <QLabel>
#include <QPushButton>
#include <QToolButton>
#include <QToolTip>
#include <QUndoStack>

#include <algorithm>

namespace kitround::ui {
namespace {

class DayStory : public WindowTest {
protected:
    void SetUp() override {
        WindowTest::SetUp();
        openSample();
        planWeek();
        QTest::keyClick(window_.get(), Qt::Key_D, Qt::ControlModifier);
        ASSERT_TRUE(lines().isVisible());
    }
    DayLines &lines() { return find<DayLines>("dayLines"); }
    QUndoStack &undo() { return *window_->findChild<Page *>(QStringLiteral("calendarPage"))->undoStack(); }
    // A click there chooses this visit.
    std::optional<QPoint> pointOf(std::int32_t job) {
        QWidget *view = lines().viewport();
        for (int y = 36; y < view->height(); y += 8)
            for (int x = 180; x < view->width(); x += 12) {
                QTest::mouseClick(view, Qt::LeftButton, {}, QPoint(x, y));
                if (lines().currentJob() == job)
                    return QPoint(x, y);
            }
        return std::nullopt;
    }
    const desk::DayStop *stopOf(std::int32_t job) {
        for (const desk::DayRound &round : lines().board().rounds)
            for (const desk::DayStop &stop : round.stops)
                if (stop.card.job == job)
                    return &stop;
        return nullptr;
    }
};

TEST_F(DayStory, ThePlannedDayShowsEveryRoundInOrderWithoutOverlap) {
    const desk::DayBoard &board = lines().board();
    ASSERT_FALSE(board.rounds.empty());
    std::size_t visits = 0;
    for (const desk::DayRound &round : board.rounds) {
        Minutes free = round.from;
        for (const desk::DayStop &stop : round.stops) {
            ++visits;
            EXPECT_GE(stop.card.start - stop.card.travelBefore, free) << round.name.toStdString();
            if (round.breakTime) {
                EXPECT_TRUE(stop.card.end <= round.breakTime->from || stop.card.start >= round.breakTime->to)
                    << round.name.toStdString() << " has no break";
            }
            free = stop.card.end;
        }
        EXPECT_LE(round.back, round.to) << round.name.toStdString();
    }
    EXPECT_GT(visits, 10U);
}

TEST_F(DayStory, AQuarterOfAnHourByKeyMovesTheVisitAndUndoPutsItBack) {
    const int before = undo().index();
    bool hasMoved = false;
    const desk::DayBoard board = lines().board(); // as it is now
    for (const desk::DayRound &round : board.rounds) {
        if (round.stops.empty() || hasMoved)
            continue;
        const desk::VisitCard card = round.stops.back().card; // nothing stands behind it
        lines().setCurrentJob(card.job);
        QTest::keyClick(&lines(), Qt::Key_Right, Qt::AltModifier);
        if (undo().index() == before)
            continue; // refused: outside its hours or the shift
        hasMoved = true;
        ASSERT_NE(stopOf(card.job), nullptr);
        EXPECT_EQ(stopOf(card.job)->card.start, card.start + Minutes::of(15));
        EXPECT_EQ(lines().currentJob(), card.job) << "it stays in the hand";
        QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier);
        EXPECT_EQ(stopOf(card.job)->card.start, card.start);
    }
    EXPECT_TRUE(hasMoved) << "no last visit of a round could be a quarter of an hour later";
}

TEST_F(DayStory, AVisitIsDraggedAlongTheLine) {
    const int before = undo().index();
    const desk::DayBoard board = lines().board();
    for (const desk::DayRound &round : board.rounds) {
        if (round.stops.empty())
            continue;
        const desk::VisitCard card = round.stops.back().card;
        const auto from = pointOf(card.job);
        if (!from)
            continue; // scrolled out of sight
        QWidget *view = lines().viewport();
        QTest::mousePress(view, Qt::LeftButton, {}, *from);
        QTest::mouseMove(view, *from + QPoint(20, 0));
        QTest::mouseMove(view, *from + QPoint(40, 0));
        QTest::mouseRelease(view, Qt::LeftButton, {}, *from + QPoint(40, 0));
        if (undo().index() == before)
            continue;
        EXPECT_GT(stopOf(card.job)->card.start, card.start);
        return;
    }
    FAIL() << "no last visit of a round could be dragged to a later time";
}

TEST_F(DayStory, AHatchedSpanSaysWhatItIsUnderThePointer) {
    const desk::DayBoard &board = lines().board();
    ASSERT_TRUE(
        std::ranges::any_of(board.rounds, [](const desk::DayRound &r) { return r.breakTime.has_value(); }));
    QWidget *view = lines().viewport();
    QStringList tips;
    for (int y = 40; y < view->height(); y += 29)
        for (int x = 180; x < view->width(); x += 6) {
            QHelpEvent asks(QEvent::ToolTip, QPoint(x, y), view->mapToGlobal(QPoint(x, y)));
            QApplication::sendEvent(view, &asks);
            tips << QToolTip::text();
        }
    EXPECT_TRUE(std::ranges::any_of(
        tips, [](const QString &tip) { return tip.startsWith(QStringLiteral("Break, ")); }));
}

TEST_F(DayStory, WhatIsOverStandsOnItsLineAndIsNeitherChosenNorDragged) {
    Ask::nextAnswer(true); // the draft of next week is left
    find<QAction>("actionThisWeek").trigger();
    ASSERT_TRUE(waitFor([&] { return session().thisWeek()->week.contains(lines().board().on); }));
    const auto isOver = [](const desk::DayRound &round) { return !round.past.empty(); };
    while (std::ranges::none_of(lines().board().rounds, isOver) &&
           lines().board().on > session().thisWeek()->week.from)
        find<QAction>("actionBefore").trigger();
    const auto &rounds = lines().board().rounds;
    const auto round = std::ranges::find_if(rounds, isOver);
    ASSERT_NE(round, rounds.end()) << "the sample has visits made this week";
    const desk::VisitCard card = round->past.front();
    const int steps = undo().index();
    QWidget *view = lines().viewport();
    std::optional<QPoint> at;
    for (int y = 36; y < view->height() && !at; y += 8)
        for (int x = 180; x < view->width() && !at; x += 6) {
            QHelpEvent asks(QEvent::ToolTip, QPoint(x, y), view->mapToGlobal(QPoint(x, y)));
            QApplication::sendEvent(view, &asks);
            if (QToolTip::text().startsWith(card.name) && QToolTip::text().endsWith(desk::words(card.status)))
                at = QPoint(x, y);
        }
    ASSERT_TRUE(at) << "it says what became of it, as in the week";
    QTest::mousePress(view, Qt::LeftButton, {}, *at);
    QTest::mouseMove(view, *at + QPoint(20, 0));
    QTest::mouseMove(view, *at + QPoint(60, 0));
    QTest::mouseRelease(view, Qt::LeftButton, {}, *at + QPoint(60, 0));
    EXPECT_EQ(lines().currentJob(), -1);
    EXPECT_EQ(undo().index(), steps);
}

TEST_F(DayStory, ANewDayIsReachedByKeyAndTheWeekComesBack) {
    const Date first = lines().board().on;
    QTest::keyClick(window_.get(), Qt::Key_PageDown, Qt::ControlModifier);
    EXPECT_EQ(lines().board().on, first.plusDays(1));
    QTest::keyClick(window_.get(), Qt::Key_D, Qt::ControlModifier);
    EXPECT_FALSE(lines().isVisible());
    EXPECT_TRUE(find<QWidget>("weekGrid").isVisible());
    EXPECT_EQ(undo().index(), 1) << "looking changes nothing";
}

TEST_F(DayStory, TheHeadNamesTheDayThatIsAskedForWhileItsWeekIsWorkedOut) {
    const auto *title = window_->findChild<QWidget *>(QStringLiteral("calendarPage"))
                            ->findChild<QLabel *>(QStringLiteral("pageTitle"));
    const Date last = session().nextWeek()->week.to.plusDays(-1);
    for (int step = 0; step < 7 && lines().board().on < last; ++step)
        QTest::keyClick(window_.get(), Qt::Key_PageDown, Qt::ControlModifier);
    ASSERT_EQ(lines().board().on, last);
    Ask::nextAnswer(true); // the draft is left
    QTest::keyClick(window_.get(), Qt::Key_PageDown, Qt::ControlModifier);
    EXPECT_EQ(title->text(), desk::dayText(last.plusDays(1), session().today()));
    ASSERT_TRUE(waitFor([&] { return lines().board().on == last.plusDays(1); }));
    EXPECT_EQ(title->text(), desk::dayText(last.plusDays(1), session().today()));
}

TEST_F(DayStory, AnotherDayLetsGoOfTheVisitThatIsNotOnIt) {
    const auto round = std::ranges::find_if(lines().board().rounds,
                                            [](const desk::DayRound &r) { return !r.stops.empty(); });
    ASSERT_NE(round, lines().board().rounds.end());
    const std::int32_t job = round->stops.front().card.job;
    lines().setCurrentJob(job);
    QTest::keyClick(&lines(), Qt::Key_Return);
    ASSERT_TRUE(find<QWidget>("reasonsPanel").isVisible());
    QTest::keyClick(window_.get(), Qt::Key_PageDown, Qt::ControlModifier);
    ASSERT_EQ(stopOf(job), nullptr);
    EXPECT_EQ(lines().currentJob(), -1);
    EXPECT_FALSE(find<QWidget>("reasonsPanel").isVisible()) << "it told of a visit of the day before";
}

TEST_F(DayStory, TheDayShownIsTheOneThatIsPrinted) {
    EXPECT_TRUE(find<QAction>("actionPrintDay").text().contains(desk::dayText(lines().board().on)));
    const auto round = std::ranges::find_if(lines().board().rounds,
                                            [](const desk::DayRound &r) { return !r.stops.empty(); });
    ASSERT_NE(round, lines().board().rounds.end());
    lines().setCurrentJob(round->stops.front().card.job);
    QTest::keyClick(&lines(), Qt::Key_Return);
    EXPECT_TRUE(find<QWidget>("reasonsPanel").isVisible());
    QTest::keyClick(&find<QWidget>("reasonsPanel"), Qt::Key_Escape);
    EXPECT_FALSE(find<QWidget>("reasonsPanel").isVisible()) << "Escape closes the reasons";
}

TEST_F(DayStory, AStopOnTheDrawingIsTheSameVisitOnTheLine) {
    auto &map = find<RoundsMap>("roundsMap");
    std::int32_t chosen = -1;
    QObject::connect(&map, &RoundsMap::chosen, [&](int job) { chosen = job; });
    for (int y = 4; y < map.height() && chosen < 0; y += 6)
        for (int x = 4; x < map.width() && chosen < 0; x += 6)
            QTest::mouseClick(&map, Qt::LeftButton, {}, QPoint(x, y));
    ASSERT_GE(chosen, 0) << "no stop was drawn";
    EXPECT_EQ(lines().currentJob(), chosen);
    EXPECT_TRUE(find<QWidget>("reasonsPanel").isVisible());
}

} // namespace
} // namespace kitround::ui
