#pragma once
// What stands in the home by the record, and how it came to be: counts and deliveries.
#include "ui/people/RecordTab.h"
#include "ui/shared/RowsModel.h"

class QLabel;

namespace kitround::ui {

class DenseTable;

struct HomeBalanceRow {
    QString catheter, item, lot, expires;
    qint64 count = 0;
    qint64 expiresDay = 0;
};
struct HomeEventRow {
    LocalTime at; // deliveries still to come: the promised day
    QString what, item, who;
    std::optional<qint64> count;
};

class HomeStockTab : public RecordTab {
    Q_OBJECT
public:
    HomeStockTab(Session &session, QWidget *parent);

protected:
    void fill() override;

private:
    std::vector<HomeBalanceRow> balances() const;
    std::vector<HomeEventRow> events() const;

    RowsModel<HomeBalanceRow> balanceModel_;
    RowsModel<HomeEventRow> eventModel_;
    DenseTable *balanceTable_, *eventTable_;
    QPushButton *count_;
    QLabel *known_;
    QLabel *below_; // what is below zero by the record
};

} // namespace kitround::ui
