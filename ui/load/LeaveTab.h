#pragma once
// Time off asked for and decided: the requests first. Cover is looked at before a request is approved.
#include "core/desk/Desk.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

struct LeaveRow {
    TimeOff off;
    QString who, decidedBy;
};

class LeaveTab : public QWidget {
    Q_OBJECT
public:
    explicit LeaveTab(Session &session, QWidget *parent = nullptr);
    int show(const desk::Agency &agency); // how many requests wait

private:
    void ask();
    void review(int row);

    Session &session_;
    RowsModel<LeaveRow> rows_;
    DenseTable *table_;
    QLabel *nothing_; // said in place of an empty table
    QPushButton *ask_, *review_;
};

} // namespace kitround::ui
