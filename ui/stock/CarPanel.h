#pragma once
// What the nurses' cars carry against par; one step brings a car to par.
#include "core/desk/views/CarBoard.h"
#include "ui/shared/RowsTable.h"

namespace kitround::ui {

class Session;

class CarPanel : public QWidget {
    Q_OBJECT
public:
    CarPanel(Session &session, QWidget *parent);
    void show(); // from the session's agency
    void clear();
    void takeFocus();
    void refillCurrent();

private:
    void enableSteps();
    void setPar();

    Session &session_;
    RowsTable<desk::CarRow> *rows_;
    QPushButton *par_, *refill_;
};

} // namespace kitround::ui
