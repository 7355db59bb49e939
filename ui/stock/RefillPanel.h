#pragma once
// Whom to call about a refill, from when until when, and why that many.
#include "core/desk/views/StockView.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

struct RefillRow {
    supply::RefillProposal proposal;
    QString patient, lines, reason, recall;
};

class RefillPanel : public QWidget {
    Q_OBJECT
public:
    RefillPanel(Session &session, QWidget *parent);
    void show(desk::StockPicturePtr picture);
    // Opens the call of this patient; says so where none is due.
    void callPatient(PatientId patient);
    void takeFocus();
    int callsToday() const;

public Q_SLOTS:
    void callCurrent();

Q_SIGNALS:
    void homeAsked(qint64 patient);

private:
    static std::vector<RowsColumn<RefillRow>> columns();
    void showDetail();
    void call(const supply::RefillProposal &proposal);
    int rowToGoOn(std::optional<PatientId> kept) const;

    Session &session_;
    desk::StockPicturePtr picture_;
    RowsModel<RefillRow> model_;
    DenseTable *table_;
    QLabel *who_, *why_;
    QPushButton *call_, *home_;
    std::vector<PatientId> next_;        // after a call was stored: who stood below, in order
    std::optional<PatientId> callAgain_; // once the counts have been worked in
};

} // namespace kitround::ui
