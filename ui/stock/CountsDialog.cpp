#include "ui/stock/CountsDialog.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

QString classText(StockClass c) {
    return c == StockClass::A   ? QStringLiteral("A")
           : c == StockClass::B ? QStringLiteral("B")
                                : QStringLiteral("C");
}

} // namespace

std::vector<RowsColumn<CountRow>> CountsDialog::columns() {
    return {
        {.head = tr("Class"),
         .text = [](const CountRow &r) { return classText(r.due.countClass); },
         .headTip = tr("By yearly use value; shares and days between counts are settings under Supplies")},
        {.head = tr("Item"), .text = [](const CountRow &r) { return r.name; }},
        {.head = tr("Due"),
         .text = [](const CountRow &r) { return desk::dayText(r.due.dueOn); },
         .sortBy = [](const CountRow &r) { return QVariant(qlonglong(r.due.dueOn.dayNumber())); },
         .ink = [](const CountRow &r) { return r.isDue ? std::optional(Role::Watch) : std::nullopt; }},
        {.head = tr("Last counted"),
         .text =
             [](const CountRow &r) {
                 return r.due.lastCounted ? desk::dayText(*r.due.lastCounted, Date()) : tr("never");
             },
         .sortBy =
             [](const CountRow &r) {
                 return QVariant(r.due.lastCounted ? qlonglong(r.due.lastCounted->dayNumber()) : 0);
             }},
        {.head = tr("Use a year"),
         .text = [](const CountRow &r) { return r.value; },
         .sortBy = [](const CountRow &r) { return QVariant(qlonglong(r.due.yearlyValue.count())); },
         .isNumber = true},
        {.head = tr("Being picked"),
         .text = [](const CountRow &r) { return QString::number(r.due.openPicks); },
         .sortBy = [](const CountRow &r) { return QVariant(r.due.openPicks); },
         .isNumber = true,
         .headTip =
             tr("Deliveries with the item that are picked and still here: count when they are through")},
    };
}

CountsDialog::CountsDialog(Session &session, std::map<ItemId, double> perDay, QWidget *parent)
    : QDialog(parent), session_(session), perDay_(std::move(perDay)), model_(columns()) {
    setObjectName(QStringLiteral("countsDialog"));
    setWindowTitle(tr("Counts due"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    head_ = new QLabel(this);
    head_->setObjectName(QStringLiteral("countsHead"));
    head_->setWordWrap(true);
    layout->addWidget(head_);
    table_ = new DenseTable(QStringLiteral("countsTable"), tr("Counts due"), this);
    table_->setModel(new RowsProxy(&model_, this));
    layout->addWidget(table_, 1);
    auto *foot = new QHBoxLayout;
    count_ = new QPushButton(tr("Count this item…"), this);
    count_->setObjectName(QStringLiteral("countsCount"));
    auto *close = new QPushButton(tr("Close"), this);
    close->setAutoDefault(false);
    foot->addWidget(count_);
    foot->addStretch(1);
    foot->addWidget(close);
    layout->addLayout(foot);
    resize(820, 460);
    connect(count_, &QPushButton::clicked, this, &CountsDialog::countCurrent);
    connect(table_, &DenseTable::opened, this, &CountsDialog::countCurrent);
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    connect(&session_, &Session::agencyChanged, this, &CountsDialog::fill);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    fill();
    table_->fitColumns(1);
}

void CountsDialog::fill() {
    const desk::AgencyPtr agency = session_.agency();
    const auto last = desk::lastStoreroomCounts(session_.desk());
    if (!last) {
        head_->setText(desk::words(last.error()));
        model_.setRows({});
        count_->setEnabled(false);
        return;
    }
    std::vector<CountRow> rows;
    int due = 0;
    for (const supply::CountDue &item :
         supply::countsDue(agency->index(), perDay_, *last, supply::countRulesOf(agency->settings()))) {
        const bool isDue = item.isDue(agency->today());
        due += isDue ? 1 : 0;
        rows.push_back({item, desk::itemName(agency->index(), item.item),
                        desk::moneyText(item.yearlyValue, agency->settings().currency), isDue});
    }
    model_.setRows(std::move(rows));
    head_->setText(
        due > 0 ? desk::counted(due, tr("%1 item is due to be counted today. Count when nobody picks."),
                                tr("%1 items are due to be counted today. Count when nobody picks."))
                : tr("Nothing is due to be counted today."));
    if (model_.rowCount() > 0)
        table_->selectSourceRow(0);
    count_->setEnabled(model_.rowCount() > 0 && !session_.isReadOnly());
}

void CountsDialog::countCurrent() {
    const int row = table_->currentSourceRow();
    if (row >= 0 && row < model_.rowCount() && !session_.isReadOnly())
        countItem(this, session_, model_.row(row).due.item);
}

} // namespace kitround::ui
