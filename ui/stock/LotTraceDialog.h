#pragma once
// Where a lot went: our places, and the homes to ring; printed as a call list.
#include "core/desk/views/RecallView.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>

namespace kitround::ui {

class Session;

class LotTraceDialog : public QDialog {
    Q_OBJECT
public:
    LotTraceDialog(Session &session, desk::RecallView view, QWidget *parent);

Q_SIGNALS:
    void patientAsked(qint64 patient);

private:
    Session &session_;
    desk::RecallView view_;
    RowsModel<desk::RecallStopRow> stops_;
    RowsModel<desk::RecallHomeRow> homes_;
};

} // namespace kitround::ui
