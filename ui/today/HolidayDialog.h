#pragma once
// The holiday plan of the coming weeks by patient: visits on closed days, supplies that have to be home
// before, and the couriers' cut-offs. To print or to save; it moves nothing itself.
#include "core/desk/views/HolidayPlan.h"
#include "ui/shared/RowsModel.h"
#include "ui/today/ListDialog.h"

#include <QPointer>

namespace kitround::ui {

class BackgroundJob;

class HolidayDialog : public ListDialog {
    Q_OBJECT
public:
    HolidayDialog(Session &session, QWidget *parent);

Q_SIGNALS:
    void showPatient(qint64 patient);

private:
    struct Row {
        desk::HolidayHome home;
        QString days, visits, supplies;
        Date from;
    };
    static std::vector<RowsColumn<Row>> columns();
    int weeks() const;
    void work(); // in the background: the owed visits of a large agency take a while
    void show(const desk::HolidayPlan &plan, const desk::AgencyPtr &agency);
    void print();
    void open(int row);

    RowsModel<Row> model_;
    desk::HolidayPlan plan_;
    desk::AgencyPtr plannedFrom_; // the records that plan_ was made from
    QPointer<BackgroundJob> job_;
    QComboBox *weeks_;
    QPushButton *csv_, *print_;
    int generation_ = 0; // an older answer is dropped by it
};

} // namespace kitround::ui
