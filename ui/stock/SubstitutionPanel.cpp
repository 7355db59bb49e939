#include "ui/stock/SubstitutionPanel.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Session.h"

#include <QCheckBox>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::SubstitutionRow;

RowsColumn<SubstitutionRow> text(const QString &head, QString SubstitutionRow::*value) {
    return {.head = head,
            .text = [value](const SubstitutionRow &r) { return r.*value; },
            .tip = [value](const SubstitutionRow &r) { return r.*value; }};
}

RowsColumn<SubstitutionRow> day(const QString &head, Date Substitution::*value) {
    return {
        .head = head,
        .text = [value](const SubstitutionRow &r) { return desk::dayText(r.record.*value); },
        .sortBy =
            [value](const SubstitutionRow &r) { return QVariant(qlonglong((r.record.*value).dayNumber())); }};
}

std::vector<RowsColumn<SubstitutionRow>> columns() {
    const auto tr = [](const char *words) { return QObject::tr(words); };
    RowsColumn<SubstitutionRow> standing = text(tr("State"), &SubstitutionRow::standing);
    standing.ink = [](const SubstitutionRow &r) { return r.isDue ? std::optional(Role::Act) : std::nullopt; };
    return {text(tr("Patient"), &SubstitutionRow::who),
            text(tr("Catheter"), &SubstitutionRow::place),
            text(tr("Ordered"), &SubstitutionRow::item),
            text(tr("Stands in"), &SubstitutionRow::ratio),
            std::move(standing),
            day(tr("From"), &Substitution::from),
            day(tr("Goes back on"), &Substitution::revertOn),
            text(tr("Approved by"), &SubstitutionRow::approved),
            text(tr("Taught by"), &SubstitutionRow::taught)};
}

} // namespace

SubstitutionPanel::SubstitutionPanel(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    rows_ = new RowsTable<SubstitutionRow>(
        {.objectName = QStringLiteral("substitutionTable"),
         .title = tr("Substitutions"),
         .explanation = tr("Nothing that stands in for an ordered item is picked without a record in force. "
                           "From the day it goes back, the ordered item is sent again. Enter opens the "
                           "patient."),
         .nothing = tr("No other size stands in anywhere. Record it here before one is picked: who "
                       "approved it, that the home was taught, and the day it goes back."),
         .stretched = 7,
         .names = {2, 3}},
        columns(), this);
    layout->addWidget(rows_);
    new_ = rows_->addStep("substitutionNew", tr("Record a substitution…"), [this] { recordNew(); });
    change_ = rows_->addStep("substitutionChange", tr("Change…"), [this] { change(); });
    back_ = rows_->addStep("substitutionBack", tr("Back to what is ordered"), [this] { goBack(); });
    rows_->addGap();
    closed_ = new QCheckBox(tr("Also those that went back"), this);
    closed_->setObjectName(QStringLiteral("substitutionClosed"));
    rows_->addToSteps(closed_);
    rows_->onChosen([this] { enableSteps(); });
    connect(closed_, &QCheckBox::toggled, this, &SubstitutionPanel::show);
    connect(rows_->table(), &DenseTable::opened, this, [this] {
        if (const SubstitutionRow *row = rows_->current())
            Q_EMIT patientAsked(row->patient.value());
    });
    enableSteps();
}

void SubstitutionPanel::show() {
    if (session_.agency())
        rows_->setRows(desk::substitutionRows(*session_.agency(), closed_->isChecked()));
}

void SubstitutionPanel::clear() {
    rows_->clear({});
}

void SubstitutionPanel::takeFocus() {
    rows_->takeFocus();
}

void SubstitutionPanel::enableSteps() {
    const SubstitutionRow *row = rows_->current();
    const bool mayWrite = session_.isOpen() && !session_.isReadOnly();
    new_->setEnabled(mayWrite);
    change_->setEnabled(mayWrite && row && !row->record.revertedOn);
    back_->setEnabled(mayWrite && row && !row->record.revertedOn);
}

void SubstitutionPanel::recordNew() {
    if (session_.agency() && new_->isEnabled())
        editSubstitution(this, session_, {});
}

void SubstitutionPanel::change() {
    if (const SubstitutionRow *row = rows_->current())
        editSubstitution(this, session_, row->record);
}

void SubstitutionPanel::goBack() {
    const SubstitutionRow *row = rows_->current();
    if (!row)
        return;
    Substitution record = row->record;
    const QString who = row->who;
    if (!Ask::confirm(this, tr("Back to what is ordered"),
                      tr("From today %1 gets %2 again. Has the home been told?").arg(who, row->item),
                      tr("Close the substitution"), tr("Leave it open")))
        return;
    record.revertedOn = std::max(session_.today(), record.from);
    session_.writeOrTell(this, tr("Closed a substitution at %1").arg(who),
                         [&](desk::Desk &d) { return d.save(record); });
}

} // namespace kitround::ui
