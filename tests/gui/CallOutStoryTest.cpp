// Monday's call-out in the window: a nurse cannot come, the plan is mended, and whom to phone is on a list.
#include "tests/gui/WindowFixture.h"
#include "ui/calendar/RepairDialog.h"
#include "ui/calendar/WeekGrid.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Page.h"

#include <QAction>
#include <QComboBox>
#include <QFileInfo>
#include <QLabel>
#include <QPushButton>
#include <QScrollBar>
#include <QUndoStack>

#include <algorithm>

namespace kitround::ui {
namespace {

class CallOutStory : public WindowTest {
protected:
    void SetUp() override {
        WindowTest::SetUp();
        openSample();
        planWeek();
        Ask::nextAnswer(true); // publishing is asked once
        find<QPushButton>("planPublish").click();
        waitComputed();
    }
    WeekGrid &grid() { return find<WeekGrid>("weekGrid"); }
    void trigger(const char *action) { find<QAction>(action).trigger(); }
    // A nurse and a day (not today or before) with at least three visits.
    std::pair<NurseId, Date> busyDay() {
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                if (day.cards.size() >= 3)
                    return {row.nurse, day.on};
        return {};
    }
    std::size_t visitsOn(NurseId nurse, Date on) {
        for (const desk::BoardRow &row : grid().board().rows)
            if (row.nurse == nurse)
                for (const desk::BoardDay &day : row.days)
                    if (day.on == on)
                        return day.cards.size();
        return 0;
    }
};

TEST_F(CallOutStory, ACallOutIsMendedPublishedAndItsCallsArePrinted) {
    const auto [nurse, day] = busyDay();
    ASSERT_TRUE(nurse.isSet());
    const auto hers = visitsOn(nurse, day);
    const QString paper = path("calls.pdf");
    int listed = 0;
    withNextForm([&, who = nurse, when = day](QWidget &form) {
        choose(form, "nurse_id", who.value());
        choose(form, "on_date", when.dayNumber());
        withNextForm([&](QWidget &dialog) {
            auto *accept = dialog.findChild<QPushButton *>(QStringLiteral("repairAccept"));
            ASSERT_NE(accept, nullptr);
            ASSERT_TRUE(waitFor([&] { return accept->isEnabled(); }, 5000)) << "a mended plan takes too long";
            listed = dialog.findChild<DenseTable *>(QStringLiteral("repairTable"))->model()->rowCount();
            const QString costs = dialog.findChild<QLabel *>(QStringLiteral("repairCosts"))->text();
            EXPECT_TRUE(costs.startsWith(QStringLiteral("Weighted minutes ")) && !costs.contains(u'\n'))
                << "the room is the list's: " << costs.toStdString();
            Ask::nextChoice(1); // save as PDF
            Ask::nextText(paper);
            dialog.findChild<QPushButton *>(QStringLiteral("repairPrint"))->click();
            accept->click();
        });
        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
    });
    int toPhone = 0;
    Ask::nextAnswer(true); // once it is published: the call list now
    trigger("actionCallOut");
    withNextForm([&](QWidget &calls) {
        EXPECT_EQ(calls.objectName(), QStringLiteral("patientCallsDialog"));
        toPhone = calls.findChild<DenseTable *>(QStringLiteral("patientCallsTable"))->model()->rowCount();
        leave(calls);
    });
    waitComputed();
    ASSERT_TRUE(waitFor([&] { return toPhone > 0; })) << "whom to phone is offered at once";
    EXPECT_GE(listed, static_cast<int>(hers)) << "everybody of that day is on the list";
    EXPECT_GT(QFileInfo(paper).size(), 1000);
    const Snapshot &now = session().agency()->snapshot();
    EXPECT_TRUE(std::ranges::any_of(now.timeOff, [who = nurse, when = day](const TimeOff &off) {
        return off.nurse == who && off.from == when && off.kind == TimeOffKind::Sick;
    }));
    EXPECT_EQ(visitsOn(nurse, day), 0U);
    const auto versions = session().desk().planVersions(grid().board().rows.front().days.front().on);
    ASSERT_TRUE(versions);
    EXPECT_EQ(std::ranges::count(*versions, PlanStatus::Superseded, &Plan::status), 1) << "history is kept";
    EXPECT_EQ(std::ranges::count(*versions, PlanStatus::Published, &Plan::status), 1);
}

TEST_F(CallOutStory, EveryNoteIsReadWholeAtOnce) {
    desk::PlanChange change;
    change.who = QStringLiteral("Featherstonehaugh, Wilhelmina");
    change.phone = QStringLiteral("555 0142 33");
    change.kind = QStringLiteral("symptom follow-up");
    change.was = QStringLiteral("Mon 23 Nov 09:10, Marsh, Owen and Lindqvist, Dana");
    change.now = QStringLiteral("Tue 24 Nov 10:05, Lindqvist, Dana");
    change.note = QStringLiteral("Waits for Marsh, Owen: back by then? Lindqvist, Dana has asked for leave "
                                 "that day; not decided. Start of care 1 day later, owed by Wed 25 Nov");
    desk::PlanChange shortOne = change;
    shortOne.who = QStringLiteral("Bell, Ada");
    shortOne.was = shortOne.now;
    shortOne.note = QStringLiteral("by 5 minutes");
    RepairDialog dialog(session(), session().nextWeek(), {change, shortOne}, window_.get());
    dialog.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&dialog));
    const auto *table = dialog.findChild<DenseTable *>(QStringLiteral("repairTable"));
    ASSERT_NE(table, nullptr);
    for (int row = 0; row < 2; ++row)
        for (int column = 0; column < table->model()->columnCount(); ++column) {
            const QModelIndex index = table->model()->index(row, column);
            const QRect cell(0, 0, table->columnWidth(column), table->rowHeight(row));
            const QRect text = table->fontMetrics().boundingRect(QRect(0, 0, cell.width(), 1000),
                                                                 Qt::TextWordWrap, index.data().toString());
            EXPECT_TRUE(text.width() <= cell.width() && text.height() <= cell.height())
                << index.data().toString().toStdString();
        }
    EXPECT_LT(table->rowHeight(1), table->rowHeight(0)) << "no row is higher than it must be";
    EXPECT_EQ(table->horizontalScrollBar()->maximum(), 0);
}

TEST_F(CallOutStory, LeavingTheMendedPlanLeavesEverythingAsItWas) {
    const auto [nurse, day] = busyDay();
    const auto before = visitsOn(nurse, day);
    const auto off = session().agency()->snapshot().timeOff.size();
    withNextForm([&, who = nurse, when = day](QWidget &form) {
        choose(form, "nurse_id", who.value());
        choose(form, "on_date", when.dayNumber());
        withNextForm([&](QWidget &dialog) {
            dialog.findChild<QPushButton *>(QStringLiteral("repairLeave"))
                ->click(); // while it is still working
        });
        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
    });
    trigger("actionCallOut");
    EXPECT_EQ(visitsOn(nurse, day), before);
    EXPECT_EQ(session().agency()->snapshot().timeOff.size(), off);
}

TEST_F(CallOutStory, WhatChangedSincePublishingIsListed) {
    std::int32_t job = -1;
    for (const desk::BoardRow &row : grid().board().rows)
        for (const desk::BoardDay &d : row.days)
            for (const desk::VisitCard &card : d.cards)
                if (job < 0 && !card.isLocked && !card.needsTwo)
                    job = card.job;
    ASSERT_GE(job, 0);
    grid().setCurrentJob(job);
    QTest::keyClick(&grid(), Qt::Key_Delete);
    int rows = 0;
    withNextForm([&](QWidget &dialog) {
        rows = dialog.findChild<DenseTable *>(QStringLiteral("repairTable"))->model()->rowCount();
        dialog.findChild<QPushButton *>(QStringLiteral("repairLeave"))->click();
    });
    trigger("actionChanges");
    EXPECT_GE(rows, 1);
    const auto tellsWhatIsInForce = [&] {
        return find<QLabel>("planStatus").text().contains(QStringLiteral("is in force; this draft is not"));
    };
    EXPECT_TRUE(tellsWhatIsInForce()) << "not saved";
    find<QPushButton>("planSave").click();
    waitComputed();
    EXPECT_TRUE(tellsWhatIsInForce()) << "saved, not published";
}

TEST_F(CallOutStory, PublishingAgainNamesWhomItTouches) {
    const desk::WeekPicturePtr week = session().nextWeek();
    const auto isPhoned = [&](const desk::VisitCard &card) { // where that visit does not come
        return week->agency->index().patient(card.patient)->status == CareStatus::Active &&
               week->problem.jobs[static_cast<std::size_t>(card.job)].kind != VisitKind::Phone;
    };
    desk::VisitCard taken;
    for (const desk::BoardRow &row : grid().board().rows)
        for (const desk::BoardDay &d : row.days)
            for (const desk::VisitCard &card : d.cards)
                if (taken.job < 0 && !card.isLocked && !card.needsTwo && isPhoned(card))
                    taken = card;
    ASSERT_GE(taken.job, 0);
    grid().setCurrentJob(taken.job);
    QTest::keyClick(&grid(), Qt::Key_Delete);
    Ask::nextAnswer(false); // only looked at
    find<QPushButton>("planPublish").click();
    const QString said = Ask::lastSaid();
    EXPECT_TRUE(said.contains(taken.name)) << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral(" to phone: "))) << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral(" to tell: "))) << said.toStdString();
    EXPECT_FALSE(find<Page>("calendarPage").undoStack()->isClean()) << "nothing was published";
}

TEST_F(CallOutStory, PublishingNamesLeaveThatIsNotDecided) {
    const auto [nurse, day] = busyDay();
    ASSERT_TRUE(nurse.isSet());
    TimeOff request;
    request.nurse = nurse;
    request.from = day;
    request.to = day.plusDays(1);
    request.status = LeaveStatus::Requested;
    ASSERT_FALSE(session().write(QStringLiteral("Asked for leave"),
                                 [&](desk::Desk &desk) { return desk.save(request); }));
    waitComputed();
    const QUndoStack &undo = *find<Page>("calendarPage").undoStack();
    const desk::WeekBoard board = grid().board(); // as it is now
    for (const desk::BoardRow &row : board.rows)
        for (const desk::BoardDay &d : row.days)
            for (const desk::VisitCard &card : d.cards)
                if (undo.isClean() && row.nurse != request.nurse && !card.isLocked && !card.needsTwo) {
                    grid().setCurrentJob(card.job);
                    QTest::keyClick(&grid(), Qt::Key_Delete);
                }
    ASSERT_FALSE(undo.isClean()) << "no visit could be taken out";
    Ask::nextAnswer(false); // only looked at
    find<QPushButton>("planPublish").click();
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral(" has asked for leave from ")))
        << Ask::lastSaid().toStdString();
}

TEST_F(CallOutStory, TheFormAsksUntilWhenSheIsAway) {
    const auto [nurse, day] = busyDay();
    ASSERT_TRUE(nurse.isSet());
    const Date last = day.plusDays(1);
    withNextForm([&, who = nurse, when = day](QWidget &form) {
        choose(form, "nurse_id", who.value());
        choose(form, "on_date", when.dayNumber());
        choose(form, "last_day", last.dayNumber());
        withNextForm([&](QWidget &dialog) {
            auto *accept = dialog.findChild<QPushButton *>(QStringLiteral("repairAccept"));
            ASSERT_NE(accept, nullptr);
            ASSERT_TRUE(waitFor([&] { return accept->isEnabled(); }, 5000));
            accept->click();
        });
        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
    });
    trigger("actionCallOut");
    waitComputed();
    EXPECT_EQ(visitsOn(nurse, day), 0U);
    EXPECT_EQ(visitsOn(nurse, last), 0U);
    const auto &off = session().agency()->snapshot().timeOff;
    EXPECT_TRUE(std::ranges::any_of(off, [&, who = nurse, when = day](const TimeOff &one) {
        return one.nurse == who && one.from == when && one.to == last.plusDays(1);
    }));
}

TEST_F(CallOutStory, TwoNursesSwapTheirDaysByTheForm) {
    // Two nurses who both work on a day: the first pair whose swap keeps every rule.
    const desk::WeekBoard board = grid().board();
    QUndoStack &undo = *window_->findChild<Page *>(QStringLiteral("calendarPage"))->undoStack();
    const int before = undo.index();
    QString refusal;
    for (std::size_t d = 0; d < 7 && undo.index() == before; ++d)
        for (std::size_t a = 0; a < board.rows.size() && undo.index() == before; ++a)
            for (std::size_t b = a + 1; b < board.rows.size() && undo.index() == before; ++b) {
                if (board.rows[a].days[d].cards.empty() || board.rows[b].days[d].cards.empty())
                    continue;
                withNextForm([&](QWidget &form) {
                    choose(form, "nurse_id", board.rows[a].nurse.value());
                    choose(form, "second_nurse_id", board.rows[b].nurse.value());
                    choose(form, "on_date", board.rows[a].days[d].on.dayNumber());
                    choose(form, "second_on_date", board.rows[b].days[d].on.dayNumber());
                    form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
                    refusal = form.findChild<QLabel *>(QStringLiteral("formProblem"))->text();
                    if (form.isVisible()) // a refused swap keeps it open
                        leave(form);
                });
                trigger("actionSwap");
            }
    if (undo.index() == before) {
        EXPECT_TRUE(refusal.startsWith(QStringLiteral("Not swapped: "))) << "a refused swap says why";
        return;
    }
    window_->activateWindow(); // the form was in front
    ASSERT_TRUE(QTest::qWaitForWindowActive(window_.get()));
    QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(undo.index(), before);
}

} // namespace
} // namespace kitround::ui
