// The forms of a person's record, opened as the pages open them: what only somebody at the bedside knows
// opens without an answer and is asked for by name, and where the keyboard is once a step is done.
#include "core/desk/words/Words.h"
#include "tests/gui/PageStory.h"
#include "tests/gui/support/AttentionLines.h"
#include "ui/people/CareForms.h"
#include "ui/people/DrainOrderForm.h"
#include "ui/people/NurseForm.h"
#include "ui/people/PatientForm.h"
#include "ui/people/PatientsPage.h"
#include "ui/people/ShiftForms.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/VisitForm.h"
#include "ui/today/TodayPage.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialog>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTabWidget>

#include <algorithm>
#include <string>

namespace kitround::ui {
namespace {

class PeopleForms : public PageStory {
protected:
    PeopleForms() {
        today_ = std::make_unique<TodayPage>(session_);
        patients_ = std::make_unique<PatientsPage>(session_);
        for (QWidget *page : std::initializer_list<QWidget *>{today_.get(), patients_.get()}) {
            page->resize(1100, 680);
            page->setVisible(true);
        }
        openSample();
    }
    ~PeopleForms() override {
        today_.reset();
        patients_.reset();
    }

    const Snapshot &snapshot() const { return session_.agency()->snapshot(); }
    static void save(QWidget &form) { in<QPushButton>(form, "formSave").click(); }
    // A form that was not saved as it should be must not keep the test waiting.
    static void leave(QWidget &form) {
        if (form.isVisible())
            static_cast<QDialog &>(form).done(QDialog::Rejected);
    }
    static bool isAtFault(QWidget &form, const std::string &field) {
        const QLabel &fault = in<QLabel>(form, (field + "_fault").c_str());
        return !fault.isHidden() && !fault.text().isEmpty();
    }
    static bool isUnchosen(QWidget &form, const char *field) {
        const QComboBox &box = in<QComboBox>(form, field);
        return box.currentIndex() < 0 && box.count() > 0;
    }
    template <class Enum>
    static void choose(QWidget &form, const char *field, Enum value) {
        auto &box = in<QComboBox>(form, field);
        const int at = box.findData(static_cast<qint64>(value));
        EXPECT_GE(at, 0) << field;
        box.setCurrentIndex(at);
    }
    static void type(QWidget &form, const char *field, const std::string &text) {
        in<QLineEdit>(form, field).setText(QString::fromStdString(text));
    }
    // Somebody on service at home whom no hold was ever entered for.
    Patient atHome() const {
        const auto &all = snapshot().patients;
        const SnapshotIndex &index = session_.agency()->index();
        const auto found = std::ranges::find_if(all, [&](const Patient &p) {
            return p.status == CareStatus::Active && p.bornOn && index.holdsOf(p.id).empty();
        });
        EXPECT_NE(found, all.end());
        return found == all.end() ? Patient{} : *found;
    }

    std::unique_ptr<TodayPage> today_;
    std::unique_ptr<PatientsPage> patients_;
};

TEST_F(PeopleForms, ANewDrainOrderSaysNothingThePrescriberDidNot) {
    ASSERT_FALSE(snapshot().drainOrders.empty());
    const CatheterId catheter = snapshot().drainOrders.front().catheter;
    const std::size_t before = snapshot().drainOrders.size();
    withNextDialog([&](QWidget &form) {
        EXPECT_TRUE(isUnchosen(form, "pattern"));
        EXPECT_FALSE(in<QWidget>(form, "anchor").isVisible()) << "nothing to count from yet";
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(isAtFault(form, "pattern"));
        choose(form, "pattern", DrainPatternKind::EveryNDays);
        EXPECT_FALSE(isAtFault(form, "pattern")) << "mended";
        EXPECT_TRUE(in<QWidget>(form, "anchor").isVisible());
        EXPECT_TRUE(in<QLineEdit>(form, "anchor_edit").text().isEmpty())
            << in<QLineEdit>(form, "anchor_edit").text().toStdString();
        EXPECT_TRUE(in<QLineEdit>(form, "every_days").text().isEmpty());
        EXPECT_EQ(form.windowTitle(), QStringLiteral("New drain order: ") +
                                          desk::nameWithCode(session_.agency()->index(), catheter));
        picture(form, "new-drain-order");
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(isAtFault(form, "every_days"));
        EXPECT_TRUE(isAtFault(form, "anchor"));
        type(form, "every_days", "2");
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_FALSE(isAtFault(form, "every_days"));
        EXPECT_TRUE(isAtFault(form, "anchor")) << "no order counts from a day nobody named";
        leave(form);
    });
    EXPECT_FALSE(newDrainOrder(patients_.get(), session_, catheter, nullptr));
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().drainOrders.size(), before);
}

TEST_F(PeopleForms, ANewCatheterHasTheSiteAndSideSomebodyNamed) {
    const PatientId patient = atHome().id;
    const auto count = [&] {
        return std::ranges::count_if(snapshot().catheters, [&](const Catheter &c) {
            return c.patient == patient && c.site == CavitySite::Abdomen && c.side == Side::Left;
        });
    };
    const auto before = count();
    withNextDialog([&](QWidget &form) {
        const QString whose = desk::nameWithCode(session_.agency()->index(), patient);
        EXPECT_TRUE(whose.contains(QStringLiteral(" (Q-"))) << whose.toStdString();
        EXPECT_EQ(form.windowTitle(), QStringLiteral("New catheter: ") + whose);
        EXPECT_TRUE(isUnchosen(form, "site"));
        EXPECT_TRUE(isUnchosen(form, "side"));
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(isAtFault(form, "site"));
        EXPECT_TRUE(isAtFault(form, "side"));
        choose(form, "site", CavitySite::Abdomen);
        save(form);
        EXPECT_TRUE(form.isVisible()) << "half of it is not enough";
        EXPECT_FALSE(isAtFault(form, "site"));
        EXPECT_TRUE(isAtFault(form, "side"));
        choose(form, "side", Side::Left);
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    Catheter catheter;
    catheter.patient = patient;
    EXPECT_TRUE(editCatheter(patients_.get(), session_, catheter));
    ASSERT_TRUE(settled());
    EXPECT_EQ(count(), before + 1);
}

TEST_F(PeopleForms, ANewPatientIsNotAssessedUntilAPersonHasJudged) {
    withNextDialog([&](QWidget &form) {
        for (const char *field : {"acuity", "emergency_priority"})
            EXPECT_EQ(in<QComboBox>(form, field).currentText(), QStringLiteral("not assessed yet"));
        type(form, "code", "Q-999");
        type(form, "family_name", "Quillfeather");
        choose(form, "payer_id", snapshot().payers.front().id.value());
        choose(form, "emergency_priority", EmergencyPriority::First);
        type(form, "no_allergies_on_edit", "today");
        auto &allergies = in<QListWidget>(form, "allergies");
        allergies.item(0)->setCheckState(Qt::Checked);
        save(form);
        EXPECT_TRUE(form.isVisible());
        const QString said = in<QLabel>(form, "no_allergies_on_fault").text();
        EXPECT_TRUE(said.startsWith(QStringLiteral("None known, asked on: "))) << said.toStdString();
        EXPECT_TRUE(said.contains(QStringLiteral("“Allergic to”")))
            << "both are named: " << said.toStdString();
        allergies.item(0)->setCheckState(Qt::Unchecked);
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    const auto made = editPatient(patients_.get(), session_, Patient{});
    ASSERT_TRUE(made);
    ASSERT_TRUE(settled());
    const Patient *patient = session_.agency()->index().patient(*made);
    ASSERT_NE(patient, nullptr);
    EXPECT_FALSE(patient->acuity);
    EXPECT_EQ(patient->emergencyPriority, EmergencyPriority::First);
    EXPECT_EQ(patient->noAllergiesOn, session_.today());
    patients_->selectPatient(*made);
    const QString facts = in<QLabel>(*patients_, "patientFacts").text();
    EXPECT_TRUE(facts.contains(QStringLiteral("not assessed")));
    EXPECT_TRUE(facts.contains(QStringLiteral("none known (asked ")));
}

TEST_F(PeopleForms, WhateverIsFoundMissingWasMarked) {
    const auto expectMarked = [](QWidget &form) {
        save(form);
        EXPECT_TRUE(form.isVisible());
        int missing = 0;
        for (const QLabel *fault : form.findChildren<QLabel *>())
            if (fault->objectName().endsWith(QStringLiteral("_fault")) && !fault->isHidden()) {
                ++missing;
                const QString field = fault->objectName().chopped(6);
                const auto labels = form.findChildren<QLabel *>();
                EXPECT_TRUE(std::ranges::any_of(labels, [&](const QLabel *label) {
                    return label->buddy() && label->buddy()->objectName() == field &&
                           label->text().endsWith(QStringLiteral(" *"));
                })) << field.toStdString();
            }
        EXPECT_GT(missing, 0);
        leave(form);
    };
    const CatheterId catheter = snapshot().drainOrders.front().catheter;
    withNextDialog(expectMarked);
    EXPECT_FALSE(editPatient(patients_.get(), session_, Patient{}));
    withNextDialog(expectMarked);
    EXPECT_FALSE(newDrainOrder(patients_.get(), session_, catheter, nullptr));
    withNextDialog(expectMarked);
    EXPECT_FALSE(editCatheter(patients_.get(), session_, Catheter{}));
    withNextDialog(expectMarked);
    EXPECT_FALSE(countAtHome(patients_.get(), session_, atHome().id));
}

TEST_F(PeopleForms, TheSameNameAndBirthDateIsSavedOnlyOnPurpose) {
    const Patient known = atHome();
    const std::size_t before = snapshot().patients.size();
    std::optional<bool> answer;
    const auto enterOnceMore = [&](QWidget &form) {
        type(form, "code", "Q-999");
        type(form, "family_name", known.familyName);
        type(form, "given_name", known.givenName);
        type(form, "born_on_edit", known.bornOn->toIso());
        choose(form, "payer_id", known.payer.value());
        choose(form, "acuity", Acuity::Medium);
        choose(form, "emergency_priority", EmergencyPriority::Second);
        if (answer)
            Ask::nextAnswer(*answer);
        save(form);
    };
    withNextDialog([&](QWidget &form) {
        enterOnceMore(form); // with no answer given the question is declined
        EXPECT_TRUE(form.isVisible());
        EXPECT_FALSE(isAtFault(form, "family_name")) << "going back is no fault";
        EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("Is this another person?")))
            << Ask::lastSaid().toStdString();
        EXPECT_TRUE(Ask::lastSaid().contains(QString::fromStdString(known.code)))
            << Ask::lastSaid().toStdString();
        leave(form);
    });
    EXPECT_FALSE(editPatient(patients_.get(), session_, Patient{}));
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().patients.size(), before);
    answer = true;
    withNextDialog([&](QWidget &form) {
        enterOnceMore(form);
        EXPECT_FALSE(form.isVisible()) << "another person: saved";
        leave(form);
    });
    EXPECT_TRUE(editPatient(patients_.get(), session_, Patient{}));
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().patients.size(), before + 1);
}

TEST_F(PeopleForms, AfterPutOnHoldTheKeyboardIsInTheList) {
    const Patient home = atHome();
    patients_->selectPatient(home.id);
    auto &hold = in<QPushButton>(*patients_, "patientHold");
    ASSERT_TRUE(hold.isVisible());
    hold.setFocus();
    ASSERT_EQ(patients_->focusWidget(), &hold);
    withNextDialog([&](QWidget &form) {
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    hold.click();
    ASSERT_TRUE(settled());
    ASSERT_NE(session_.agency()->index().holdOn(home.id, session_.today()), nullptr);
    EXPECT_FALSE(hold.isVisible()) << "its button is gone";
    EXPECT_EQ(patients_->focusWidget(), &in<DenseTable>(*patients_, "patientTable"));
}

TEST_F(PeopleForms, ARecordJustBegunSaysWhatComesFirst) {
    Patient begun;
    begun.code = "Q-999";
    begun.familyName = "Quillfeather";
    begun.payer = snapshot().payers.front().id;
    begun.referredAt = clock_.now();
    std::optional<PatientId> id;
    ASSERT_FALSE(session_.write(QStringLiteral("Saved a record"), [&](desk::Desk &desk) {
        auto saved = desk.save(begun);
        if (saved)
            id = saved->id;
        return saved;
    }));
    ASSERT_TRUE(settled());
    ASSERT_TRUE(id);
    const auto show = [&](PatientId patient, const char *part) {
        patients_->selectPatient(patient);
        auto &tabs = in<QTabWidget>(*patients_, "patientTabs");
        for (int i = 0; i < tabs.count(); ++i)
            if (tabs.widget(i)->isAncestorOf(&in<QWidget>(*patients_, part)))
                tabs.setCurrentIndex(i);
    };
    show(*id, "noVisits");
    EXPECT_FALSE(in<QLabel>(*patients_, "noVisits").isHidden());
    show(*id, "logDrain");
    in<QPushButton>(*patients_, "logDrain").click();
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("Add the catheter first")))
        << Ask::lastSaid().toStdString();
    const SnapshotIndex &index = session_.agency()->index();
    const auto visited = std::ranges::find_if(snapshot().patients, [&](const Patient &patient) {
        return isOnService(patient.status) && !index.visitsOf(patient.id).empty();
    });
    ASSERT_NE(visited, snapshot().patients.end());
    show(visited->id, "noVisits");
    EXPECT_TRUE(in<QLabel>(*patients_, "noVisits").isHidden());
}

TEST_F(PeopleForms, ARefillCallUnderTodayGoesToTheCall) {
    ASSERT_TRUE(waitFor([&] { return !session_.isBusy() && session_.stock() != nullptr; }));
    qint64 called = 0, opened = 0;
    QObject::connect(today_.get(), &TodayPage::callHome, [&](qint64 patient) { called = patient; });
    QObject::connect(today_.get(), &TodayPage::showPatient, [&](qint64 patient) { opened = patient; });
    chooseKind(in<DenseTable>(*today_, "attentionTable"), desk::AttentionKind::RefillCall);
    in<QPushButton>(*today_, "attentionEach").click(); // there are many: one of them
    auto &open = in<QPushButton>(*today_, "attentionOpen");
    EXPECT_TRUE(open.text().startsWith(QStringLiteral("Call the home"))) << open.text().toStdString();
    open.click();
    EXPECT_EQ(opened, 0) << "not to the record";
    EXPECT_TRUE(std::ranges::any_of(session_.stock()->refills, [&](const supply::RefillProposal &p) {
        return p.patient == PatientId(called);
    })) << called;
}

TEST_F(PeopleForms, TheReasonOfAMissedVisitIsChosenAndNotTakenAsGiven) {
    const auto found = std::ranges::find(snapshot().visits, VisitStatus::Published, &Visit::status);
    ASSERT_NE(found, snapshot().visits.end());
    const Visit visit = *found;
    withNextDialog([&](QWidget &form) {
        choose(form, "status", VisitStatus::Missed);
        EXPECT_EQ(in<QComboBox>(form, "miss_reason").currentText(), QStringLiteral("not chosen"));
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(isAtFault(form, "miss_reason"));
        leave(form);
    });
    EXPECT_FALSE(recordVisit(patients_.get(), session_, visit, QStringLiteral("Somebody")));
}

TEST_F(PeopleForms, WhatIsStillWithANurseIsReadBeforeSheIsMarkedAsGone) {
    const auto mainOf = [&](const Nurse &nurse) {
        return std::ranges::count_if(snapshot().patients, [&](const Patient &p) {
            return isOnService(p.status) && p.primaryNurse == nurse.id;
        });
    };
    const auto found =
        std::ranges::find_if(snapshot().nurses, [&](const Nurse &n) { return n.isActive && mainOf(n) > 1; });
    ASSERT_NE(found, snapshot().nurses.end());
    const Nurse nurse = *found;
    const QString count = QString::number(mainOf(nurse));
    const auto leaveWork = [&](bool isMeant) {
        withNextDialog([&](QWidget &form) {
            in<QCheckBox>(form, "is_active").setChecked(false);
            Ask::nextAnswer(isMeant);
            save(form);
            EXPECT_EQ(form.isVisible(), !isMeant);
            leave(form);
        });
        editNurse(patients_.get(), session_, nurse);
        ASSERT_TRUE(settled());
    };
    leaveWork(false);
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("main nurse of %1 patients").arg(count)))
        << Ask::lastSaid().toStdString();
    EXPECT_TRUE(session_.agency()->index().nurse(nurse.id)->isActive);
    auto &table = in<DenseTable>(*today_, "attentionTable");
    EXPECT_LT(rowOfKind(table, desk::AttentionKind::MainNurseLeft), 0);
    leaveWork(true);
    EXPECT_FALSE(session_.agency()->index().nurse(nurse.id)->isActive);
    chooseKind(table, desk::AttentionKind::MainNurseLeft);
    EXPECT_TRUE(in<QLabel>(*today_, "attentionTitle").text().startsWith(count));
    const auto patient = std::ranges::find_if(snapshot().patients, [&](const Patient &p) {
        return isOnService(p.status) && p.primaryNurse == nurse.id;
    });
    patients_->selectPatient(patient->id);
    EXPECT_TRUE(
        in<QLabel>(*patients_, "patientFacts").text().contains(QStringLiteral("no longer works here")));
}

TEST_F(PeopleForms, AShiftThatLeavesTooLittleRestSaysSoAndIsSavedAllTheSame) {
    const Snapshot &s = snapshot();
    const auto nurse = std::ranges::find_if(s.nurses, [&](const Nurse &n) {
        const auto isOnCall = [&](const auto &shift) { return shift.nurse == n.id && shift.isOnCall; };
        return n.isActive && std::ranges::none_of(s.shiftPatterns, isOnCall) &&
               std::ranges::none_of(s.extraShifts, isOnCall) &&
               std::ranges::find(s.timeOff, n.id, &TimeOff::nurse) == s.timeOff.end();
    });
    ASSERT_NE(nurse, s.nurses.end());
    const Date monday = session_.today().plusDays(4); // the sample's day is a Thursday
    ExtraShift early;
    early.nurse = nurse->id;
    early.on = monday.plusDays(1);
    early.from = Minutes::of(7 * 60);
    early.to = Minutes::of(15 * 60);
    ASSERT_FALSE(
        session_.write(QStringLiteral("Entered"), [&](desk::Desk &d) { return d.save(early); }).has_value());
    ASSERT_TRUE(settled());
    const auto before = snapshot().extraShifts.size();
    withNextDialog([&](QWidget &form) {
        QLabel &flag = in<QLabel>(form, "short_rest");
        in<QWidget>(form, "on").findChild<QLineEdit *>()->setText(QString::fromStdString(monday.toIso()));
        type(form, "from", "14:00");
        type(form, "to", "20:00");
        EXPECT_FALSE(flag.text().contains(desk::dayText(early.on))) << flag.text().toStdString();
        type(form, "to", "22:00");
        EXPECT_TRUE(flag.text().contains(desk::dayText(early.on))) << flag.text().toStdString();
        EXPECT_TRUE(flag.isVisible());
        save(form);
        leave(form);
    });
    ExtraShift late;
    late.nurse = early.nurse;
    EXPECT_TRUE(editExtraShift(today_.get(), session_, late));
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().extraShifts.size(), before + 1);
}

TEST_F(PeopleForms, WhoLeavesServiceWithAParcelInACarIsAskedWhereItIs) {
    const auto &deliveries = snapshot().deliveries;
    const auto packed = std::ranges::find_if(deliveries, [](const Delivery &d) {
        return d.status == DeliveryStatus::Picked && d.way == DeliveryWay::WithVisit && d.carriedBy;
    });
    ASSERT_NE(packed, deliveries.end()) << "the sample has one";
    const Delivery parcel = *packed;
    const DeliveryLine line = parcel.lines.front();
    const Eaches before = session_.agency()->index().balance(Place::quarantine(), line.item);
    const Patient patient = *session_.agency()->index().patient(parcel.patient);
    withNextDialog([&](QWidget &form) {
        EXPECT_EQ(in<QComboBox>(form, "car_parcels").currentData().toLongLong(),
                  static_cast<qint64>(desk::CameBack::InCar))
            << "there it lies until somebody says otherwise";
        choose(form, "car_parcels", desk::CameBack::ToQuarantine);
        choose(form, "to", CareStatus::Discharged);
        type(form, "exit_reason", "goals met");
        Ask::nextAnswer(true);
        save(form);
        leave(form);
    });
    EXPECT_TRUE(leaveService(patients_.get(), session_, patient));
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->index().delivery(parcel.id)->status, DeliveryStatus::Cancelled);
    EXPECT_GE(session_.agency()->index().balance(Place::quarantine(), line.item), before + line.quantity);
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("not back on the shelf")))
        << Ask::lastSaid().toStdString();
}

} // namespace
} // namespace kitround::ui
