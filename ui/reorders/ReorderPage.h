#pragma once
// Buying: what to reorder and why, the orders, and what came.
#include "core/desk/views/SupplyBoards.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsPanel.h"

class QTabWidget;

namespace kitround::ui {

class MonthPanel;
class OrdersPanel;
class ReceivePanel;
class ReorderPanel;

class ReorderPage : public Page {
    Q_OBJECT
public:
    explicit ReorderPage(Session &session, QWidget *parent = nullptr);
    void takeFocus() override;
    bool hasUnsavedDraft() const override;

private:
    void makeActions();
    void agencyChanged();
    void computed();
    void mainAction();
    void nameMainAction();
    void print();

    QTabWidget *tabs_;
    ReorderPanel *list_;
    OrdersPanel *orders_;
    ReceivePanel *receive_;
    RowsPanel<desk::ShortageRow> *shortages_;
    RowsPanel<desk::SupplierRow> *suppliers_;
    MonthPanel *month_;
    QPushButton *main_;
};

} // namespace kitround::ui
