#include "ui/today/VisitsToRecordDialog.h"

#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Session.h"
#include "ui/shared/VisitForm.h"

#include <QLabel>
#include <QPushButton>

#include <algorithm>

namespace kitround::ui {

using desk::VisitToRecord;

std::vector<RowsColumn<VisitToRecord>> VisitsToRecordDialog::columns(Date today) {
    return {
        {.head = tr("Day"),
         .text = [today](const VisitToRecord &r) { return desk::dayText(r.on, today); },
         .sortBy = [](const VisitToRecord &r) { return QVariant(QString::fromStdString(r.on.toIso())); }},
        {.head = tr("Planned at"),
         .text =
             [](const VisitToRecord &r) {
                 return r.visit.startAt ? desk::timeText(*r.visit.startAt) : QString();
             }},
        {.head = tr("Patient"), .text = [](const VisitToRecord &r) { return r.patient; }},
        {.head = tr("Visit"), .text = [](const VisitToRecord &r) { return desk::words(r.visit.kind); }},
        {.head = tr("Nurse"), .text = [](const VisitToRecord &r) { return r.nurse; }},
    };
}

VisitsToRecordDialog::VisitsToRecordDialog(Date on, Session &session, QWidget *parent)
    : ListDialog(QStringLiteral("visitsToRecord"), tr("Visits to record"), session, parent),
      model_(columns(session.today())) {
    setRows(&model_, tr("Visits that are over and not recorded"));
    record_ = addStep(QStringLiteral("visitsToRecordStep"), tr("&Record what happened…"),
                      [this] { record(table_->currentSourceRow()); });
    addRoom();
    addClose(QStringLiteral("visitsToRecordClose"));
    connect(table_, &DenseTable::opened, this, &VisitsToRecordDialog::record);
    connect(&session_, &Session::agencyChanged, this, &VisitsToRecordDialog::fill);
    fill();
    const std::vector<VisitToRecord> &rows = model_.rows();
    const auto first = std::ranges::find_if(rows, [&](const VisitToRecord &row) { return row.on >= on; });
    if (first != rows.end())
        table_->selectSourceRow(static_cast<int>(first - rows.begin()));
    table_->setFocus(Qt::OtherFocusReason);
}

// What is recorded goes out of the list; the next one takes its place under the hand.
void VisitsToRecordDialog::fill() {
    const int row = std::max(0, table_->currentSourceRow());
    model_.setRows(desk::visitsToRecord(*session_.agency()));
    table_->fitColumns(2);
    if (model_.rowCount() > 0)
        table_->selectSourceRow(std::min(row, model_.rowCount() - 1));
    head_->setText(
        model_.rowCount() == 0
            ? tr("Every published visit that is over has been recorded.")
            : tr("Published, over, and not recorded. Say of each whether it was made or missed: until "
                 "then it counts as work of its week, and a missed one is told to nobody."));
    record_->setEnabled(model_.rowCount() > 0 && !session_.isReadOnly());
}

void VisitsToRecordDialog::record(int row) {
    if (row < 0 || row >= model_.rowCount() || session_.isReadOnly())
        return;
    const VisitToRecord chosen = model_.row(row); // the list may be filled anew while the form is open
    recordVisit(this, session_, chosen.visit, chosen.patient);
}

} // namespace kitround::ui
