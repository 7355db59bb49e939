#include "ui/stock/SubstitutionPanel.h"

#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Session.h"

#include <QCheckBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

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
            text(tr("Line"), &SubstitutionRow::place),
            text(tr("Ordered"), &SubstitutionRow::item),
            text(tr("Stands in"), &SubstitutionRow::standIn),
            std::move(standing),
            day(tr("From"), &Substitution::from),
            day(tr("Goes back on"), &Substitution::revertOn),
            text(tr("Approved by"), &SubstitutionRow::approved),
            text(tr("Taught by"), &SubstitutionRow::taught)};
}

} // namespace

SubstitutionPanel::SubstitutionPanel(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), model_(columns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    auto *top = new QHBoxLayout;
    const auto button = [&](const QString &objectName, const QString &words,
                            void (SubstitutionPanel::*step)()) {
        auto *b = new QPushButton(words, this);
        b->setObjectName(objectName);
        top->addWidget(b);
        connect(b, &QPushButton::clicked, this, step);
        return b;
    };
    new_ = button(QStringLiteral("substitutionNew"), tr("Record a substitution…"),
                  &SubstitutionPanel::recordNew);
    change_ = button(QStringLiteral("substitutionChange"), tr("Change…"), &SubstitutionPanel::change);
    back_ =
        button(QStringLiteral("substitutionBack"), tr("Back to what is ordered"), &SubstitutionPanel::goBack);
    top->addStretch(1);
    closed_ = new QCheckBox(tr("Also those that went back"), this);
    closed_->setObjectName(QStringLiteral("substitutionClosed"));
    top->addWidget(closed_);
    layout->addLayout(top);
    head_ = new QLabel(this);
    head_->setObjectName(QStringLiteral("substitutionHead"));
    head_->setWordWrap(true);
    layout->addWidget(head_);
    table_ = new DenseTable(QStringLiteral("substitutionTable"), tr("Substitutions"), this);
    table_->setModel(new RowsProxy(&model_, this));
    layout->addWidget(table_, 1);
    connect(closed_, &QCheckBox::toggled, this, &SubstitutionPanel::show);
    connect(table_, &DenseTable::currentRowChanged, this, &SubstitutionPanel::enableSteps);
    connect(table_, &DenseTable::opened, this, [this] {
        if (const SubstitutionRow *row = current())
            Q_EMIT patientAsked(row->patient.value());
    });
    enableSteps();
}

void SubstitutionPanel::show() {
    if (!session_.agency())
        return;
    const int kept = table_->currentSourceRow();
    model_.setRows(desk::substitutionRows(*session_.agency(), closed_->isChecked()));
    const int rows = model_.rowCount();
    table_->fitColumns(7);
    if (rows > 0)
        table_->selectSourceRow(std::clamp(kept, 0, rows - 1));
    head_->setText(rows > 0
                       ? tr("Nothing that stands in for an ordered item is picked without a record in force. "
                            "From the day it goes back, the ordered item is sent again. Enter opens the "
                            "patient.")
                       : tr("No other size stands in anywhere. Record it here before one is picked: who "
                            "approved it, that the home was taught, and the day it goes back."));
    enableSteps();
}

void SubstitutionPanel::clear() {
    model_.setRows({});
    enableSteps();
}

void SubstitutionPanel::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

const SubstitutionRow *SubstitutionPanel::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

void SubstitutionPanel::enableSteps() {
    const SubstitutionRow *row = current();
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
    if (const SubstitutionRow *row = current())
        editSubstitution(this, session_, row->record);
}

void SubstitutionPanel::goBack() {
    const SubstitutionRow *row = current();
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
