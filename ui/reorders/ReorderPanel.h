#pragma once
// The reorder list: each line explains itself, may be changed or left out, and becomes a draft order.
#include "ui/reorders/ReorderModel.h"

#include <QWidget>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

class ReorderPanel : public QWidget {
    Q_OBJECT
public:
    ReorderPanel(Session &session, QWidget *parent);
    void show(desk::StockPicturePtr picture);
    void takeFocus();
    // Saves the drafts; which. Asks where a draft to the same supplier waits already.
    std::vector<PurchaseOrderId> makeOrders();
    bool isEdited() const { return model_.isEdited(); }
    bool hasLines() const { return model_.rowCount() > 0; }

private:
    void showDetail();
    void showSums();
    bool mayMake(const std::vector<PurchaseOrder> &drafts);

    Session &session_;
    desk::StockPicturePtr picture_;
    ReorderModel model_;
    DenseTable *table_;
    QLabel *sums_, *what_, *why_, *numbers_;
    QPushButton *forget_, *level_, *csv_;
};

} // namespace kitround::ui
