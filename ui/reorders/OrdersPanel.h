#pragma once
// All purchase orders: drafts to send, what is owed, what came.
#include "core/records/Purchasing.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

#include <optional>

class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

struct OrderRow {
    PurchaseOrder order;
    QString supplier, lines, expected;
    std::int64_t ordered = 0, received = 0; // eaches
    bool isLate = false, isBackordered = false;
};

class OrdersPanel : public QWidget {
    Q_OBJECT
public:
    OrdersPanel(Session &session, QWidget *parent);
    void show();
    void clear();
    void choose(PurchaseOrderId order); // now, or once it is read
    void takeFocus();
    bool hasOrders() const { return model_.rowCount() > 0; }
    void print();
    void saveCsv();
    void news(); // of the supplier, about the chosen order

Q_SIGNALS:
    void receiveAsked(qint64 order);

private:
    static std::vector<RowsColumn<OrderRow>> columns();
    void enableSteps();
    void open();
    void send();
    void cancel();
    void reverse();
    const OrderRow *current() const;

    Session &session_;
    RowsModel<OrderRow> model_;
    std::optional<PurchaseOrderId> wanted_; // chosen once it is read
    DenseTable *table_;
    QPushButton *send_, *receive_, *news_, *reverse_, *cancel_, *csv_, *print_;
};

} // namespace kitround::ui
