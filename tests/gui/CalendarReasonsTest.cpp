// The panel of reasons always speaks of the visit that is chosen, says all it has to say, and the keyboard
// finds its way among the cards.
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Words.h"
#include "tests/gui/PlanFixture.h"
#include "ui/calendar/StatusLine.h"
#include "ui/shared/Ask.h"

#include <QLabel>
#include <QScrollArea>
#include <QScrollBar>

#include <algorithm>

namespace kitround::ui {
namespace {

class CalendarReasons : public PlanStory {
protected:
    QWidget &panel() { return find<QWidget>("reasonsPanel"); }
    // The first or last visit that an order owes next week, by its number.
    std::int32_t owed(bool isLast) {
        std::int32_t found = -1;
        const auto &due = session().nextWeek()->due;
        for (std::size_t j = 0; j < due.size(); ++j)
            if (due[j].visit.order && (isLast || found < 0))
                found = static_cast<std::int32_t>(j);
        return found;
    }
    Visit visitOf(std::int32_t job) { return session().nextWeek()->due[static_cast<std::size_t>(job)].visit; }
    void drop(const Visit &visit) {
        ASSERT_FALSE(session().write(QStringLiteral("Called off a visit"), [&](desk::Desk &desk) {
            return desk.dropVisit(visit, "one fewer this week");
        }));
        waitComputed();
    }
};

TEST_F(CalendarReasons, TheChosenVisitStaysChosenWhenItsNumberChangesBehindAnotherPage) {
    window_->showPage(QStringLiteral("calendar"));
    const std::int32_t job = owed(true), other = owed(false);
    ASSERT_GT(job, other);
    const Visit chosen = visitOf(job), gone = visitOf(other);
    grid().setCurrentJob(job);
    ASSERT_TRUE(panel().isVisible());
    const QString title = find<QLabel>("reasonsTitle").text();
    window_->showPage(QStringLiteral("patients"));
    drop(gone);
    window_->showPage(QStringLiteral("calendar"));
    const std::int32_t is = grid().currentJob();
    ASSERT_GE(is, 0);
    EXPECT_LT(is, job) << "a visit before it is gone";
    EXPECT_EQ(visitOf(is).patient, chosen.patient);
    EXPECT_EQ(visitOf(is).order, chosen.order);
    EXPECT_EQ(find<QLabel>("reasonsTitle").text(), title);

    // What is called off itself is chosen no more, and no button acts on what took its number.
    window_->showPage(QStringLiteral("patients"));
    drop(visitOf(is));
    window_->showPage(QStringLiteral("calendar"));
    const std::int32_t after = grid().currentJob();
    EXPECT_TRUE(
        after < 0 ||
        find<QLabel>("reasonsTitle").text().startsWith(desk::visitCard(*session().nextWeek(), after).name));
    EXPECT_FALSE(panel().isVisible());
}

TEST_F(CalendarReasons, NothingOfAPlaceIsCut) {
    showThisWeek();
    std::vector<QPushButton *> places;
    for (const desk::BoardRow &row : desk::WeekBoard(grid().board()).rows)
        for (const desk::BoardDay &day : row.days)
            for (const desk::VisitCard &card : day.cards)
                if (places.empty() && !card.isLocked) {
                    grid().setCurrentJob(card.job);
                    for (QPushButton *button : panel().findChildren<QPushButton *>())
                        if (button->objectName().startsWith(QStringLiteral("suggestion")))
                            places.push_back(button);
                }
    ASSERT_FALSE(places.empty()) << "no visit of this week has another place";
    ASSERT_TRUE(waitFor([&] { return places.back()->isVisible(); }));
    const auto isWhole = [](const QPushButton *place) {
        return place->height() >= place->heightForWidth(place->width());
    };
    EXPECT_TRUE(waitFor([&] { return std::ranges::all_of(places, isWhole); }));
    for (const QPushButton *place : places) {
        EXPECT_TRUE(isWhole(place)) << place->text().toStdString();
        EXPECT_LE(place->width(), panel().width());
        EXPECT_TRUE(place->text().contains(QStringLiteral("weighted minute"))) << "what it stands by";
    }
}

TEST_F(CalendarReasons, HomeAndEndGoToTheFirstAndTheLastCard) {
    window_->showPage(QStringLiteral("calendar"));
    const std::vector<desk::VisitCard> tray = grid().board().tray;
    ASSERT_FALSE(tray.empty()) << "the week is not planned yet";
    grid().setFocus();
    QTest::keyClick(&grid(), Qt::Key_End);
    EXPECT_EQ(grid().currentJob(), tray.back().job);
    QTest::keyClick(&grid(), Qt::Key_Home);
    EXPECT_NE(grid().currentJob(), tray.back().job);
    EXPECT_GE(grid().currentJob(), 0);
}

TEST_F(CalendarReasons, RightBehindTheLastOfTheTrayGoesNowhere) {
    window_->showPage(QStringLiteral("calendar"));
    const std::vector<desk::VisitCard> tray = grid().board().tray;
    ASSERT_GE(tray.size(), 2U);
    grid().setCurrentJob(tray.back().job);
    grid().setFocus();
    QTest::keyClick(&grid(), Qt::Key_Right);
    EXPECT_EQ(grid().currentJob(), tray.back().job) << "it jumped up among the days";
    grid().setCurrentJob(tray.front().job);
    QTest::keyClick(&grid(), Qt::Key_Left);
    EXPECT_EQ(grid().currentJob(), tray.front().job);
    for (std::size_t i = 1; i < tray.size(); ++i) // from line to line
        QTest::keyClick(&grid(), Qt::Key_Right);
    EXPECT_EQ(grid().currentJob(), tray.back().job);
}

TEST_F(CalendarReasons, TheNextVisitIsReadFromItsFirstLine) {
    window_->showPage(QStringLiteral("calendar"));
    const std::vector<desk::VisitCard> tray = grid().board().tray;
    ASSERT_GE(tray.size(), 2U);
    grid().setCurrentJob(tray[0].job);
    auto *area = panel().findChild<QScrollArea *>();
    ASSERT_NE(area, nullptr);
    area->setFixedHeight(60); // more to read than there is room
    QScrollBar &bar = *area->verticalScrollBar();
    ASSERT_TRUE(waitFor([&] { return bar.maximum() > 0; }));
    bar.setValue(bar.maximum());
    grid().setCurrentJob(tray[1].job);
    QTest::qWait(20);
    EXPECT_EQ(bar.value(), 0);
}

TEST_F(CalendarReasons, OnlyWhatHasToBeActedOnIsRed) {
    window_->showPage(QStringLiteral("calendar"));
    const auto &status = find<StatusLine>("planStatus");
    const std::vector<StatusLine::Part> &parts = status.parts();
    ASSERT_GE(parts.size(), 3U);
    EXPECT_FALSE(parts.front().isAlarm) << parts.front().text.toStdString();
    QString whole;
    for (const StatusLine::Part &part : parts) {
        whole += part.text;
        EXPECT_EQ(part.isAlarm, part.text.contains(QStringLiteral("not placed")) ||
                                    part.text.contains(QStringLiteral("broken")))
            << part.text.toStdString();
    }
    EXPECT_EQ(whole, status.text());
}

TEST_F(CalendarReasons, WhatIsNotPlacedIsOneClickAwayBelowManyNurses) {
    window_->showPage(QStringLiteral("calendar"));
    grid().setMaximumHeight(260); // as a long list of nurses would
    QTest::qWait(20);
    QScrollBar &bar = *grid().verticalScrollBar();
    ASSERT_GT(bar.maximum(), 0);
    bar.setValue(0);
    QTest::mouseClick(grid().viewport(), Qt::LeftButton, {}, QPoint(200, grid().viewport()->height() - 4));
    EXPECT_GT(bar.value(), 0) << "the tray was below";
}

TEST_F(CalendarReasons, TwoStepsOnGoTwoWeeksOnWhateverIsStillWorkedOut) {
    window_->showPage(QStringLiteral("calendar"));
    const auto first = [this] { return grid().board().rows.front().days.front().on; };
    const Date from = first();
    for (int step = 0; step < 2; ++step) // the week between is not waited for
        QTest::keyClick(window_.get(), Qt::Key_PageDown, Qt::ControlModifier);
    const auto *page = window_->findChild<QWidget *>(QStringLiteral("calendarPage"));
    EXPECT_EQ(page->findChild<QLabel *>(QStringLiteral("pageTitle"))->text(),
              QStringLiteral("Week of %1").arg(desk::dayText(from.plusDays(14), session().today())));
    ASSERT_TRUE(waitFor([&] { return first() == from.plusDays(14); }));
    for (int step = 0; step < 2; ++step)
        QTest::keyClick(window_.get(), Qt::Key_PageUp, Qt::ControlModifier);
    EXPECT_TRUE(waitFor([&] { return first() == from; }));
}

TEST_F(CalendarReasons, AfterPlanningByKeyTheFocusIsWithTheCards) {
    window_->showPage(QStringLiteral("calendar"));
    grid().setFocus();
    QTest::keyClick(window_.get(), Qt::Key_R, Qt::ControlModifier);
    auto &stop = find<QPushButton>("planStop");
    ASSERT_TRUE(waitFor([&] { return stop.isVisible(); }));
    ASSERT_TRUE(waitFor([&] { return !stop.isVisible(); }, 150000));
    EXPECT_TRUE(waitFor([&] { return window_->focusWidget() == &grid(); }));
}

} // namespace
} // namespace kitround::ui
