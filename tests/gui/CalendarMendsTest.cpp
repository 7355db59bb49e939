// Under the coordinator's hand the calendar stays still: what is clicked stays where it is, the focus stays
// with the cards, the foot says what was undone, and what cannot be says why.
#include "core/desk/views/HandMoves.h"
#include "core/desk/views/VisitCards.h"
#include "tests/gui/GridPointer.h"
#include "tests/gui/WindowFixture.h"
#include "ui/calendar/CardPainting.h"
#include "ui/calendar/DayLines.h"
#include "ui/shared/Ask.h"
#include "ui/shared/ElidedLabel.h"
#include "ui/shared/Look.h"
#include "ui/shared/Page.h"

#include <QAction>
#include <QComboBox>
#include <QFileInfo>
#include <QFontMetrics>
#include <QLabel>
#include <QPushButton>
#include <QScrollBar>
#include <QTableView>
#include <QToolButton>
#include <QUndoStack>

#include <algorithm>
#include <functional>
#include <optional>
#include <vector>

namespace kitround::ui {
namespace {

class CalendarMends : public WindowTest {
protected:
    struct Place {
        NurseId nurse;
        Date on;
        friend bool operator==(const Place &, const Place &) = default;
    };
    struct Stop {
        desk::VisitCard card;
        Place place;
    };
    void SetUp() override {
        WindowTest::SetUp();
        openSample();
        planWeek();
    }
    WeekGrid &grid() { return find<WeekGrid>("weekGrid"); }
    QWidget &panel() { return find<QWidget>("reasonsPanel"); }
    QString foot() { return find<QLabel>("lastChange").text(); }
    QUndoStack &undo() { return *window_->findChild<Page *>(QStringLiteral("calendarPage"))->undoStack(); }
    // The visits of one nurse that may be moved, in the board's order, as they stand now.
    std::vector<Stop> freeStops() {
        std::vector<Stop> stops;
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                for (const desk::VisitCard &card : day.cards)
                    if (!card.isLocked && !card.needsTwo)
                        stops.push_back({card, {row.nurse, day.on}});
        return stops;
    }
    std::optional<Place> placeOf(std::int32_t job) {
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                if (std::ranges::find(day.cards, job, &desk::VisitCard::job) != day.cards.end())
                    return Place{row.nurse, day.on};
        return std::nullopt;
    }
    bool works(NurseId nurse, Date on) {
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                if (row.nurse == nurse && day.on == on)
                    return day.hasDuty;
        return false;
    }
    // A card as near to the right edge as there is one, where the reasons open; it is chosen, they are
    // closed.
    std::optional<QPoint> cardAtTheRight() {
        grid().verticalScrollBar()->setValue(0);
        const QSize size = grid().viewport()->size();
        for (int x = size.width() - 12; x > 190; x -= 12)
            for (int y = 60; y < size.height() - 60; y += 12) {
                QTest::mouseClick(grid().viewport(), Qt::LeftButton, {}, QPoint(x, y));
                if (!placeOf(grid().currentJob()))
                    continue;
                QTest::keyClick(&grid(), Qt::Key_Escape);
                return QPoint(x, y);
            }
        return std::nullopt;
    }
    // Takes out visits by that step until one goes, which stays chosen; -1 where others depend on each.
    std::int32_t takeOneOut(const std::function<void()> &step) {
        const int steps = undo().index();
        for (const Stop &stop : freeStops()) {
            grid().setCurrentJob(stop.card.job);
            step();
            if (undo().index() > steps)
                return stop.card.job;
        }
        return -1;
    }
    std::int32_t takeOneOutByKey() {
        return takeOneOut([this] { QTest::keyClick(&grid(), Qt::Key_Delete); });
    }
    void saveDraft() {
        find<QPushButton>("planSave").click();
        waitComputed();
        ASSERT_TRUE(undo().isClean()) << Ask::lastSaid().toStdString();
    }
    static qint64 chosen(QWidget &form, const char *field) {
        auto *box = form.findChild<QComboBox *>(QString::fromLatin1(field));
        EXPECT_NE(box, nullptr) << field;
        return box ? box->currentData().toLongLong() : -1;
    }
};

TEST_F(CalendarMends, ADoubleClickOpensTheReasonsAndMovesNothing) {
    const auto point = cardAtTheRight();
    ASSERT_TRUE(point) << "no card near the right edge";
    const std::int32_t job = grid().currentJob();
    const auto place = placeOf(job);
    const int steps = undo().index();
    ASSERT_FALSE(panel().isVisible());
    QWidget *view = grid().viewport();
    QTest::mousePress(view, Qt::LeftButton, {}, *point);
    EXPECT_FALSE(panel().isVisible()) << "the mouse is down: nothing may come under it";
    QTest::mouseRelease(view, Qt::LeftButton, {}, *point);
    EXPECT_FALSE(panel().isVisible()) << "a double click may follow";
    QTest::mouseDClick(view, Qt::LeftButton, {}, *point);
    QTest::mouseMove(view, *point + QPoint(-60, 40)); // a hand that is not still
    QTest::mouseRelease(view, Qt::LeftButton, {}, *point + QPoint(-60, 40));
    EXPECT_TRUE(panel().isVisible());
    EXPECT_EQ(grid().currentJob(), job);
    EXPECT_EQ(undo().index(), steps) << "looking changes nothing";
    EXPECT_TRUE(placeOf(job) == place);
}

TEST_F(CalendarMends, ASingleClickOpensTheReasonsOnceNoOtherMayFollow) {
    const auto point = cardAtTheRight();
    ASSERT_TRUE(point) << "no card near the right edge";
    const std::int32_t job = grid().currentJob();
    QTest::mouseClick(grid().viewport(), Qt::LeftButton, {}, *point);
    EXPECT_FALSE(panel().isVisible());
    EXPECT_TRUE(waitFor([this] { return panel().isVisible(); }));
    EXPECT_EQ(grid().currentJob(), job);
}

TEST_F(CalendarMends, AfterAVisitWasTakenOutTheFocusIsOnTheGrid) {
    auto &takeOut = find<QPushButton>("takeOut");
    const std::int32_t job = takeOneOut([&] {
        ASSERT_TRUE(panel().isVisible());
        takeOut.setFocus();
        ASSERT_EQ(window_->focusWidget(), &takeOut);
        takeOut.click();
    });
    ASSERT_GE(job, 0) << "no visit could be taken out";
    EXPECT_EQ(window_->focusWidget(), &grid()) << "the next button calls the visit off for good";
    EXPECT_FALSE(takeOut.isEnabled());
    EXPECT_FALSE(placeOf(job));
    EXPECT_EQ(grid().currentJob(), job) << "it stays in the hand";
}

TEST_F(CalendarMends, EnterGoesToTheFirstStepOfTheReasonsAndEscapeBack) {
    const std::vector<Stop> stops = freeStops();
    ASSERT_FALSE(stops.empty());
    grid().setCurrentJob(stops.front().card.job);
    grid().setFocus();
    QTest::keyClick(&grid(), Qt::Key_Return);
    QWidget *step = window_->focusWidget();
    ASSERT_NE(step, nullptr);
    EXPECT_TRUE(panel().isAncestorOf(step)) << "something that shows its focus and can be done";
    QTest::keyClick(step, Qt::Key_Escape);
    EXPECT_FALSE(panel().isVisible());
    EXPECT_EQ(window_->focusWidget(), &grid());
}

TEST_F(CalendarMends, BesideTheReasonsTheDaysShareTheRoom) {
    const auto widths = [this] { return grid().dayWidths(); };
    QTest::keyClick(&grid(), Qt::Key_Escape);
    ASSERT_FALSE(panel().isVisible());
    ASSERT_EQ(widths().size(), 7U);
    EXPECT_LT(widths().front(), widths()[1]) << "a weekend is narrower where there is room";
    const auto &status = find<QLabel>("planStatus");
    const int statusWidth = status.width();
    const std::vector<Stop> stops = freeStops();
    ASSERT_FALSE(stops.empty());
    grid().setCurrentJob(stops.front().card.job);
    ASSERT_TRUE(waitFor([this] { return panel().isVisible() && grid().viewport()->width() < 900; }));
    for (const int width : widths())
        EXPECT_GE(width, 80) << "no column's cards are cut";
    EXPECT_EQ(status.width(), statusWidth) << "the panel takes nothing from it";
    EXPECT_FALSE(status.text().contains(u'\n'));
    EXPECT_LE(status.fontMetrics().horizontalAdvance(status.text()), status.width());
}

TEST(ElidedLabelTest, TheTipHasWhatIsCutAboveWhatItWasGiven) {
    ElidedLabel label;
    const QString text = QStringLiteral("87 visits, 3 not placed, 1,234 weighted minutes");
    label.setText(text);
    label.resize(1000, 20);
    EXPECT_TRUE(label.wholeTip().isEmpty()) << "all of it is read";
    label.resize(60, 20);
    EXPECT_EQ(label.wholeTip(), text);
    label.setToolTip(QStringLiteral("a rule is broken"));
    EXPECT_EQ(label.wholeTip(), text + QStringLiteral("\na rule is broken"));
    label.setText(QStringLiteral("Planning the week anew"));
    EXPECT_TRUE(label.wholeTip().startsWith(label.text())) << "never the text before";
}

TEST_F(CalendarMends, TheFootSaysWhatWasUndoneAndDoneAgain) {
    const std::int32_t job = takeOneOutByKey();
    ASSERT_GE(job, 0) << "no visit could be taken out";
    const QString mark = desk::visitMark(*session().nextWeek(), job);
    EXPECT_EQ(find<QLabel>("lastChange").toolTip(), foot()) << "however long it is";
    EXPECT_TRUE(foot().startsWith(QStringLiteral("Taken out: %1 from ").arg(mark))) << foot().toStdString();
    find<QAction>("actionUndo").trigger();
    EXPECT_TRUE(foot().startsWith(QStringLiteral("Undone: Take out %1 from ").arg(mark)))
        << foot().toStdString();
    find<QAction>("actionRedo").trigger();
    EXPECT_TRUE(foot().startsWith(QStringLiteral("Done: Take out %1 from ").arg(mark)))
        << foot().toStdString();
    grid().setCurrentJob(job);
    auto *place = panel().findChild<QPushButton *>(QStringLiteral("suggestion0"));
    ASSERT_NE(place, nullptr);
    const QString offered = place->text().section(u'\n', 1, 1);
    QTest::mouseClick(place, Qt::LeftButton);
    EXPECT_TRUE(foot().startsWith(QStringLiteral("Placed: %1 on ").arg(mark))) << foot().toStdString();
    EXPECT_TRUE(foot().contains(offered)) << foot().toStdString() << " / " << offered.toStdString();
}

TEST_F(CalendarMends, ASavedDraftCanStillBeUndoneStepByStep) {
    auto &status = find<QLabel>("planStatus");
    const std::size_t open = grid().board().tray.size();
    const std::int32_t job = takeOneOutByKey();
    ASSERT_GE(job, 0) << "no visit could be taken out";
    ASSERT_EQ(grid().board().tray.size(), open + 1);
    const PatientId patient = desk::visitCard(*session().nextWeek(), job).patient;
    saveDraft();
    EXPECT_TRUE(status.text().contains(QStringLiteral("draft saved, not published")))
        << status.text().toStdString();
    ASSERT_EQ(grid().board().tray.size(), open + 1);
    ASSERT_TRUE(undo().canUndo()) << "a save is no end";
    const std::size_t visits = session().agency()->snapshot().visits.size();
    find<QAction>("actionUndo").trigger();
    EXPECT_EQ(grid().board().tray.size(), open);
    EXPECT_TRUE(std::ranges::none_of(grid().board().tray,
                                     [&](const desk::VisitCard &card) { return card.patient == patient; }));
    EXPECT_FALSE(undo().isClean());
    EXPECT_TRUE(status.text().contains(QStringLiteral("not saved")));
    saveDraft();
    EXPECT_EQ(grid().board().tray.size(), open);
    EXPECT_LE(session().agency()->snapshot().visits.size(), visits + 1) << "no visit is stored twice";
    find<QAction>("actionUndo").trigger(); // the planning itself
    EXPECT_GT(grid().board().tray.size(), open);
    find<QAction>("actionRedo").trigger();
    EXPECT_EQ(grid().board().tray.size(), open);
}

TEST_F(CalendarMends, PlanningAgainAsksToKeepWhatWasMovedByHand) {
    const int before = undo().index();
    std::int32_t job = -1;
    for (const Stop &stop : freeStops()) {
        grid().setCurrentJob(stop.card.job);
        for (const Qt::Key key : {Qt::Key_Down, Qt::Key_Up, Qt::Key_Right, Qt::Key_Left})
            if (undo().index() == before)
                QTest::keyClick(&grid(), key, Qt::AltModifier);
        if (undo().index() > before) {
            job = stop.card.job;
            break;
        }
    }
    ASSERT_GE(job, 0) << "no visit could be moved";
    const QString mark = desk::visitMark(*session().nextWeek(), job);
    EXPECT_TRUE(foot().startsWith(QStringLiteral("Moved: %1 from ").arg(mark))) << foot().toStdString();
    EXPECT_TRUE(foot().contains(QStringLiteral(" to "))) << foot().toStdString();
    const auto place = placeOf(job);
    ASSERT_TRUE(place);
    find<QPushButton>("planWeek").click();
    EXPECT_FALSE(find<QPushButton>("planStop").isVisible()) << "the question was left";
    EXPECT_TRUE(Ask::lastSaid().startsWith(QStringLiteral("1 visit ")) &&
                Ask::lastSaid().contains(QStringLiteral("by hand")))
        << Ask::lastSaid().toStdString();
    Ask::nextChoice(0);
    planWeek();
    EXPECT_TRUE(placeOf(job) == place);
    const std::vector<Stop> unlocked = freeStops();
    EXPECT_TRUE(std::ranges::any_of(unlocked, [job](const Stop &stop) { return stop.card.job == job; }))
        << "kept, not locked";
    EXPECT_FALSE(foot().contains(QStringLiteral("stand elsewhere"))) << foot().toStdString();
}

TEST_F(CalendarMends, TheFirstPublishingSaysThatThePersonTellsNursesAndPatients) {
    find<QPushButton>("planPublish").click(); // and is not confirmed
    EXPECT_TRUE(Ask::lastSaid().contains(
        QStringLiteral("From now on changes to these visits are listed, so that you can tell")))
        << Ask::lastSaid().toStdString();
}

TEST_F(CalendarMends, PublishNamesTheRuleThatThePlanBreaks) {
    saveDraft();
    const std::vector<Stop> stops = freeStops();
    ASSERT_FALSE(stops.empty());
    // The patient does not want to see the nurse any more who is planned.
    const Patient *record = session().agency()->index().patient(stops.front().card.patient);
    ASSERT_NE(record, nullptr);
    Patient patient = *record;
    const NurseId nurse = stops.front().place.nurse;
    if (patient.primaryNurse == nurse)
        patient.primaryNurse.reset();
    if (patient.backupNurse == nurse)
        patient.backupNurse.reset();
    patient.barredNurses.push_back(nurse);
    ASSERT_FALSE(session().write(QStringLiteral("Saved a patient"),
                                 [&](desk::Desk &desk) { return desk.save(patient); }));
    waitComputed();
    const QStringList broken = desk::brokenRules(*session().nextWeek());
    ASSERT_FALSE(broken.isEmpty());
    auto &publish = find<QPushButton>("planPublish");
    EXPECT_TRUE(publish.isEnabled()) << "a grey button says nothing";
    publish.click();
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("The plan breaks a rule.")) &&
                Ask::lastSaid().contains(broken.front()))
        << Ask::lastSaid().toStdString();
    EXPECT_FALSE(desk::isPlanPublished(*session().agency(), session().nextWeek()->week.from));
    EXPECT_TRUE(publish.toolTip().startsWith(QStringLiteral("Not to be published: the plan breaks a rule.")))
        << publish.toolTip().toStdString();
    for (const QString &rule : broken)
        EXPECT_TRUE(publish.toolTip().contains(rule)) << rule.toStdString();
    EXPECT_TRUE(publish.toolTip().contains(QString::fromStdString(patient.familyName)));
    EXPECT_TRUE(find<QLabel>("planStatus").toolTip().contains(broken.front()));
}

TEST_F(CalendarMends, TheDayOpensOnTheChosenVisitsDayAndKeepsItChosen) {
    saveDraft(); // the week that is opened stands on its first day
    const std::vector<Stop> stops = freeStops();
    ASSERT_FALSE(stops.empty());
    const Stop last = stops.back();
    ASSERT_NE(last.place.on, session().nextWeek()->week.from);
    grid().setCurrentJob(last.card.job);
    auto &asDay = find<QToolButton>("showAsDay");
    EXPECT_FALSE(asDay.isChecked());
    asDay.click();
    auto &lines = find<DayLines>("dayLines");
    EXPECT_EQ(lines.board().on, last.place.on);
    EXPECT_EQ(lines.currentJob(), last.card.job);
    EXPECT_TRUE(asDay.isChecked());
    QTest::keyClick(window_.get(), Qt::Key_D, Qt::ControlModifier);
    EXPECT_FALSE(asDay.isChecked());
}

TEST_F(CalendarMends, FreePlacesStandBeforeExceptions) {
    const std::int32_t job = takeOneOutByKey();
    ASSERT_GE(job, 0) << "no visit could be taken out";
    std::vector<std::int32_t> open{job};
    for (const desk::VisitCard &card : grid().board().tray)
        open.push_back(card.job);
    for (const std::int32_t one : open) {
        grid().setCurrentJob(one);
        QStringList heads;
        for (const QLabel *label : panel().findChildren<QLabel *>())
            heads << label->text();
        const auto free = heads.indexOf(QStringLiteral("Places that are free")),
                   exceptions = heads.indexOf(QStringLiteral("Ways out"));
        if (free >= 0 && exceptions >= 0) {
            EXPECT_LT(free, exceptions);
        }
    }
}

TEST(CardTextsTest, ANarrowCardKeepsItsTimeAndTheFamilyName) {
    desk::VisitCard card;
    card.name = QStringLiteral("Chilton, Mary");
    card.kind = QStringLiteral("drain only");
    card.start = Minutes::of(10 * 60 + 6);
    const QStringList texts = timedTexts(card);
    for (const QString &text : texts)
        EXPECT_TRUE(text.startsWith(QStringLiteral("10:06 Chilton"))) << text.toStdString();
    EXPECT_EQ(texts.last(), QStringLiteral("10:06 Chilton")) << "in one column all times read alike";
    const QFontMetrics metrics(Look::smallFont());
    EXPECT_EQ(fittingText(metrics, texts, 1000), QStringLiteral("10:06 Chilton, Mary · drain only"));
    const int narrow = metrics.horizontalAdvance(QStringLiteral("10:06 Chilt"));
    const QString cut = fittingText(metrics, texts, narrow);
    EXPECT_TRUE(cut.startsWith(QStringLiteral("10:06 C")) && cut.endsWith(QChar(0x2026)))
        << "initials fit several patients: " << cut.toStdString();
    card.initials = QStringLiteral("M.C.");
    card.code = QStringLiteral("Q-146");
    EXPECT_LT(nameTexts(card).indexOf(card.initials), nameTexts(card).indexOf(card.code));
}

TEST_F(CalendarMends, TheSwapFormStartsOnTwoNursesAndRefusesTheSameSideTwice) {
    const std::vector<Stop> stops = freeStops();
    const auto start = std::ranges::find_if(stops, [this](const Stop &stop) {
        return std::ranges::any_of(grid().board().rows, [&](const desk::BoardRow &row) {
            return row.nurse != stop.place.nurse && works(row.nurse, stop.place.on);
        });
    });
    ASSERT_NE(start, stops.end()) << "two nurses never work on the same day";
    const Place place = start->place;
    const int steps = undo().index();
    grid().setCurrentJob(start->card.job);
    withNextForm([&](QWidget &form) {
        EXPECT_EQ(chosen(form, "nurse_id"), place.nurse.value());
        EXPECT_EQ(chosen(form, "on_date"), place.on.dayNumber());
        EXPECT_NE(chosen(form, "second_nurse_id"), place.nurse.value());
        EXPECT_EQ(chosen(form, "second_on_date"), place.on.dayNumber());
        EXPECT_TRUE(works(NurseId(chosen(form, "second_nurse_id")), place.on));
        choose(form, "second_nurse_id", place.nurse.value());
        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
        EXPECT_TRUE(form.isVisible()) << "a refused swap keeps the form";
        EXPECT_TRUE(form.findChild<QLabel *>(QStringLiteral("formProblem"))
                        ->text()
                        .startsWith(QStringLiteral("Both sides are the same nurse on the same day.")));
        if (form.isVisible())
            leave(form);
    });
    find<QAction>("actionSwap").trigger();
    EXPECT_EQ(undo().index(), steps);
}

TEST_F(CalendarMends, AnyTwoPlansOfTheWeekAreComparedSideBySide) {
    const auto compare = [&](const std::function<void(QWidget &)> &look) {
        withNextForm([&](QWidget &form) {
            look(form);
            leave(form);
        });
        find<QAction>("actionCompare").trigger();
    };
    const auto rowsOf = [](QWidget &form, const char *table) {
        return form.findChild<QTableView *>(QString::fromLatin1(table))->model()->rowCount();
    };
    const auto summaryOf = [](QWidget &form) {
        return form.findChild<QLabel *>(QStringLiteral("compareSummary"))->text();
    };
    compare([&](QWidget &form) {
        const auto *first = form.findChild<QComboBox *>(QStringLiteral("compareFirst"));
        EXPECT_EQ(first->currentText(), QStringLiteral("Before the last step (Plan the week)"))
            << "nothing is saved yet, and undo holds the plan before";
        EXPECT_GE(rowsOf(form, "compareVisits"), 1);
    });
    undo().undo();
    compare([&](QWidget &form) {
        EXPECT_FALSE(form.findChild<QComboBox *>(QStringLiteral("compareFirst"))->isEnabled());
        EXPECT_TRUE(summaryOf(form).contains(QStringLiteral("the only one of this week so far")));
    });
    undo().redo();
    saveDraft();
    ASSERT_GE(takeOneOutByKey(), 0) << "no visit could be taken out";
    compare([&](QWidget &form) {
        auto *first = form.findChild<QComboBox *>(QStringLiteral("compareFirst"));
        const auto *second = form.findChild<QComboBox *>(QStringLiteral("compareSecond"));
        EXPECT_TRUE(first->currentText().startsWith(QStringLiteral("Version 1, draft, ")))
            << first->currentText().toStdString();
        EXPECT_EQ(second->currentText(), QStringLiteral("Plan in hand, not saved"));
        EXPECT_GE(rowsOf(form, "compareVisits"), 1);
        EXPECT_GE(rowsOf(form, "compareFigures"), 7);
        Ask::nextText(path("compared.csv"));
        form.findChild<QPushButton *>(QStringLiteral("compareCsv"))->click();
        EXPECT_GT(QFileInfo(path("compared.csv")).size(), 50);
        first->setFocus();
        QTest::keyClick(first, Qt::Key_Up);
        EXPECT_TRUE(first->currentText().startsWith(QStringLiteral("Before the last step (Take out ")))
            << first->currentText().toStdString();
        QTest::keyClick(first, Qt::Key_Up);
        EXPECT_EQ(first->currentText(), second->currentText());
        EXPECT_EQ(rowsOf(form, "compareVisits"), 0);
        EXPECT_TRUE(summaryOf(form).startsWith(QStringLiteral("Every visit stands at the same place")));
    });
}

// A nurse who does not work on Tuesday: from her Monday a visit goes on to her Wednesday.
TEST_F(CalendarMends, ToALaterDayGoesPastADayThatRefuses) {
    saveDraft(); // from here on the session's week is the one that is shown
    const desk::WeekPicturePtr week = session().nextWeek();
    const int steps = undo().index();
    for (const Stop &stop : freeStops()) {
        const auto isTaken = [&](Date on) {
            return desk::offerMove(*week, stop.card.job, stop.place.nurse, on).isAllowed();
        };
        Date day = stop.place.on.plusDays(1);
        if (!week->week.contains(day) || isTaken(day))
            continue;
        while (week->week.contains(day) && !isTaken(day))
            day = day.plusDays(1);
        if (!week->week.contains(day))
            continue; // no later day takes it
        grid().setCurrentJob(stop.card.job);
        QTest::keyClick(&grid(), Qt::Key_Right, Qt::AltModifier);
        EXPECT_EQ(undo().index(), steps + 1) << foot().toStdString();
        EXPECT_TRUE(placeOf(stop.card.job) == (Place{stop.place.nurse, day}));
        return;
    }
    FAIL() << "no visit has a later day behind one that refuses it";
}

} // namespace
} // namespace kitround::ui
