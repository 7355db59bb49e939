#pragma once
// Deliveries from the promise to the proof, with the step each one needs next.
#include "core/records/Stock.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

#include <optional>

class QCheckBox;
class QLineEdit;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

struct DeliveryRow {
    Delivery delivery;
    QString patient, lines; // lines: with their lots
    QString what, lots;
    QString shortText;             // delivered, and not all of it came whole: how many
    std::optional<NurseId> passTo; // packed, in another car than that of who makes its visit by now
    QString passToName;
    bool hasRecall = false; // not at the home yet, and a lot of it is recalled
};

class DeliveryPanel : public QWidget {
    Q_OBJECT
public:
    DeliveryPanel(Session &session, QWidget *parent);
    void show(); // from the session's agency
    void clear();
    void takeFocus();
    void printPickList();

private:
    static std::vector<RowsColumn<DeliveryRow>> columns();
    void makeTable();
    void enableSteps();
    void pick();
    void correctLots();
    void ship();
    void track();
    void passOn();
    void printSlip();
    void deliver();
    void cancel();
    void nextStep();
    const DeliveryRow *current() const;
    int rowToGoOn(int before, std::optional<DeliveryId> kept) const;

    Session &session_;
    RowsModel<DeliveryRow> model_;
    DenseTable *table_;
    QLineEdit *search_;
    QCheckBox *closed_;
    QPushButton *pick_, *lots_, *ship_, *pass_, *track_, *deliver_, *cancel_, *slip_, *print_;
};

} // namespace kitround::ui
