#pragma once
// What nurses were told of their changed rounds, of today and later, so that a slip is put back: what she was
// to be told is then under Today again.
#include "core/desk/views/PlanNews.h"
#include "ui/today/ListDialog.h"
#include "ui/today/ToldList.h"

namespace kitround::ui {

class NursesToldDialog : public ListDialog {
    Q_OBJECT
public:
    NursesToldDialog(Session &session, QWidget *parent);

private:
    static std::vector<RowsColumn<desk::RecordedTelling>> columns();
    void fill();
    void putBack(int row);
    void enableSteps();

    ToldList<desk::RecordedTelling> told_;
    QPushButton *back_;
};

} // namespace kitround::ui
