#include "ui/today/NursesToldDialog.h"

#include "ui/shared/DenseTable.h"
#include "ui/shared/Session.h"
#include "ui/today/PutBackForm.h"

#include <QLabel>
#include <QPushButton>

#include <algorithm>

namespace kitround::ui {

using desk::RecordedTelling;

namespace {

std::optional<Role> inkOfTelling(const RecordedTelling &telling) {
    return telling.told.isTakenBack() ? std::optional(Role::FaintInk) : std::nullopt;
}

} // namespace

std::vector<RowsColumn<RecordedTelling>> NursesToldDialog::columns() {
    return {
        {.head = tr("When"),
         .text = [](const RecordedTelling &t) { return t.at; },
         .sortBy =
             [](const RecordedTelling &t) { return QVariant(QString::fromStdString(toIso(t.told.at))); },
         .ink = inkOfTelling},
        {.head = tr("Nurse"), .text = [](const RecordedTelling &t) { return t.who; }, .ink = inkOfTelling},
        {.head = tr("Round of"),
         .text = [](const RecordedTelling &t) { return t.day; },
         .sortBy =
             [](const RecordedTelling &t) { return QVariant(QString::fromStdString(t.told.on.toIso())); },
         .ink = inkOfTelling},
        {.head = tr("Told by"),
         .text = [](const RecordedTelling &t) { return QString::fromStdString(t.told.by); },
         .ink = inkOfTelling},
        {.head = tr("The round as told"),
         .text = [](const RecordedTelling &t) { return t.about; },
         .ink = inkOfTelling,
         .tip = [](const RecordedTelling &t) { return t.about; }},
        {.head = tr("What was said"),
         .text = [](const RecordedTelling &t) { return QString::fromStdString(t.told.note).simplified(); },
         .ink = inkOfTelling},
        {.head = tr("Put back"), .text = [](const RecordedTelling &t) { return t.putBack; }},
    };
}

NursesToldDialog::NursesToldDialog(Session &session, QWidget *parent)
    : ListDialog(QStringLiteral("nursesTold"), tr("Nurses told"), session, parent), model_(columns()) {
    setRows(&model_, tr("What nurses were told of changed rounds"));
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
    const int before = table_->currentSourceRow();
    const std::optional<PlanToldId> chosen =
        before >= 0 ? std::optional(model_.row(before).told.id) : std::nullopt;
    model_.setRows(desk::recordedTellings(*session_.agency()));
    const std::vector<RecordedTelling> &rows = model_.rows();
    head_->setText(
        rows.empty() ? tr("Nobody was told of a changed round of today or later. Whom to tell stands under "
                          "Today; what was recorded there is listed here.")
                     : tr("What nurses were told of rounds of today and later. What was written down wrongly "
                          "is put back with a reason: it counts no more and stays on record, and what she "
                          "has not heard is under Today again."));
    table_->fitColumns(4);
    if (!rows.empty()) {
        const auto same =
            std::ranges::find_if(rows, [&](const RecordedTelling &t) { return t.told.id == chosen; });
        table_->selectSourceRow(same == rows.end() ? 0 : static_cast<int>(same - rows.begin()));
    }
    enableSteps();
}

void NursesToldDialog::enableSteps() {
    const int row = table_->currentSourceRow();
    back_->setEnabled(!session_.isReadOnly() && row >= 0 && row < model_.rowCount() &&
                      !model_.row(row).told.isTakenBack());
}

void NursesToldDialog::putBack(int row) {
    if (row < 0 || row >= model_.rowCount() || session_.isReadOnly())
        return;
    const RecordedTelling telling = model_.row(row); // as on the screen, whatever is refreshed meanwhile
    if (telling.told.isTakenBack())
        return;
    askPutBack(this,
               tr("That %1 was told at %2 of the round of %3 counts no more; what she has not heard is under "
                  "Today again.")
                   .arg(telling.who, telling.at, telling.day),
               [&](const std::string &why) {
                   return session_.write(tr("Put back that %1 was told of a changed round").arg(telling.who),
                                         [&](desk::Desk &d) { return d.takeBackTold(telling.told.id, why); });
               });
}

} // namespace kitround::ui
