#pragma once
// What the nurses' cars carry against par; one step brings a car to par.
#include "core/desk/views/CarBoard.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
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
    const desk::CarRow *current() const;
    void enableSteps();
    void setPar();

    Session &session_;
    RowsModel<desk::CarRow> model_;
    QLabel *head_;
    DenseTable *table_;
    QPushButton *par_, *refill_;
};

} // namespace kitround::ui
