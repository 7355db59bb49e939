// The coordinator ties two orders together, tells a nurse of a round that changed, calls a visit off, and
// mends two weeks as one.
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "core/desk/words/Words.h"
#include "tests/gui/GridPointer.h"
#include "tests/gui/WindowFixture.h"
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

#include <algorithm>

namespace kitround::ui {
namespace {

class PlanStory : public WindowTest {
protected:
    void SetUp() override {
        WindowTest::SetUp();
        openSample();
    }
    WeekGrid &grid() { return find<WeekGrid>("weekGrid"); }
    static void choose(QWidget &form, const char *field, int index) {
        auto *box = form.findChild<QComboBox *>(QString::fromLatin1(field));
        ASSERT_NE(box, nullptr) << field;
        ASSERT_LT(index, box->count()) << field;
        box->setFocus();
        while (box->currentIndex() < index)
            QTest::keyClick(box, Qt::Key_Down);
    }
    static void press(QWidget &form, const char *button) {
        auto *found = form.findChild<QPushButton *>(QString::fromLatin1(button));
        ASSERT_NE(found, nullptr) << button;
        QTest::mouseClick(found, Qt::LeftButton);
    }
    bool isOwedNextWeek(VisitOrderId order) {
        return std::ranges::any_of(session().nextWeek()->due,
                                   [&](const rounds::DueVisit &due) { return due.visit.order == order; });
    }
    // A patient with one visit order, owed next week, who needs one nurse only.
    const VisitOrder *lonelyOrder() {
        const SnapshotIndex &index = session().agency()->index();
        for (const VisitOrder &order : session().agency()->snapshot().visitOrders) {
            const Patient *patient = index.patient(order.patient);
            if (patient && patient->status == CareStatus::Active && !patient->needsTwoNurses &&
                !order.twoNurses && index.visitOrdersOf(order.patient).size() == 1 &&
                order.kind == VisitKind::Routine && isOwedNextWeek(order.id) &&
                !index.holdOn(order.patient, session().today()))
                return &order;
        }
        return nullptr;
    }
    void showVisitOrders(PatientId patient) {
        window_->showPage(QStringLiteral("patients"));
        Q_EMIT window_->findChild<Page *>(QStringLiteral("todayPage"))->showPatient(patient.value());
        auto &tabs = find<QTabWidget>("patientTabs");
        for (int i = 0; i < tabs.count(); ++i)
            if (tabs.widget(i)->findChild<QPushButton *>(QStringLiteral("visitOrderAdd")))
                tabs.setCurrentIndex(i);
    }
    void showThisWeek() {
        window_->showPage(QStringLiteral("calendar"));
        QTest::mouseClick(&find<QToolButton>("weekBack"), Qt::LeftButton);
        ASSERT_TRUE(waitFor([&] {
            const desk::WeekBoard &board = grid().board();
            return !board.rows.empty() && board.rows.front().days.front().on <= session().today();
        }));
        waitComputed();
    }
    std::size_t waiting() { return desk::patientCalls(*session().agency()).size(); }
    // Tomorrow's first visit that another nurse may take, given to her and published.
    NurseId changeTomorrow() {
        const auto week = session().thisWeek();
        const Date tomorrow = session().today().plusDays(1);
        for (const desk::PlacedJob &placed : desk::placedJobs(*week)) {
            if (desk::dayOfDuty(*week, placed.duty) != tomorrow)
                continue;
            for (const Nurse &other : session().agency()->snapshot().nurses) {
                const NurseId was = desk::nurseOfDuty(*week, placed.duty);
                if (other.id == was || !other.isActive)
                    continue;
                const auto offer = desk::offerMove(*week, placed.job, other.id, tomorrow);
                if (!offer.isAllowed())
                    continue;
                EXPECT_FALSE(session().write(QStringLiteral("Moved a visit"), [&](desk::Desk &desk) {
                    return desk.acceptPlan(week->week.from, desk::visitsOf(*offer.after), 1, 0, true);
                }));
                waitComputed();
                return was;
            }
        }
        return {};
    }
};

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

TEST_F(PlanStory, AHomeIsTickedOffOnceSomebodyThereHasHeardOfTheChange) {
    window_->showPage(QStringLiteral("today"));
    withNextForm([&](QWidget &dialog) {
        EXPECT_TRUE(dialog.findChild<QLabel *>(QStringLiteral("patientCallsHead"))
                        ->text()
                        .contains(QStringLiteral("No home has to be phoned")))
            << "an empty list says what it is for";
        EXPECT_FALSE(dialog.findChild<QPushButton *>(QStringLiteral("patientCallsReached"))->isEnabled());
        press(dialog, "patientCallsClose");
    });
    find<QAction>("actionPatientCalls").trigger();

    ASSERT_TRUE(changeTomorrow().isSet());
    auto &table = find<DenseTable>("attentionTable");
    const auto row = [&] {
        for (int at = 0; at < table.model()->rowCount(); ++at)
            if (table.model()->index(at, 1).data().toString().contains(QStringLiteral("to phone about")))
                return at;
        return -1;
    };
    ASSERT_GE(row(), 0);
    table.setFocus();
    table.selectRow(row());
    EXPECT_TRUE(find<QPushButton>("attentionOpen").text().contains(QStringLiteral("call list")));
    const auto homes = waiting();
    ASSERT_GE(homes, 1U);
    withNextForm([&](QWidget &dialog) {
        auto *calls = dialog.findChild<DenseTable *>(QStringLiteral("patientCallsTable"));
        ASSERT_NE(calls, nullptr);
        const int rows = calls->model()->rowCount();
        const auto record = [&](int choice) {
            withNextForm([&](QWidget &form) {
                press(form, "formSave");
                EXPECT_TRUE(form.isVisible()) << "who was reached has to be said";
                choose(form, "reached", choice);
                press(form, "formSave");
            });
            QTest::keyClick(calls, Qt::Key_Return);
        };
        constexpr int kTried = 5;
        record(3); // nobody
        EXPECT_TRUE(waitFor([&] {
            return calls->currentIndex().siblingAtColumn(kTried).data().toString().contains(
                QStringLiteral("nobody answered"));
        }));
        EXPECT_EQ(calls->model()->rowCount(), rows);
        const QString copy = path("calls.csv");
        Ask::nextText(copy);
        press(dialog, "patientCallsCsv");
        EXPECT_TRUE(QFile::exists(copy));
        const QString paper = path("calls.pdf");
        Ask::nextChoice(1); // save as PDF
        Ask::nextText(paper);
        press(dialog, "patientCallsPrint");
        EXPECT_TRUE(QFile::exists(paper));
        record(0); // the patient
        EXPECT_TRUE(waitFor([&] { return waiting() == homes - 1; }));
        EXPECT_LT(calls->model()->rowCount(), rows);
        press(dialog, "patientCallsClose");
    });
    QTest::keyClick(&table, Qt::Key_Return);
    waitComputed();
    EXPECT_EQ(waiting(), homes - 1);
    EXPECT_EQ(row() >= 0, homes > 1);
    const auto &kept = session().agency()->snapshot().patientTold;
    ASSERT_EQ(kept.size(), 2U);
    EXPECT_EQ(kept[0].reached, Reached::Nobody);
    EXPECT_EQ(kept[1].reached, Reached::Patient);
    EXPECT_EQ(kept[0].visits, kept[1].visits);
}

TEST_F(PlanStory, ACallWrittenDownWronglyIsPutBackByEnterAndByItsKey) {
    window_->resize(1600, 900);
    window_->showPage(QStringLiteral("today"));
    ASSERT_TRUE(changeTomorrow().isSet());
    const auto homes = waiting();
    ASSERT_GE(homes, 1U);
    withNextForm([&](QWidget &dialog) {
        EXPECT_EQ(dialog.width(), window_->width() * 4 / 5);
        auto *calls = dialog.findChild<DenseTable *>(QStringLiteral("patientCallsTable"));
        auto *recorded = dialog.findChild<DenseTable *>(QStringLiteral("recordedCallsTable"));
        auto *back = dialog.findChild<QPushButton *>(QStringLiteral("patientCallsBack"));
        ASSERT_TRUE(calls && recorded && back);
        EXPECT_FALSE(recorded->isVisible()) << "nothing was written down";
        EXPECT_FALSE(back->isEnabled());
        const auto reach = [&] {
            const int before = recorded->model()->rowCount();
            withNextForm([&](QWidget &form) {
                choose(form, "reached", 0);
                press(form, "formSave");
            });
            QTest::keyClick(calls, Qt::Key_Return);
            EXPECT_TRUE(waitFor([&] { return recorded->model()->rowCount() == before + 1; }));
            EXPECT_EQ(waiting(), homes - 1);
            recorded->setCurrentIndex(recorded->model()->index(0, 0)); // the newest
        };
        reach();
        EXPECT_TRUE(recorded->isVisible() && back->isEnabled());
        const auto giveReason = [&](const QString &why) {
            withNextForm([this, why](QWidget &form) {
                press(form, "formSave");
                EXPECT_TRUE(form.isVisible()) << "a reason has to be given";
                type(form, "taken_back_why", why);
                press(form, "formSave");
            });
        };
        giveReason(QStringLiteral("wrong row"));
        recorded->setFocus();
        QTest::keyClick(recorded, Qt::Key_Return);
        EXPECT_TRUE(waitFor([&] { return waiting() == homes; }));
        constexpr int kPutBack = 6;
        EXPECT_TRUE(
            recorded->model()->index(0, kPutBack).data().toString().contains(QStringLiteral("wrong row")));
        EXPECT_FALSE(back->isEnabled()) << "once is enough";
        reach();
        dialog.activateWindow(); // the form before it had the keyboard
        ASSERT_TRUE(waitFor([&] { return dialog.isActiveWindow() && back->isEnabled(); }));
        giveReason(QStringLiteral("it was the neighbour"));
        QTest::keyClick(&dialog, Qt::Key_B, Qt::ControlModifier);
        EXPECT_TRUE(waitFor([&] { return waiting() == homes; }));
        press(dialog, "patientCallsClose");
    });
    find<QAction>("actionPatientCalls").trigger();
    const auto &kept = session().agency()->snapshot().patientTold;
    ASSERT_EQ(kept.size(), 2U) << "both calls stay on record";
    EXPECT_TRUE(kept[0].isTakenBack() && kept[1].isTakenBack());
}

TEST_F(PlanStory, AfterACallTheFirstHomeThatWaitsIsNext) {
    window_->showPage(QStringLiteral("today"));
    std::vector<PatientId> homes;
    for (const Visit &visit : std::vector<Visit>(session().agency()->snapshot().visits))
        if (homes.size() < 3 && visit.status == VisitStatus::Published && visit.order && visit.on &&
            *visit.on > session().today() && std::ranges::find(homes, visit.patient) == homes.end()) {
            homes.push_back(visit.patient);
            EXPECT_FALSE(session().write(QStringLiteral("Called off a visit"), [&](desk::Desk &desk) {
                return desk.dropVisit(visit, "prescriber: one fewer");
            }));
            waitComputed();
        }
    const std::size_t before = waiting();
    ASSERT_GE(before, 2U);
    withNextForm([&](QWidget &dialog) {
        auto *calls = dialog.findChild<DenseTable *>(QStringLiteral("patientCallsTable"));
        ASSERT_NE(calls, nullptr);
        calls->setCurrentIndex(calls->model()->index(calls->model()->rowCount() - 1, 0));
        withNextForm([&](QWidget &form) {
            choose(form, "reached", 0);
            press(form, "formSave");
        });
        QTest::keyClick(calls, Qt::Key_Return);
        EXPECT_TRUE(waitFor([&] { return waiting() == before - 1; }));
        EXPECT_EQ(calls->currentIndex().row(), 0) << "nobody is skipped";
        press(dialog, "patientCallsClose");
    });
    find<QAction>("actionPatientCalls").trigger();
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
