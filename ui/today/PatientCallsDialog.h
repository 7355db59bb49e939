#pragma once
// The homes to be phoned about visits that changed after the plan was published. Each is ticked off by a call
// that reached somebody; one that reached nobody is kept beside it.
#include "core/desk/views/PatientCalls.h"
#include "ui/shared/RowsModel.h"
#include "ui/today/ListDialog.h"

namespace kitround::ui {

class PatientCallsDialog : public ListDialog {
    Q_OBJECT
public:
    PatientCallsDialog(Session &session, QWidget *parent);

private:
    static std::vector<RowsColumn<desk::PatientCall>> columns();
    void fill();
    void record(int row); // the form of a call

    RowsModel<desk::PatientCall> model_;
    QPushButton *reached_, *csv_, *print_;
};

} // namespace kitround::ui
