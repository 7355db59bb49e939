#pragma once
// Cost and productivity over whole weeks gone by: by nurse, area and kind of visit, and supplies a
// patient-day; saved as CSV or printed.
#include "core/desk/views/WorkReview.h"

#include <QWidget>

class QComboBox;

namespace kitround::ui {

class PlainTable;
class Session;

class WorkTab : public QWidget {
    Q_OBJECT
public:
    explicit WorkTab(Session &session, QWidget *parent = nullptr);
    void show();

private:
    void saveCsv();
    void print();

    Session &session_;
    QComboBox *weeks_, *which_;
    PlainTable *table_;
    std::vector<desk::Table> tables_;
    int generation_ = 0; // sums of a span no longer chosen are dropped by it
};

} // namespace kitround::ui
