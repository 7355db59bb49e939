#pragma once
// Whom to call about a refill, from when until when, and why that many.
#include "core/desk/views/RefillWhatIf.h"
#include "ui/shared/RowsModel.h"
#include "ui/stock/SupplyForms.h"

#include <QWidget>

#include <utility>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

struct RefillRow {
    supply::RefillProposal proposal;
    QString patient, lines, reason, recall;
    QString past;     // what of its stock is past its last day
    QString called;   // today: when, and what it said
    QString answered; // "said no today", "took less today": then there is nothing to call about today

    bool isAnswered() const { return !answered.isEmpty(); }
    bool isToday() const { return !isAnswered() && proposal.urgency <= supply::RefillUrgency::CallToday; }
};

class RefillPanel : public QWidget {
    Q_OBJECT
public:
    RefillPanel(Session &session, QWidget *parent);
    void show(desk::StockPicturePtr picture);
    // Opens the call of this patient; says so where none is due.
    void callPatient(PatientId patient);
    // The refill that is being tried on a chart, if any: the call of its home starts from it.
    using TriedSource = std::function<std::optional<desk::TriedRefill>()>;
    void takeTriedFrom(TriedSource source) { tried_ = std::move(source); }
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
    TriedSource tried_ = [] { return std::nullopt; };
    DenseTable *table_;
    QLabel *who_, *why_;
    QPushButton *call_, *home_;
    std::vector<PatientId> next_;        // after a call was stored: who stood below, in order
    std::optional<PatientId> callAgain_; // once the counts have been worked in
    std::optional<std::pair<PatientId, CallEntries>> said_; // in the call that is put again
};

} // namespace kitround::ui
