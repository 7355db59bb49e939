#pragma once
// Where a lot went: our places, and the homes to ring with what each said; printed as a call list and as the
// reply to the supplier.
#include "core/desk/views/RecallView.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

class LotTraceDialog : public QDialog {
    Q_OBJECT
public:
    LotTraceDialog(Session &session, desk::RecallView view, QWidget *parent);

Q_SIGNALS:
    void patientAsked(qint64 patient);

private:
    void fill();
    void reload(); // after a call was recorded, here or elsewhere
    void recordCall();
    void takeFromCar();
    void enableSteps();
    void fitStops();

    Session &session_;
    desk::RecallView view_;
    RowsModel<desk::RecallStopRow> stops_;
    RowsModel<desk::RecallHomeRow> homes_;
    QLabel *title_, *places_, *reached_;
    DenseTable *stopsTable_, *homesTable_;
    QPushButton *record_, *add_, *takeOut_;
};

} // namespace kitround::ui
