#pragma once
// Deliveries from the promise to the proof, with the step each one needs next.
#include "core/records/Stock.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QCheckBox;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

struct DeliveryRow {
    Delivery delivery;
    QString patient, lines;
};

class DeliveryPanel : public QWidget {
    Q_OBJECT
public:
    DeliveryPanel(Session &session, QWidget *parent);
    void show(); // from the session's agency
    void clear();
    void takeFocus();
    void printPickList();
    void printSlip();

private:
    static std::vector<RowsColumn<DeliveryRow>> columns();
    void enableSteps();
    void pick();
    void ship();
    void deliver();
    void cancel();
    void nextStep();
    const DeliveryRow *current() const;

    Session &session_;
    RowsModel<DeliveryRow> model_;
    DenseTable *table_;
    QCheckBox *closed_;
    QPushButton *pick_, *ship_, *deliver_, *cancel_, *print_, *slip_;
};

} // namespace kitround::ui
