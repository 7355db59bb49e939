// A patient's record on its page: what ends or interrupts care is shown before it is done and can be taken
// back, what is to come is seen, and nobody's record stands under another name.
#include "core/desk/views/PatientView.h"
#include "core/desk/words/Words.h"
#include "tests/gui/PageStory.h"
#include "ui/people/CareForms.h"
#include "ui/people/PatientForm.h"
#include "ui/people/PatientsPage.h"
#include "ui/shared/DenseTable.h"

#include <QComboBox>
#include <QDialog>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QTabWidget>

#include <algorithm>

namespace kitround::ui {
namespace {

class PatientRecords : public PageStory {
protected:
    PatientRecords() {
        patients_ = std::make_unique<PatientsPage>(session_);
        patients_->resize(1060, 640);
        patients_->setVisible(true);
        openSample();
    }
    ~PatientRecords() override { patients_.reset(); }

    const SnapshotIndex &index() const { return session_.agency()->index(); }
    const Snapshot &snapshot() const { return session_.agency()->snapshot(); }
    QPushButton &button(const char *name) { return in<QPushButton>(*patients_, name); }
    static void save(QWidget &form) { in<QPushButton>(form, "formSave").click(); }
    static void leave(QWidget &form) {
        if (form.isVisible())
            static_cast<QDialog &>(form).done(QDialog::Rejected);
    }
    static void type(QWidget &form, const char *field, const QString &text) {
        in<QLineEdit>(form, field).setText(text);
    }
    static bool isAtFault(QWidget &form, const char *fault) { return !in<QLabel>(form, fault).isHidden(); }
    // On service, never on hold, with one catheter whose order is older than today and has no end.
    Patient atHome() const {
        const auto found = std::ranges::find_if(snapshot().patients, [&](const Patient &p) {
            const auto catheters = index().cathetersOf(p.id);
            if (p.status != CareStatus::Active || !index().holdsOf(p.id).empty() || catheters.size() != 1 ||
                catheters.front()->removedAt)
                return false;
            const DrainOrder *order = index().orderInForce(catheters.front()->id, session_.today());
            return order && !order->end && order->start < session_.today() &&
                   index().ordersOf(catheters.front()->id).back()->id == order->id;
        });
        EXPECT_NE(found, snapshot().patients.end());
        return found == snapshot().patients.end() ? Patient{} : *found;
    }
    void openTabOf(const char *part) {
        auto &tabs = in<QTabWidget>(*patients_, "patientTabs");
        for (int i = 0; i < tabs.count(); ++i)
            if (tabs.widget(i)->isAncestorOf(&in<QWidget>(*patients_, part)))
                tabs.setCurrentIndex(i);
    }

    std::unique_ptr<PatientsPage> patients_;
};

TEST_F(PatientRecords, AnExitIsShownFirstAndOneByMistakeIsTakenBack) {
    const Patient patient = atHome();
    withNextDialog([&](QWidget &form) {
        EXPECT_LT(in<QComboBox>(form, "to").currentIndex(), 0) << "nobody has said why";
        save(form);
        EXPECT_TRUE(isAtFault(form, "to_fault"));
        EXPECT_TRUE(isAtFault(form, "exit_reason_fault"));
        in<QComboBox>(form, "to").setCurrentIndex(0);
        type(form, "exit_reason", QStringLiteral("goals met"));
        save(form); // with no answer given the question is declined
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("Orders ended: ")))
            << Ask::lastSaid().toStdString();
        EXPECT_EQ(session_.desk().agency()->index().patient(patient.id)->status, CareStatus::Active);
        Ask::nextAnswer(true);
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    EXPECT_TRUE(leaveService(patients_.get(), session_, patient));
    ASSERT_TRUE(settled());
    EXPECT_EQ(index().patient(patient.id)->status, CareStatus::Discharged);
    patients_->selectPatient(patient.id);
    ASSERT_TRUE(button("patientBack").isVisible());
    withNextDialog([&](QWidget &form) {
        save(form);
        EXPECT_TRUE(isAtFault(form, "why_fault"));
        type(form, "why", QStringLiteral("meant somebody else"));
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    button("patientBack").click();
    ASSERT_TRUE(settled());
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("Orders in force again: ")))
        << Ask::lastSaid().toStdString();
    EXPECT_EQ(index().patient(patient.id)->status, CareStatus::Active);
    EXPECT_NE(index().orderInForce(index().cathetersOf(patient.id).front()->id, session_.today().plusDays(2)),
              nullptr);
}

TEST_F(PatientRecords, AHoldThatStartsTomorrowIsSeenChangedAndCalledOff) {
    const Patient patient = atHome();
    withNextDialog([&](QWidget &form) {
        type(form, "from_edit", QStringLiteral("+1"));
        EXPECT_FALSE(in<QLabel>(form, "falls_out").text().isEmpty());
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    EXPECT_TRUE(putOnHold(patients_.get(), session_, patient));
    ASSERT_TRUE(settled());
    patients_->selectPatient(patient.id);
    const QString from = QStringLiteral("on hold from %1").arg(desk::dayText(session_.today().plusDays(1)));
    for (const char *label : {"patientFacts", "patientName"})
        EXPECT_TRUE(in<QLabel>(*patients_, label).text().contains(from)) << label;
    auto &table = in<DenseTable>(*patients_, "patientTable");
    EXPECT_TRUE(table.model()->index(table.currentIndex().row(), 2).data().toString().contains(from));
    EXPECT_FALSE(button("patientHold").isVisible());
    EXPECT_FALSE(button("patientEndHold").isVisible()) << "it has not begun";
    withNextDialog([&](QWidget &form) {
        type(form, "from_edit", QStringLiteral("+3"));
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    button("patientChangeHold").click();
    ASSERT_TRUE(settled());
    ASSERT_NE(desk::holdToTell(*session_.agency(), patient.id), nullptr);
    EXPECT_EQ(desk::holdToTell(*session_.agency(), patient.id)->from, session_.today().plusDays(3));
    Ask::nextAnswer(true);
    button("patientCallOffHold").click();
    ASSERT_TRUE(settled());
    EXPECT_EQ(desk::holdToTell(*session_.agency(), patient.id), nullptr);
    EXPECT_TRUE(button("patientHold").isVisible());
}

TEST_F(PatientRecords, ASearchWithoutAHitShowsNobodysRecordAndEndsWithItsFile) {
    auto &tabs = in<QTabWidget>(*patients_, "patientTabs");
    auto &search = in<QLineEdit>(*patients_, "patientSearch");
    ASSERT_TRUE(tabs.isVisible());
    search.setText(QStringLiteral("nobody is called this"));
    EXPECT_FALSE(tabs.isVisible());
    search.clear();
    EXPECT_TRUE(tabs.isVisible());
    search.setText(QStringLiteral("nobody is called this"));
    session_.close();
    EXPECT_TRUE(search.text().isEmpty());
    EXPECT_FALSE(tabs.isVisible());
}

TEST_F(PatientRecords, ANewReferralHasTheDayOfTodayUntilSomebodyKnowsBetter) {
    withNextDialog([&](QWidget &form) {
        EXPECT_FALSE(in<QLineEdit>(form, "referred_at_edit").text().isEmpty());
        type(form, "code", QStringLiteral("Q-999"));
        type(form, "family_name", QStringLiteral("Quillfeather"));
        type(form, "referred_at_edit", {});
        type(form, "referred_at_time", {});
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(isAtFault(form, "referred_at_fault"));
        leave(form);
    });
    EXPECT_FALSE(editPatient(patients_.get(), session_, Patient{}));
}

TEST_F(PatientRecords, OfWhoIsInCareAlreadyNoReferralOfTodayIsProposed) {
    withNextDialog([&](QWidget &form) {
        auto &status = in<QComboBox>(form, "status");
        auto &day = in<QLineEdit>(form, "referred_at_edit");
        auto &time = in<QLineEdit>(form, "referred_at_time");
        const QString proposed = day.text();
        EXPECT_FALSE(proposed.isEmpty());
        status.setCurrentIndex(status.findData(qint64(CareStatus::Active)));
        EXPECT_TRUE(day.text().isEmpty());
        EXPECT_TRUE(time.text().isEmpty());
        status.setCurrentIndex(status.findData(qint64(CareStatus::Referred)));
        EXPECT_EQ(day.text(), proposed);
        EXPECT_FALSE(time.text().isEmpty());
        type(form, "referred_at_time", QStringLiteral("06:05")); // somebody knows
        status.setCurrentIndex(status.findData(qint64(CareStatus::Active)));
        EXPECT_EQ(time.text(), QStringLiteral("06:05"));
        leave(form);
    });
    EXPECT_FALSE(editPatient(patients_.get(), session_, Patient{}));
}

TEST_F(PatientRecords, ACatheterWithoutAnOrderHasNoNextDrain) {
    const auto found = std::ranges::find(snapshot().patients, std::string("Q-150"), &Patient::code);
    ASSERT_NE(found, snapshot().patients.end());
    patients_->selectPatient(found->id);
    openTabOf("catheterAdd");
    const auto cards = patients_->findChildren<QLabel *>();
    EXPECT_TRUE(std::ranges::any_of(cards, [](const QLabel *label) {
        return label->text().contains(QStringLiteral("Next drain: none is ordered"));
    }));
    const auto &table = in<DenseTable>(*patients_, "patientTable");
    const QString state = QStringLiteral("active; no drain order");
    ASSERT_TRUE(table.currentIndex().siblingAtColumn(2).data().toString().startsWith(state));
    EXPECT_GT(table.columnWidth(2), table.fontMetrics().horizontalAdvance(state))
        << "what is missing is read";
}

TEST_F(PatientRecords, AReferralThatCameWithoutItsDayIsNotStoppedByTheForm) {
    Patient old = atHome();
    old.status = CareStatus::Referred;
    old.referredAt.reset();
    withNextDialog([&](QWidget &form) {
        type(form, "born_on_edit", QStringLiteral("no day"));
        save(form);
        EXPECT_TRUE(isAtFault(form, "born_on_fault"));
        EXPECT_FALSE(isAtFault(form, "referred_at_fault"));
        leave(form);
    });
    EXPECT_FALSE(editPatient(patients_.get(), session_, old));
}

TEST_F(PatientRecords, AVolumeAboveTheCommonLimitIsReadBeforeItIsSavedAndTheKeyboardStays) {
    const Patient patient = atHome();
    patients_->selectPatient(patient.id);
    openTabOf("catheterAdd");
    button("orderNew").setFocus();
    withNextDialog([&](QWidget &form) {
        type(form, "most_per_session_ml", QStringLiteral("5000"));
        in<QComboBox>(form, "extra_bottle_id").setCurrentIndex(0);
        withNextDialog([&](QWidget &preview) {
            EXPECT_TRUE(in<QPushButton>(preview, "orderBack").isDefault());
            EXPECT_FALSE(in<QPushButton>(preview, "orderSave").isDefault());
            const auto labels = preview.findChildren<QLabel *>();
            EXPECT_TRUE(std::ranges::any_of(labels, [](const QLabel *label) {
                return label->text() == QStringLiteral("the kit again");
            })) << "as the form calls it";
            const QWidget &content = *in<QScrollArea>(preview, "orderArea").widget();
            for (const QLabel *label : content.findChildren<QLabel *>())
                EXPECT_GE(label->height(), label->heightForWidth(label->width()))
                    << "cut: " << label->text().toStdString();
            const auto said = preview.findChildren<QLabel *>(QStringLiteral("orderWarning"));
            EXPECT_TRUE(std::ranges::any_of(said, [](const QLabel *label) {
                return label->text().contains(QStringLiteral("above the common limit of "));
            }));
            in<QPushButton>(preview, "orderSave").click();
        });
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    button("orderNew").click();
    ASSERT_TRUE(settled());
    ASSERT_NE(patients_->focusWidget(), nullptr);
    EXPECT_EQ(patients_->focusWidget()->objectName(), QStringLiteral("orderNew"));
    const auto cards = patients_->findChildren<QLabel *>();
    EXPECT_TRUE(std::ranges::any_of(cards, [](const QLabel *label) {
        return label->text().contains(QStringLiteral("At most 5,000 mL in one session, above the common "));
    }));
}

TEST_F(PatientRecords, MoreUsedThanOnRecordIsSaidSo) {
    const Patient patient = atHome();
    const CatheterId catheter = index().cathetersOf(patient.id).front()->id;
    DrainEntry entry;
    entry.catheter = catheter;
    entry.at = {session_.today(), Minutes::of(11 * 60 + 7)};
    entry.volume = Millilitres::of(300);
    entry.supplies = {
        {index().orderInForce(catheter, session_.today())->kit, Eaches::of(50), Eaches{}, std::nullopt}};
    ASSERT_FALSE(session_.write(QStringLiteral("Logged"), [&](desk::Desk &d) { return d.logDrain(entry); })
                     .has_value());
    ASSERT_TRUE(settled());
    patients_->selectPatient(patient.id);
    openTabOf("homeStockBelow");
    const QString said = in<QLabel>(*patients_, "homeStockBelow").text();
    EXPECT_TRUE(said.contains(QStringLiteral("more used than on record. Record a count.")))
        << said.toStdString();
    EXPECT_TRUE(in<QLabel>(*patients_, "homeStockBelow").isVisible());
}

TEST_F(PatientRecords, VisitsAndTheirOrdersAreReadWithoutScrollingSideways) {
    const auto &orders = snapshot().visitOrders;
    const auto visited = std::ranges::find_if(orders, [&](const VisitOrder &o) {
        const Patient *p = index().patient(o.patient);
        return p && p->status == CareStatus::Active && !index().visitsOf(o.patient).empty();
    });
    ASSERT_NE(visited, orders.end());
    patients_->selectPatient(visited->patient);
    openTabOf("visitOrders");
    auto &list = in<DenseTable>(*patients_, "visitOrders");
    ASSERT_TRUE(waitFor([&] { return list.isVisible() && list.model()->rowCount() > 0; }));
    EXPECT_EQ(list.horizontalScrollBar()->maximum(), 0);
    picture(*patients_, "visit-orders");
    openTabOf("patientVisits");
    auto &visits = in<DenseTable>(*patients_, "patientVisits");
    ASSERT_TRUE(waitFor([&] { return visits.isVisible(); }));
    EXPECT_EQ(visits.horizontalScrollBar()->maximum(), 0);
    const int moment = visits.fontMetrics().horizontalAdvance(QStringLiteral("Tue 24 Nov 10:30"));
    const auto isWithTime = [&] {
        for (int row = 0; row < visits.model()->rowCount(); ++row)
            if (visits.model()->index(row, 0).data().toString().contains(u':'))
                return true;
        return false;
    };
    EXPECT_TRUE(!isWithTime() || visits.columnWidth(0) >= moment) << visits.columnWidth(0);
    picture(*patients_, "visits");
}

} // namespace
} // namespace kitround::ui
