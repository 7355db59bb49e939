#pragma once
// The published visits that are over and of which nobody has recorded what happened: one after the other,
// done or missed.
#include "core/desk/views/VisitsToRecord.h"
#include "ui/shared/RowsModel.h"
#include "ui/today/ListDialog.h"

namespace kitround::ui {

class VisitsToRecordDialog : public ListDialog {
    Q_OBJECT
public:
    // `on`: the day whose first visit is chosen.
    VisitsToRecordDialog(Date on, Session &session, QWidget *parent);

private:
    static std::vector<RowsColumn<desk::VisitToRecord>> columns(Date today);
    void fill();
    void record(int row);

    RowsModel<desk::VisitToRecord> model_;
    QPushButton *record_;
};

} // namespace kitround::ui
