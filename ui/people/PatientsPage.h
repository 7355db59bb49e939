#pragma once
#include "core/records/Ids.h"
#include "ui/shared/Page.h"

namespace kitround::ui {

class PatientsPage : public Page {
    Q_OBJECT
public:
    explicit PatientsPage(Session &session, QWidget *parent = nullptr);
    void selectPatient(PatientId patient);
};

} // namespace kitround::ui
