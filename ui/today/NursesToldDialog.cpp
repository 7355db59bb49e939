#include "ui/today/NursesToldDialog.h"

#include "ui/shared/DenseTable.h"
#include "ui/shared/Session.h"
#include "ui/today/PutBackForm.h"

#include <QLabel>
#include <QPushButton>

namespace kitround::ui {

using desk::RecordedTelling;

std::vector<RowsColumn<RecordedTelling>> NursesToldDialog::columns() {
    return {
        {.head = tr("Nurse"), .text = [](const RecordedTelling &t) { return t.who; }},
        {.head = tr("Round of"),
         .text = [](const RecordedTelling &t) { return t.day; },
         .sortBy =
             [](const RecordedTelling &t) { return QVariant(QString::fromStdString(t.told.on.toIso())); }},
        {.head = tr("Told by"),
         .text = [](const RecordedTelling &t) { return QString::fromStdString(t.told.by); }},
        {.head = tr("The round as told"),
         .text = [](const RecordedTelling &t) { return t.about; },
         .tip = [](const RecordedTelling &t) { return t.about; }},
    };
}

NursesToldDialog::NursesToldDialog(Session &session, QWidget *parent)
    : ListDialog(QStringLiteral("nursesTold"), tr("Nurses told"), session, parent), told_(columns()) {
    setRows(told_.model(), tr("What nurses were told of changed rounds"));
    told_.showIn(table_);
    back_ = addStep(
        QStringLiteral("nursesToldBack"), tr("Put back…"), [this] { putBack(table_->currentSourceRow()); },
        Qt::CTRL | Qt::Key_B);
    addRoom();
    addClose(QStringLiteral("nursesToldClose"));
    connect(table_, &DenseTable::opened, this, &NursesToldDialog::putBack);
    connect(table_, &DenseTable::currentRowChanged, this, &NursesToldDialog::enableSteps);
    connect(&session_, &Session::agencyChanged, this, &NursesToldDialog::fill);
    fill();
    table_->setFocus(Qt::OtherFocusReason);
}

void NursesToldDialog::fill() {
    told_.setRows(desk::recordedTellings(*session_.agency()));
    head_->setText(
        told_.isEmpty()
            ? tr("Nobody was told of a changed round of today or later. Whom to tell stands under "
                 "Today; what was recorded there is listed here.")
            : tr("What nurses were told of rounds of today and later. What was written down wrongly "
                 "is put back with a reason: it counts no more and stays on record, and what the "
                 "nurse has not heard is under Today again."));
    enableSteps();
}

void NursesToldDialog::enableSteps() {
    back_->setEnabled(!session_.isReadOnly() && told_.isChosenCounting());
}

void NursesToldDialog::putBack(int row) {
    const auto telling = told_.counting(row);
    if (!telling || session_.isReadOnly())
        return;
    askPutBack(
        this,
        tr("That %1 was told at %2 of the round of %3 counts no more; what that nurse has not heard is "
           "under Today again.")
            .arg(telling->who, telling->at, telling->day),
        [&](const std::string &why) {
            return session_.write(tr("Put back that %1 was told of a changed round").arg(telling->who),
                                  [&](desk::Desk &d) { return d.takeBackTold(telling->told.id, why); });
        });
}

} // namespace kitround::ui
