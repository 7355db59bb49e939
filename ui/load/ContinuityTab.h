#pragma once
// Who sees whom: of each patient the main nurse, how many others came, and how often.
#include "core/desk/views/CaseloadView.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QLabel;

namespace kitround::ui {

class DenseTable;

struct ContinuityRow {
    caseload::Continuity continuity;
    QString name, primary, seenBy;
};

class ContinuityTab : public QWidget {
    Q_OBJECT
public:
    explicit ContinuityTab(QWidget *parent = nullptr);
    void show(const desk::Agency &agency, const caseload::LoadReview &review);

Q_SIGNALS:
    void opened(qint64 patient);

private:
    RowsModel<ContinuityRow> rows_;
    QLabel *days_;    // which visits count, and who is the main nurse
    QLabel *nothing_; // said in place of an empty table
    DenseTable *table_;
};

} // namespace kitround::ui
