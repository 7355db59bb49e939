#include "ui/people/PatientsPage.h"

namespace kitround::ui {

PatientsPage::PatientsPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("patientsPage"), tr("Patients"), parent) {
    showEmpty(tr("Not written yet."));
}

void PatientsPage::selectPatient(PatientId) {}

} // namespace kitround::ui
