#pragma once
// The load review: per nurse and week, with a picture of where the minutes go, and continuity beside it.
#include "core/desk/views/CaseloadView.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsModel.h"

class QComboBox;
class QLabel;

namespace kitround::ui {

class DenseTable;
class LoadBars;

struct NurseLoadRow {
    caseload::NurseLoad load;
    QString name;
};
struct ContinuityRow {
    caseload::Continuity continuity;
    QString name, primary;
};

class LoadPage : public Page {
    Q_OBJECT
public:
    explicit LoadPage(Session &session, QWidget *parent = nullptr);
    void takeFocus() override;
    QList<QAction *> pageActions() override { return actions_; }

private:
    void show();
    desk::WeekPicturePtr week() const;

    QComboBox *which_;
    QLabel *summary_;
    LoadBars *bars_;
    RowsModel<NurseLoadRow> nurses_;
    RowsModel<ContinuityRow> continuity_;
    DenseTable *nurseTable_, *continuityTable_;
    QList<QAction *> actions_;
};

} // namespace kitround::ui
