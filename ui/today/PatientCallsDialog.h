#pragma once
// The homes to be phoned about visits that changed after the plan was published. Each is ticked off by a call
// that reached somebody; one that reached nobody is kept beside it. Below stand the calls that were written
// down, so that a slip is put back.
#include "core/desk/views/PatientCalls.h"
#include "ui/shared/RowsModel.h"
#include "ui/today/ListDialog.h"
#include "ui/today/ToldList.h"

#include <optional>
#include <vector>

namespace kitround::ui {

class PatientCallsDialog : public ListDialog {
    Q_OBJECT
public:
    PatientCallsDialog(Session &session, QWidget *parent);

private:
    static std::vector<RowsColumn<desk::PatientCallLine>> columns();
    static std::vector<RowsColumn<desk::RecordedCall>> recordedColumns();
    void fill();
    void fillRecorded();
    QString headText(std::size_t homes) const;
    // The homes as they stand on the screen: from the chosen one on, then those before it.
    std::vector<PatientId> fromChosenOn() const;
    void choose(const std::vector<PatientId> &wanted); // the first of them that is on the list
    void record(int row);                              // the form of a call
    void putBack(int row);
    void enableSteps();

    RowsModel<desk::PatientCallLine> model_;
    ToldList<desk::RecordedCall> recorded_;
    std::vector<desk::PatientCall> calls_;
    std::optional<PatientId> putBack_; // its home is chosen once it is on the list again
    QLabel *recordedHead_;
    DenseTable *recordedTable_;
    QPushButton *reached_, *back_, *csv_, *print_;
};

} // namespace kitround::ui
