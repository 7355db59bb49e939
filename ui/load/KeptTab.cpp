#include "ui/load/KeptTab.h"

#include "core/desk/words/Words.h"
#include "ui/load/WhatIfDialog.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QItemSelectionModel>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

std::vector<RowsColumn<KeptRow>> keptColumns() {
    const auto day = [](Date KeptWhatIf::*which) {
        return [which](const KeptRow &r) { return QVariant(qlonglong((r.kept.*which).dayNumber())); };
    };
    return {{.head = QObject::tr("Kept what-if"),
             .text = [](const KeptRow &r) { return QString::fromStdString(r.kept.name); }},
            {.head = QObject::tr("Asks"),
             .text =
                 [](const KeptRow &r) {
                     const bool isNamed = r.asks == QString::fromStdString(r.kept.name); // most are
                     return isNamed ? QObject::tr("the same") : r.asks;
                 }},
            {.head = QObject::tr("Week of"),
             .text = [](const KeptRow &r) { return desk::dayText(r.kept.weekStart); },
             .sortBy = day(&KeptWhatIf::weekStart)},
            {.head = QObject::tr("Kept on"),
             .text = [](const KeptRow &r) { return desk::dayText(r.kept.keptOn); },
             .sortBy = day(&KeptWhatIf::keptOn)},
            {.head = QObject::tr("Answer of that day"),
             .text = [](const KeptRow &r) { return QString::fromStdString(r.kept.saidThen); }}};
}

// A line for each part of the answer: two are compared by going down them.
QString readingText(const KeptRow &row) {
    const QString name = QString::fromStdString(row.kept.name);
    QStringList lines{row.asks.isEmpty() || row.asks == name ? name
                                                             : QObject::tr("%1 (%2)").arg(name, row.asks)};
    lines << QObject::tr("Week of %1, kept on %2")
                 .arg(desk::dayText(row.kept.weekStart), desk::dayText(row.kept.keptOn));
    lines << QString::fromStdString(row.kept.saidThen).split(QStringLiteral("; "));
    return lines.join(QLatin1Char('\n'));
}

} // namespace

KeptTab::KeptTab(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), rows_(keptColumns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *hint = new QLabel(
        tr("Questions kept under a name with the answer of that day. Opened again, each "
           "is planned anew on today's records. Choose two (Ctrl and a click) to read them side by side."),
        this);
    hint->setWordWrap(true);
    layout->addWidget(hint);
    table_ = new DenseTable(QStringLiteral("keptTable"), tr("Kept what-ifs"), this);
    table_->setModel(new RowsProxy(&rows_, this));
    table_->setSelectionMode(QAbstractItemView::ExtendedSelection);
    layout->addWidget(table_, 1);
    auto *reading = new QHBoxLayout;
    for (std::size_t side = 0; side < read_.size(); ++side) {
        read_[side] = new QLabel(this);
        read_[side]->setObjectName(QStringLiteral("keptRead%1").arg(side + 1));
        read_[side]->setWordWrap(true);
        read_[side]->setTextFormat(Qt::PlainText);
        read_[side]->setTextInteractionFlags(Qt::TextSelectableByMouse);
        read_[side]->setAlignment(Qt::AlignLeft | Qt::AlignTop);
        reading->addWidget(read_[side], 1);
    }
    layout->addLayout(reading);
    nothing_ =
        new QLabel(tr("None is kept yet. Ask one under \"What if…\" above, and keep its answer."), this);
    nothing_->setObjectName(QStringLiteral("keptNothing"));
    nothing_->setWordWrap(true);
    layout->addWidget(nothing_, 1, Qt::AlignTop);
    auto *row = new QHBoxLayout;
    row->addStretch(1);
    open_ = new QPushButton(tr("Open on today's records"), this);
    open_->setObjectName(QStringLiteral("keptOpen"));
    drop_ = new QPushButton(tr("Throw away…"), this);
    drop_->setObjectName(QStringLiteral("keptDrop"));
    for (QPushButton *button : {open_, drop_}) {
        button->setEnabled(false);
        row->addWidget(button);
    }
    layout->addLayout(row);
    connect(table_, &DenseTable::opened, this, &KeptTab::openAgain);
    connect(open_, &QPushButton::clicked, this, [this] { openAgain(table_->currentSourceRow()); });
    connect(drop_, &QPushButton::clicked, this, &KeptTab::drop);
    connect(table_->selectionModel(), &QItemSelectionModel::selectionChanged, this, &KeptTab::readChosen);
    connect(table_, &DenseTable::currentRowChanged, this, [this](int at) {
        open_->setEnabled(at >= 0);
        drop_->setEnabled(at >= 0 && !session_.isReadOnly());
    });
}

void KeptTab::show(const desk::Agency &agency) {
    std::vector<KeptRow> rows;
    for (const KeptWhatIf &kept : agency.snapshot().keptWhatIfs) {
        const auto again = desk::reopened(kept, agency);
        rows.push_back({kept, again ? desk::whatIfTitle(again->question, agency) : QString()});
    }
    nothing_->setVisible(rows.empty());
    table_->setVisible(!rows.empty());
    rows_.setRows(std::move(rows));
    table_->fitColumns(4);
    table_->selectSourceRow(rows_.rowCount() - 1);
    readChosen();
    open_->setEnabled(rows_.rowCount() > 0);
    drop_->setEnabled(rows_.rowCount() > 0 && !session_.isReadOnly());
}

void KeptTab::readChosen() {
    QModelIndexList chosen = table_->selectionModel()->selectedRows();
    std::ranges::sort(chosen, {}, &QModelIndex::row);
    const auto *proxy = qobject_cast<const QSortFilterProxyModel *>(table_->model());
    for (std::size_t side = 0; side < read_.size(); ++side) {
        const auto at = static_cast<qsizetype>(side);
        const bool isChosen = proxy && at < chosen.size();
        read_[side]->setText(isChosen ? readingText(rows_.row(proxy->mapToSource(chosen.at(at)).row()))
                                      : QString());
        read_[side]->setVisible(isChosen);
    }
}

void KeptTab::clear() {
    rows_.setRows({});
    readChosen();
}

void KeptTab::openAgain(int row) {
    if (row < 0 || row >= rows_.rowCount())
        return;
    const KeptWhatIf kept = rows_.row(row).kept; // the rows may be filled anew meanwhile
    const auto again = desk::reopened(kept, *session_.agency());
    if (!again) {
        Ask::problem(this, again.error());
        return;
    }
    WhatIfDialog(session_, kept, *again, this).exec();
}

void KeptTab::drop() {
    const int at = table_->currentSourceRow();
    if (at < 0)
        return;
    const KeptWhatIf kept = rows_.row(at).kept;
    const QString name = QString::fromStdString(kept.name);
    if (Ask::confirm(this, tr("Throw away"), tr("Throw away the what-if \"%1\"?").arg(name),
                     tr("Throw it away"), tr("Keep it")))
        session_.writeOrTell(this, tr("Threw away the what-if %1").arg(name),
                             [&](desk::Desk &desk) { return desk.remove(kept); });
}

} // namespace kitround::ui
