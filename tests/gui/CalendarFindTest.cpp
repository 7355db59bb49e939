// In the calendar a visit is found by what is typed, what is over is recorded from its card, and the cards
// stay readable and still beside the reasons.
#include "core/desk/views/PlanAsStored.h"
#include "core/desk/views/VisitFinding.h"
#include "core/desk/words/Words.h"
#include "tests/gui/PlanFixture.h"
#include "ui/calendar/CardPainting.h"
#include "ui/calendar/DayLines.h"
#include "ui/calendar/RoundsMap.h"
#include "ui/shared/Look.h"

#include <QAction>
#include <QContextMenuEvent>
#include <QFontMetrics>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QScrollBar>

#include <algorithm>
#include <optional>
#include <vector>

namespace kitround::ui {
namespace {

// The day after the sample's own: nobody has recorded yesterday.
class CalendarFind : public PlanStory {
protected:
    void SetUp() override {
        clock_.set(Instant::fromUnixSeconds(Date::of(2026, 11, 20).dayNumber() * 86400 + 17 * 3600));
        PlanStory::SetUp();
        AgencySettings settings = session().agency()->settings(); // the sample has a day of its own
        settings.demoToday = Date::of(2026, 11, 20);
        ASSERT_TRUE(session().desk().save(settings));
        session().refresh();
        waitComputed();
        ASSERT_EQ(session().today(), Date::of(2026, 11, 20));
        showThisWeek();
    }
    std::optional<desk::VisitCard> unrecorded() {
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                for (const desk::VisitCard &card : day.past)
                    if (card.isUnrecorded)
                        return card;
        return std::nullopt;
    }
    const Visit *onRecord(VisitId id) { return session().agency()->index().visit(id); }
    QLineEdit &field() { return find<QLineEdit>("findText"); }
    QString told() { return find<QLabel>("findFound").text(); }
};

TEST_F(CalendarFind, WhatIsOverIsRecordedFromItsCard) {
    const auto over = unrecorded();
    ASSERT_TRUE(over);
    ASSERT_TRUE(grid().chooseOver(over->visit));
    EXPECT_EQ(grid().currentJob(), -1);
    EXPECT_EQ(grid().currentOver(), over->visit);
    EXPECT_TRUE(find<QWidget>("reasonsPanel").isVisible());
    EXPECT_TRUE(find<QLabel>("reasonsTitle").text().startsWith(over->name));
    auto &close = find<QPushButton>("closeVisit");
    EXPECT_TRUE(close.isEnabled());
    EXPECT_FALSE(find<QPushButton>("takeOut").isEnabled()) << "it is over";

    bool hasForm = false;
    withNextForm([&](QWidget &form) {
        hasForm = form.findChild<QWidget *>(QStringLiteral("miss_reason")) != nullptr;
        leave(form);
    });
    grid().setFocus();
    QTest::keyClick(&grid(), Qt::Key_Return);
    EXPECT_TRUE(hasForm) << "the form that Today opens";
    EXPECT_EQ(grid().currentOver(), over->visit) << "nothing was said of it";

    withNextForm([&](QWidget &form) {
        choose(form, "status", 1);      // missed
        choose(form, "miss_reason", 1); // refused
        press(form, "formSave");
        EXPECT_FALSE(form.isVisible());
        if (form.isVisible())
            leave(form);
    });
    QTest::mouseClick(&close, Qt::LeftButton);
    waitComputed();
    ASSERT_NE(onRecord(over->visit), nullptr);
    EXPECT_EQ(onRecord(over->visit)->status, VisitStatus::Missed);
    EXPECT_FALSE(grid().currentOver().isSet()) << "a second Enter opens nobody else's form";
    EXPECT_EQ(window_->focusWidget(), &grid());
}

TEST_F(CalendarFind, TheMenuOfACardThatIsOverRecordsAndStaysAway) {
    QContextMenuEvent asks(QContextMenuEvent::Keyboard, QPoint(), QPoint());
    QApplication::sendEvent(&grid(), &asks);
    EXPECT_EQ(window_->findChild<QMenu *>(QStringLiteral("cardMenu")), nullptr)
        << "nothing is chosen that is over";
    const auto over = unrecorded();
    ASSERT_TRUE(over);
    ASSERT_TRUE(grid().chooseOver(over->visit));
    QContextMenuEvent again(QContextMenuEvent::Keyboard, QPoint(), QPoint());
    QApplication::sendEvent(&grid(), &again);
    auto *menu = window_->findChild<QMenu *>(QStringLiteral("cardMenu"));
    ASSERT_NE(menu, nullptr);
    ASSERT_FALSE(menu->actions().isEmpty());
    EXPECT_TRUE(menu->actions().front()->isEnabled());
    bool hasForm = false;
    withNextForm([&](QWidget &form) {
        hasForm = form.findChild<QWidget *>(QStringLiteral("miss_reason")) != nullptr;
        leave(form);
    });
    QAction *record = menu->actions().front();
    menu->hide(); // as a click on it does
    record->trigger();
    EXPECT_TRUE(hasForm);
    menu->close();
}

TEST_F(CalendarFind, AVisitThatIsOverStaysChosenInTheDayView) {
    const auto over = unrecorded();
    ASSERT_TRUE(over);
    ASSERT_TRUE(grid().chooseOver(over->visit));
    find<QAction>("actionDay").trigger();
    auto &lines = find<DayLines>("dayLines");
    EXPECT_EQ(lines.board().on, onRecord(over->visit)->on);
    EXPECT_EQ(lines.currentOver(), over->visit);
    find<QAction>("actionDay").trigger();
    EXPECT_EQ(grid().currentOver(), over->visit);
}

TEST_F(CalendarFind, AVisitIsFoundByWhatIsTypedAndTheKeysGoOn) {
    auto &action = find<QAction>("actionFind");
    EXPECT_EQ(action.shortcut(), QKeySequence(QKeySequence::Find));
    EXPECT_EQ(find<QAction>("actionFindNext").shortcut(), QKeySequence(Qt::Key_F3));
    grid().setCurrentJob(-1); // what is chosen and found already would stay chosen
    action.trigger();
    ASSERT_EQ(window_->focusWidget(), &field());
    const auto over = unrecorded();
    ASSERT_TRUE(over);
    const Visit visit = *onRecord(over->visit);
    const QString nurse = desk::personName(*session().agency()->index().nurse(*visit.nurse));
    QTest::keyClicks(&field(), nurse.section(u',', 0, 0).toLower());
    const std::size_t all = desk::foundInWeek(grid().board(), field().text());
    ASSERT_GE(all, 3U) << "what is over counts as well";
    EXPECT_EQ(grid().foundCount(), all);
    EXPECT_EQ(told(), QStringLiteral("1 of %1").arg(all));
    EXPECT_EQ(window_->focusWidget(), &field()) << "one may type on";
    QTest::keyClick(&field(), Qt::Key_Return);
    EXPECT_EQ(told(), QStringLiteral("2 of %1").arg(all));
    find<QAction>("actionFindNext").trigger();
    EXPECT_EQ(told(), QStringLiteral("3 of %1").arg(all));
    QTest::keyClick(&field(), Qt::Key_Return, Qt::ShiftModifier);
    find<QAction>("actionFindBefore").trigger();
    find<QAction>("actionFindBefore").trigger();
    EXPECT_EQ(told(), QStringLiteral("%1 of %1").arg(all)) << "round and round";

    field().setText(QStringLiteral("zzqx"));
    EXPECT_EQ(told(), QStringLiteral("no visit of \"zzqx\" this week"));
    EXPECT_EQ(find<QLabel>("lastChange").text(), told()) << "whole at the foot, too";
    QTest::keyClick(&field(), Qt::Key_Escape);
    EXPECT_TRUE(field().text().isEmpty());
    EXPECT_TRUE(told().isEmpty());
    EXPECT_EQ(window_->focusWidget(), &grid());
}

TEST_F(CalendarFind, WhatHasNoPlaceIsFoundAndTheDayViewSaysWhatTheWeekHas) {
    const std::vector<desk::VisitCard> tray = grid().board().tray;
    ASSERT_FALSE(tray.empty());
    const desk::VisitCard &card = tray.back();
    find<QAction>("actionFind").trigger();
    field().setText(card.code);
    ASSERT_GE(grid().foundCount(), 1U);
    bool isChosen = false;
    for (std::size_t i = 0; i < grid().foundCount(); ++i) {
        isChosen = isChosen || grid().currentJob() == card.job;
        find<QAction>("actionFindNext").trigger();
    }
    EXPECT_TRUE(isChosen);
    find<QAction>("actionDay").trigger();
    auto &lines = find<DayLines>("dayLines");
    const std::size_t onDay = lines.foundCount(), inWeek = grid().foundCount();
    EXPECT_EQ(told(), desk::foundText({lines.foundAt(), onDay, true, onDay == 0 ? inWeek : 0}, card.code));
}

TEST_F(CalendarFind, ASmallWindowHasAButtonForTheFieldAndNothingIsPushedOut) {
    auto &open = find<QPushButton>("planWeek");
    window_->resize(960, 640);
    auto &find1 = find<QToolButton>("findOpen");
    ASSERT_TRUE(waitFor([&] { return find1.isVisible(); }));
    EXPECT_FALSE(field().isVisible());
    find1.click();
    EXPECT_TRUE(field().isVisible());
    EXPECT_EQ(window_->focusWidget(), &field());
    const auto &page = find<Page>("calendarPage");
    EXPECT_TRUE(waitFor([&] { return open.mapTo(&page, QPoint(open.width(), 0)).x() <= page.width(); }));
    QTest::keyClick(&field(), Qt::Key_Escape);
    EXPECT_FALSE(field().isVisible());
}

// Nine nurses at 1280 x 720, the reasons open.
TEST_F(CalendarFind, ACardAlwaysSaysWhenAndToWhom) {
    ASSERT_FALSE(grid().board().rows.empty());
    for (const desk::BoardRow &row : desk::WeekBoard(grid().board()).rows)
        for (const desk::BoardDay &day : row.days)
            if (!day.cards.empty())
                grid().setCurrentJob(day.cards.front().job);
    ASSERT_TRUE(waitFor([this] { return grid().viewport()->width() < 900; }));
    const QFontMetrics metrics(Look::smallFont());
    for (const desk::BoardRow &row : grid().board().rows)
        for (std::size_t d = 0; d < row.days.size(); ++d)
            for (const std::vector<desk::VisitCard> &cards : {row.days[d].past, row.days[d].cards})
                for (const desk::VisitCard &card : cards) {
                    const QString text =
                        fittingText(metrics, timedTexts(card), textRoom(card, grid().dayWidths()[d] - 6));
                    EXPECT_TRUE(text.startsWith(desk::timeText(card.start)) && !text.endsWith(QChar(0x2026)))
                        << text.toStdString();
                    EXPECT_FALSE(card.initials.isEmpty() || card.code.isEmpty());
                    EXPECT_TRUE(cardTip(card).startsWith(
                        QStringLiteral("%1 (%2): %3").arg(card.name, card.code, card.kind)));
                }
}

TEST(CardTextsTest, AHighCardBreaksItsTextBetweenWords) {
    const QFontMetrics metrics(Look::smallFont());
    const QString text = QStringLiteral("10:06 Chilton, Mary · drain only");
    const int narrow = metrics.horizontalAdvance(QStringLiteral("10:06 Chilton,")) + 1;
    const QStringList two = wrappedText(metrics, text, narrow, 2);
    ASSERT_EQ(two.size(), 2);
    EXPECT_EQ(two.front(), QStringLiteral("10:06 Chilton,"));
    EXPECT_TRUE(two.back().startsWith(QStringLiteral("Mary")) && two.back().endsWith(QChar(0x2026)));
    EXPECT_EQ(wrappedText(metrics, text, 1000, 2), QStringList{text});
    const int name = metrics.horizontalAdvance(QStringLiteral("10:06 Chilton, Mary")) + 1;
    EXPECT_EQ(wrappedText(metrics, text, name, 2),
              (QStringList{QStringLiteral("10:06 Chilton, Mary"), QStringLiteral("drain only")}))
        << "a line begins with no dot";
    EXPECT_GT(cardHeight(2), cardHeight());
}

// What is protected, to be looked at.
class StillGrid : public WeekGrid {
public:
    int high() const { return chosenCard()->box.top() - verticalScrollBar()->value(); }
    bool hasHighCard() const {
        return std::ranges::any_of(placed_,
                                   [](const PlacedCard &p) { return p.box.height() >= cardHeight(2); });
    }
};

TEST_F(CalendarFind, ADoubleClickActsOnTheCardOfItsFirstClick) {
    const auto week = session().thisWeek();
    StillGrid still;
    still.resize(1060, 500);
    still.show();
    still.setBoard(desk::boardOf(*week, week->week), session().today());
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&still));
    VisitId chosen;
    QPoint where;
    for (int y = 60; y < 400 && !chosen.isSet(); y += 10)
        for (int x = 500; x < 700 && !chosen.isSet(); x += 20) {
            where = {x, y};
            QTest::mouseClick(still.viewport(), Qt::LeftButton, {}, where);
            chosen = still.currentOver();
        }
    ASSERT_TRUE(chosen.isSet()) << "no card found under the pointer";
    VisitId opened;
    QObject::connect(&still, &WeekGrid::recordAsked, [&](qint64 visit) { opened = VisitId(visit); });
    still.resize(740, 500); // as the reasons do: another day lies under the pointer now
    ASSERT_TRUE(waitFor([&] { return still.viewport()->width() < 760; }));
    QTest::mouseDClick(still.viewport(), Qt::LeftButton, {}, where);
    EXPECT_EQ(opened, chosen);
}

TEST_F(CalendarFind, NothingIsDrawnOfADayWhoseRoundsAreOver) {
    const desk::WeekBoard board = grid().board();
    std::optional<Date> over, ahead;
    for (std::size_t d = 0; d < board.rows.front().days.size(); ++d) {
        const bool hasCards = std::ranges::any_of(
            board.rows, [d](const desk::BoardRow &row) { return !row.days[d].cards.empty(); });
        (hasCards ? ahead : over) = board.rows.front().days[d].on;
    }
    ASSERT_TRUE(over && ahead);
    auto &map = find<RoundsMap>("roundsMap");
    Q_EMIT grid().dayAsked(ahead->dayNumber());
    EXPECT_TRUE(map.isVisible());
    find<QAction>("actionDay").trigger();
    Q_EMIT grid().dayAsked(over->dayNumber());
    EXPECT_FALSE(map.isVisible()) << "the lines take its room";
}

TEST_F(CalendarFind, TheChosenCardStaysAsHighAsItWasWhenTheDaysMove) {
    const auto week = session().thisWeek();
    StillGrid still;
    still.resize(1060, 500);
    still.show();
    still.setBoard(desk::boardOf(*week, week->week), session().today());
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&still));
    ASSERT_FALSE(still.board().tray.empty());
    EXPECT_TRUE(still.hasHighCard()) << "where a row has room to spare";
    still.setCurrentJob(still.board().tray.back().job);
    const int high = still.high();
    still.resize(740, 500);
    ASSERT_TRUE(waitFor([&] { return still.viewport()->width() < 760; }));
    EXPECT_EQ(still.high(), high);
    still.resize(1060, 500);
    ASSERT_TRUE(waitFor([&] { return still.viewport()->width() > 1000; }));
    EXPECT_EQ(still.high(), high);
}

} // namespace
} // namespace kitround::ui
