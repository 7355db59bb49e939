// The coordinator ties two orders together, tells a nurse of a round that changed, calls a visit off, and
// mends two weeks as one.
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "core/desk/words/Words.h"
#include "tests/gui/PlanFixture.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Page.h"

#include <QAction>
#include <QComboBox>
#include <QFile>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTabWidget>
#include <QToolButton>
#include <QUndoStack>

#include <algorithm>

namespace kitround::ui {
namespace {

TEST_F(PlanStory, TwoOrdersAreTiedInTheFormAndTheCalendarKeepsThemSo) {
    const VisitOrder *found = lonelyOrder();
    ASSERT_NE(found, nullptr);
    const VisitOrder order = *found;
    const Date nextWeek = session().nextWeek()->week.from;
    showVisitOrders(order.patient);
    withNextForm([&](QWidget &form) {
        auto *least = form.findChild<QLineEdit *>(QStringLiteral("after_least"));
        ASSERT_NE(least, nullptr);
        EXPECT_FALSE(least->isVisible()) << "asked only once there is something to come after";
        type(form, "notation", QStringLiteral("1W2"));
        choose(form, "kind", 5); // teaching
        type(form, "start_edit", QString::fromStdString(nextWeek.toIso()));
        choose(form, "after_order_id", 1);
        EXPECT_TRUE(least->isVisible());
        type(form, "after_least", QStringLiteral("3"));
        type(form, "after_most", QStringLiteral("2"));
        press(form, "formSave");
        EXPECT_TRUE(form.isVisible()) << "at most below at least is refused";
        type(form, "after_least", QStringLiteral("1"));
        press(form, "formSave");
    });
    press(*window_, "visitOrderAdd");
    waitComputed();
    const auto &orders = session().agency()->snapshot().visitOrders;
    const auto stored = std::ranges::find_if(
        orders, [&](const VisitOrder &o) { return o.patient == order.patient && o.id != order.id; });
    ASSERT_NE(stored, orders.end());
    EXPECT_EQ(stored->kind, VisitKind::Teaching);
    EXPECT_EQ(stored->after.order, order.id);
    EXPECT_EQ(stored->after.least, 1);
    EXPECT_EQ(stored->after.most, 2);

    planWeek();
    const desk::WeekPicture week = *session().nextWeek();
    ASSERT_EQ(week.problem.follows.size(), 1U);
    const std::int32_t second = week.problem.follows.front().second;
    grid().setCurrentJob(second);
    const auto labels = find<QWidget>("reasonsPanel").findChildren<QLabel *>();
    EXPECT_TRUE(std::ranges::any_of(labels, [](const QLabel *label) {
        return label->text().contains(QStringLiteral("1 to 2 days after"));
    })) << "the panel says what it comes after";
    for (const desk::BoardRow &row : grid().board().rows)
        for (const desk::BoardDay &day : row.days)
            for (const desk::VisitCard &card : day.cards)
                if (card.job == second) {
                    EXPECT_FALSE(card.breaksRule);
                }
}

TEST_F(PlanStory, ANurseIsToldOfARoundThatChangedAndTheLineCloses) {
    auto &table = find<DenseTable>("attentionTable");
    const auto rowOf = [&](NurseId nurse) {
        const Nurse *record = session().agency()->index().nurse(nurse);
        for (int row = 0; record && row < table.model()->rowCount(); ++row)
            if (table.model()->index(row, 1).data().toString().startsWith(
                    QStringLiteral("Tell %1").arg(desk::personName(*record))))
                return row;
        return -1;
    };
    window_->showPage(QStringLiteral("today"));
    const NurseId nurse = changeTomorrow();
    ASSERT_TRUE(nurse.isSet());
    const int row = rowOf(nurse);
    ASSERT_GE(row, 0) << "the nurse who lost a visit is to be told";
    table.setFocus();
    table.selectRow(row);
    auto &told = find<QPushButton>("attentionClose");
    ASSERT_TRUE(told.isVisible());
    EXPECT_TRUE(told.text().contains(QStringLiteral("told"))) << told.text().toStdString();
    EXPECT_TRUE(find<QLabel>("attentionDetail").text().contains(QStringLiteral("patients to phone")));
    withNextForm([&](QWidget &form) {
        EXPECT_FALSE(form.findChild<QLineEdit *>(QStringLiteral("told_by"))->text().isEmpty())
            << "who sits here is the first guess";
        form.findChild<QPlainTextEdit *>(QStringLiteral("note"))
            ->setPlainText(QStringLiteral("phoned, she knows"));
        press(form, "formSave");
    });
    QTest::keyClick(&table, Qt::Key_Return); // what the row asks for, as its button does
    waitComputed();
    EXPECT_EQ(rowOf(nurse), -1);
    const auto &kept = session().agency()->snapshot().planTold;
    ASSERT_EQ(kept.size(), 1U);
    EXPECT_EQ(kept.front().nurse, nurse);
    EXPECT_EQ(kept.front().note, "phoned, she knows");
    EXPECT_FALSE(desk::roundNewsOf(*session().agency(), nurse, session().today().plusDays(1)));

    withNextForm([&](QWidget &dialog) {
        auto *list = dialog.findChild<DenseTable *>(QStringLiteral("nursesToldTable"));
        auto *back = dialog.findChild<QPushButton *>(QStringLiteral("nursesToldBack"));
        ASSERT_TRUE(list && back);
        ASSERT_EQ(list->model()->rowCount(), 1);
        EXPECT_TRUE(back->isEnabled());
        withNextForm([&](QWidget &form) {
            type(form, "taken_back_why", QStringLiteral("wrong row"));
            press(form, "formSave");
        });
        QTest::keyClick(list, Qt::Key_Return);
        EXPECT_TRUE(waitFor([&] { return !back->isEnabled(); })) << "once is enough";
        constexpr int kPutBack = 6;
        EXPECT_TRUE(
            list->model()->index(0, kPutBack).data().toString().contains(QStringLiteral("wrong row")));
        press(dialog, "nursesToldClose");
    });
    find<QAction>("actionNursesTold").trigger();
    waitComputed();
    EXPECT_GE(rowOf(nurse), 0) << "she is to be told again";
    EXPECT_TRUE(session().agency()->snapshot().planTold.front().isTakenBack());
}

TEST_F(PlanStory, WhatHappenedIsNotTakenForGrantedAndNobodyIsChosenAfterIt) {
    showThisWeek();
    auto &close = find<QPushButton>("closeVisit");
    std::int32_t job = -1;
    for (const desk::BoardRow &row : desk::WeekBoard(grid().board()).rows)
        for (const desk::BoardDay &day : row.days)
            for (const desk::VisitCard &card : day.cards)
                if (job < 0) {
                    grid().setCurrentJob(card.job);
                    job = close.isEnabled() ? card.job : -1;
                }
    ASSERT_GE(job, 0);
    withNextForm([&](QWidget &form) {
        auto *start = form.findChild<QLineEdit *>(QStringLiteral("started_at"));
        ASSERT_NE(start, nullptr);
        EXPECT_TRUE(start->text().isEmpty());
        EXPECT_TRUE(start->placeholderText().startsWith(QStringLiteral("planned ")));
        EXPECT_EQ(form.findChild<QComboBox *>(QStringLiteral("status"))->currentIndex(), -1);
        press(form, "formSave");
        EXPECT_TRUE(form.isVisible()) << "what happened has to be said";
        choose(form, "status", 1);      // missed
        choose(form, "miss_reason", 1); // refused
        press(form, "formSave");
        EXPECT_FALSE(form.isVisible());
        if (form.isVisible())
            leave(form);
    });
    QTest::mouseClick(&close, Qt::LeftButton);
    EXPECT_EQ(grid().currentJob(), -1);
    EXPECT_EQ(window_->focusWidget(), &grid()) << "a second Enter opens no form";
    waitComputed();
    EXPECT_EQ(grid().currentJob(), -1);
}

TEST_F(PlanStory, AVisitAsPlannedIsFilledInByOneButtonAndTimesAreTypedWithoutAColon) {
    showThisWeek();
    auto &close = find<QPushButton>("closeVisit");
    std::int32_t job = -1;
    const LocalTime now = session().agency()->snapshot().now;
    for (const LocalTime until : {now, LocalTime{now.date, Minutes::of(24 * 60)}}) // best one that is over
        for (const desk::BoardRow &row : desk::WeekBoard(grid().board()).rows)
            for (const desk::BoardDay &day : row.days)
                for (const desk::VisitCard &card : day.cards)
                    if (job < 0 && LocalTime{day.on, card.end} <= until) {
                        grid().setCurrentJob(card.job);
                        job = close.isEnabled() ? card.job : -1;
                    }
    ASSERT_GE(job, 0);
    const Visit planned = session().thisWeek()->due[static_cast<std::size_t>(job)].visit;
    ASSERT_TRUE(planned.startAt && planned.on);
    withNextForm([&](QWidget &form) {
        const auto *start = form.findChild<QLineEdit *>(QStringLiteral("started_at"));
        const auto *end = form.findChild<QLineEdit *>(QStringLiteral("ended_at"));
        const bool isOver = LocalTime{*planned.on, *planned.startAt + planned.length} <= now;
        EXPECT_EQ(form.findChild<QPushButton *>(QStringLiteral("visitAsPlanned")) != nullptr, isOver)
            << "before its planned end nobody can say so";
        if (isOver) {
            press(form, "visitAsPlanned");
            EXPECT_EQ(start->text(), desk::timeText(*planned.startAt));
            EXPECT_EQ(end->text(), desk::timeText(*planned.startAt + planned.length));
        } else {
            choose(form, "status", 0); // made
        }
        type(form, "started_at", QStringLiteral("0701"));
        type(form, "ended_at", QStringLiteral("741"));
        press(form, "formSave");
        EXPECT_FALSE(form.isVisible());
        if (form.isVisible())
            leave(form);
    });
    QTest::mouseClick(&close, Qt::LeftButton);
    waitComputed();
    const Visit *stored = session().agency()->index().visit(planned.id);
    ASSERT_NE(stored, nullptr);
    EXPECT_EQ(stored->status, VisitStatus::Done);
    ASSERT_TRUE(stored->startedAt && stored->endedAt);
    EXPECT_EQ(stored->startedAt->minute, Minutes::of(7 * 60 + 1));
    EXPECT_EQ(stored->endedAt->minute, Minutes::of(7 * 60 + 41));
}

TEST_F(PlanStory, ACallOutOffersNoDaysThatAreOver) {
    showThisWeek();
    withNextForm([&](QWidget &form) {
        auto *day = form.findChild<QComboBox *>(QStringLiteral("on_date"));
        ASSERT_NE(day, nullptr);
        EXPECT_EQ(day->itemData(0).toLongLong(), session().today().dayNumber());
        EXPECT_GE(day->currentIndex(), 0);
        leave(form);
    });
    find<QAction>("actionCallOut").trigger();
}

TEST_F(PlanStory, TheWeekIsPublishedBesideAVisitUnderWayThatBreaksARule) {
    showThisWeek();
    desk::VisitCard underWay;
    NurseId nurse;
    for (const desk::BoardRow &row : grid().board().rows)
        for (const desk::BoardDay &day : row.days)
            for (const desk::VisitCard &card : day.cards)
                if (underWay.job < 0 && card.lockText.startsWith(QStringLiteral("Begun ")) &&
                    !card.needsTwo) {
                    underWay = card;
                    nurse = row.nurse;
                }
    ASSERT_GE(underWay.job, 0) << "at noon the sample has begun some";
    const auto isIt = [&](const Visit &visit) {
        return visit.patient == underWay.patient && visit.on == session().today() &&
               visit.startAt == underWay.start;
    };
    const auto record = [&] { return *std::ranges::find_if(session().agency()->snapshot().visits, isIt); };
    const Visit before = record();
    ASSERT_EQ(before.status, VisitStatus::Published);
    Patient patient = *session().agency()->index().patient(underWay.patient);
    if (patient.primaryNurse == nurse)
        patient.primaryNurse.reset();
    if (patient.backupNurse == nurse)
        patient.backupNurse.reset();
    patient.barredNurses.push_back(nurse); // heard of when she is at the door
    ASSERT_FALSE(session().write(QStringLiteral("Saved a patient"),
                                 [&](desk::Desk &desk) { return desk.save(patient); }));
    waitComputed();
    EXPECT_FALSE(session().thisWeek()->evaluation.broken.empty());
    planWeek();
    QUndoStack &undo = *find<Page>("calendarPage").undoStack();
    for (const desk::BoardRow &row : desk::WeekBoard(grid().board()).rows) // else there is nothing to publish
        for (const desk::BoardDay &day : row.days)
            for (const desk::VisitCard &card : day.cards)
                if (undo.isClean() && !card.isLocked && !card.needsTwo) {
                    grid().setCurrentJob(card.job);
                    QTest::keyClick(&grid(), Qt::Key_Delete);
                }
    ASSERT_FALSE(undo.isClean()) << "no visit could be taken out";
    Ask::nextAnswer(true); // publishing is asked once
    find<QPushButton>("planPublish").click();
    waitComputed();
    EXPECT_TRUE(undo.isClean()) << Ask::lastSaid().toStdString();
    const auto versions = session().desk().planVersions(session().thisWeek()->week.from);
    ASSERT_TRUE(versions);
    EXPECT_GT(std::ranges::find(*versions, PlanStatus::Published, &Plan::status)->version, 1);
    EXPECT_EQ(record().status, VisitStatus::Published);
    EXPECT_EQ(plannedPlace(record()), plannedPlace(before)) << "it stays where it began";
    const auto telling = desk::roundNewsOf(*session().agency(), nurse, session().today());
    EXPECT_TRUE(!telling || std::ranges::find(telling->patients, underWay.patient) == telling->patients.end())
        << "of what has begun nobody has to be told anything";
}

TEST_F(PlanStory, AnOwedVisitIsCalledOffWithAReasonAndIsNotOwedAgain) {
    window_->showPage(QStringLiteral("calendar"));
    std::int32_t job = -1;
    for (const desk::VisitCard &card : grid().board().tray)
        if (session().nextWeek()->due[static_cast<std::size_t>(card.job)].visit.order)
            job = card.job;
    ASSERT_GE(job, 0);
    const Visit chosen = session().nextWeek()->due[static_cast<std::size_t>(job)].visit;
    const auto owed = [&] {
        return std::ranges::count_if(session().nextWeek()->due, [&](const rounds::DueVisit &due) {
            return due.visit.patient == chosen.patient && due.visit.order == chosen.order;
        });
    };
    const auto before = owed();
    grid().setCurrentJob(job);
    auto &drop = find<QPushButton>("dropVisit");
    ASSERT_TRUE(drop.isVisible());
    Ask::nextText(QStringLiteral(" ")); // Enter, too early
    Ask::nextText(QStringLiteral("prescriber: one fewer this week"));
    QTest::mouseClick(&drop, Qt::LeftButton);
    waitComputed();
    EXPECT_EQ(owed(), before - 1);
}

TEST_F(PlanStory, ACallOutInAPlanOfTwoWeeksMendsAndPublishesBoth) {
    window_->showPage(QStringLiteral("calendar"));
    auto &weeks = find<QComboBox>("weeksTogether");
    weeks.setFocus();
    QTest::keyClick(&weeks, Qt::Key_Down);
    auto &status = find<QLabel>("planStatus");
    ASSERT_TRUE(waitFor([&] { return status.text().contains(QStringLiteral("in 2 weeks")); }));
    planWeek();
    Ask::nextAnswer(true); // publishing is asked once
    find<QPushButton>("planPublish").click();
    waitComputed();
    ASSERT_TRUE(waitFor([&] { return window_->findChildren<BackgroundJob *>().isEmpty(); }))
        << "both weeks are read again";
    const Date first = session().nextWeek()->week.from;
    // Her last working day of the first week with visits: what is owed there may go over the week's end.
    NurseId nurse;
    Date day;
    for (const desk::BoardRow &row : grid().board().rows)
        for (const desk::BoardDay &d : row.days)
            if (d.cards.size() >= 2 && d.on >= day) {
                nurse = row.nurse;
                day = d.on;
            }
    ASSERT_TRUE(nurse.isSet());
    int listed = 0;
    withNextForm([&](QWidget &form) {
        for (const auto &[field, value] :
             {std::pair("nurse_id", nurse.value()), std::pair("on_date", day.dayNumber())}) {
            auto *box = form.findChild<QComboBox *>(QString::fromLatin1(field));
            ASSERT_NE(box, nullptr);
            box->setCurrentIndex(box->findData(QVariant(qint64(value))));
        }
        withNextForm([&](QWidget &dialog) {
            auto *accept = dialog.findChild<QPushButton *>(QStringLiteral("repairAccept"));
            ASSERT_TRUE(waitFor([&] { return accept->isEnabled(); }, 10000));
            listed = dialog.findChild<DenseTable *>(QStringLiteral("repairTable"))->model()->rowCount();
            accept->click();
        });
        press(form, "formSave");
    });
    find<QAction>("actionCallOut").trigger();
    waitComputed();
    EXPECT_GE(listed, 2);
    for (const Date from : {first, first.plusDays(7)}) {
        const auto versions = session().desk().planVersions(from);
        ASSERT_TRUE(versions);
        EXPECT_EQ(std::ranges::count(*versions, PlanStatus::Published, &Plan::status), 1) << from.toIso();
        EXPECT_EQ(std::ranges::count(*versions, PlanStatus::Superseded, &Plan::status), 1) << from.toIso();
    }
    const auto &visits = session().agency()->snapshot().visits;
    EXPECT_TRUE(std::ranges::none_of(visits, [&](const Visit &v) {
        return v.on == day && v.nurse == nurse && v.status == VisitStatus::Published;
    }));
}

} // namespace
} // namespace kitround::ui
