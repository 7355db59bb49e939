#pragma once
// What nursing was ordered, and the visits that followed from it.
#include "ui/people/RecordTab.h"
#include "ui/shared/RowsModel.h"

namespace kitround::ui {

class DenseTable;

struct VisitOrderRow {
    VisitOrder order;
    QString after; // in words
};

class VisitOrdersTab : public RecordTab {
    Q_OBJECT
public:
    VisitOrdersTab(Session &session, QWidget *parent);

protected:
    void fill() override;

private:
    void edit(int row);

    RowsModel<VisitOrderRow> model_;
    QLabel *none_;
    DenseTable *table_;
    QPushButton *add_, *edit_;
};

struct VisitRow {
    Visit visit;
    QString nurse;
};

class VisitsTab : public RecordTab {
    Q_OBJECT
public:
    VisitsTab(Session &session, QWidget *parent);

protected:
    void fill() override;

private:
    RowsModel<VisitRow> model_;
    QLabel *none_;
    DenseTable *table_;
    QPushButton *add_;
    QLabel *left_; // as-needed visits used and allowed
};

} // namespace kitround::ui
