#pragma once
// The sample agency in the window, with what the stories of a published plan do again and again.
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "tests/gui/GridPointer.h"
#include "tests/gui/WindowFixture.h"
#include "ui/shared/Page.h"

#include <QComboBox>
#include <QPushButton>
#include <QTabWidget>
#include <QToolButton>

#include <algorithm>

namespace kitround::ui {

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

} // namespace kitround::ui
