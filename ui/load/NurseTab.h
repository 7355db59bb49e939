#pragma once
// The load of each nurse in the week: a picture of where the minutes go, and the figures beneath it.
#include "core/desk/views/CaseloadView.h"
#include "ui/load/LoadBars.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QLabel;

namespace kitround::ui {

class DenseTable;

class NurseTab : public QWidget {
    Q_OBJECT
public:
    explicit NurseTab(QWidget *parent = nullptr);
    void show(const desk::Agency &agency, const caseload::LoadReview &review);
    void takeFocus();

Q_SIGNALS:
    void opened(qint64 nurse);

protected:
    void resizeEvent(QResizeEvent *event) override;

private:
    void shareHeight();

    RowsModel<NurseLoadRow> nurses_;
    LoadBars *bars_;
    DenseTable *table_;
    QLabel *weights_;
};

} // namespace kitround::ui
