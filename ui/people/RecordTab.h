#pragma once
// One side of a patient's record. The page tells it whom to show; it tells nothing back but what was written,
// which arrives through the session.
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QWidget>

namespace kitround::ui {

class RecordTab : public QWidget {
    Q_OBJECT
public:
    RecordTab(Session &session, QWidget *parent) : QWidget(parent), session_(session) {}
    // Always one that the present agency holds.
    void showPatient(PatientId patient) {
        patient_ = patient;
        fill();
    }

Q_SIGNALS:
    void stepDone(); // its button may be gone now: the keyboard goes back to the list

protected:
    virtual void fill() = 0;
    Session &session() const { return session_; }
    PatientId patientId() const { return patient_; }
    const Patient *patient() const {
        return session_.agency() ? session_.agency()->index().patient(patient_) : nullptr;
    }
    template <class Slot>
    QPushButton *addButton(QHBoxLayout *row, const QString &objectName, const QString &text, Slot slot) {
        auto *button = new QPushButton(text, this);
        button->setObjectName(objectName);
        row->addWidget(button);
        connect(button, &QPushButton::clicked, this, slot);
        return button;
    }

private:
    Session &session_;
    PatientId patient_;
};

} // namespace kitround::ui
