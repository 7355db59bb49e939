#pragma once
// Cycle counts: which items to count today, and the count of an item's lots in one form.
#include "core/desk/views/StoreroomCounts.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

struct CountRow {
    supply::CountDue due;
    QString name, value;
    bool isDue = false;
};

class CountsDialog : public QDialog {
    Q_OBJECT
public:
    // `perDay`: expected use of the storeroom's stock by item.
    CountsDialog(Session &session, std::map<ItemId, double> perDay, QWidget *parent);

private:
    static std::vector<RowsColumn<CountRow>> columns();
    void fill();
    void countCurrent();

    Session &session_;
    const std::map<ItemId, double> perDay_;
    RowsModel<CountRow> model_;
    QLabel *head_;
    DenseTable *table_;
    QPushButton *count_;
};

// One form with a field a lot; what the ledger says is not shown before the count. True when stored.
bool countItem(QWidget *window, Session &session, ItemId item);

} // namespace kitround::ui
