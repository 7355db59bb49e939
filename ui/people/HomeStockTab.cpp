#include "ui/people/HomeStockTab.h"

#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"

#include <QLabel>

namespace kitround::ui {
namespace {

// What a number below zero means, and what to do.
QString belowText(const HomeBalanceRow &row) {
    return QObject::tr("%1: %2").arg(
        row.item, desk::counted(-row.count, QObject::tr("1 more used than on record. Record a count."),
                                QObject::tr("%1 more used than on record. Record a count.")));
}

std::vector<RowsColumn<HomeBalanceRow>> balanceColumns() {
    using Row = HomeBalanceRow;
    return {
        {.head = QObject::tr("Catheter"), .text = [](const Row &r) { return r.catheter; }},
        {.head = QObject::tr("Item"), .text = [](const Row &r) { return r.item; }},
        {.head = QObject::tr("Lot"), .text = [](const Row &r) { return r.lot; }},
        {.head = QObject::tr("Last day of use"),
         .text = [](const Row &r) { return r.expires; },
         .sortBy = [](const Row &r) { return QVariant(r.expiresDay); }},
        {.head = QObject::tr("Pieces"),
         .text = [](const Row &r) { return desk::numberText(r.count); },
         .sortBy = [](const Row &r) { return QVariant(r.count); },
         .isNumber = true,
         .ink = [](const Row &r) { return r.count < 0 ? std::optional(Role::Act) : std::nullopt; },
         .tip = [](const Row &r) { return r.count < 0 ? belowText(r) : QString(); }},
    };
}

std::vector<RowsColumn<HomeEventRow>> eventColumns() {
    using Row = HomeEventRow;
    return {
        {.head = QObject::tr("When"),
         .text = [](const Row &r) { return desk::dayText(r.at.date); },
         .sortBy =
             [](const Row &r) {
                 return QVariant(qlonglong(r.at.date.dayNumber() * 1440 + r.at.minute.count()));
             }},
        {.head = QObject::tr("What"), .text = [](const Row &r) { return r.what; }},
        {.head = QObject::tr("Item"), .text = [](const Row &r) { return r.item; }},
        {.head = QObject::tr("Pieces"),
         .text = [](const Row &r) { return r.count ? desk::numberText(*r.count) : QString(); },
         .sortBy = [](const Row &r) { return QVariant(r.count.value_or(-1)); },
         .isNumber = true},
        {.head = QObject::tr("By or to"), .text = [](const Row &r) { return r.who; }},
    };
}

HomeEventRow deliveryRow(const Delivery &d, const DeliveryLine &line, const SnapshotIndex &index) {
    HomeEventRow row;
    row.at = d.deliveredAt.value_or(LocalTime{d.promisedFor, Minutes()});
    row.what = QObject::tr("Delivery, %1 (%2)").arg(desk::words(d.status), desk::words(d.way));
    row.item = desk::itemName(index, line.item);
    if (const QString lacking = desk::arrivedShort(line); !lacking.isEmpty())
        row.what += QObject::tr("; %1").arg(lacking);
    row.count = line.arrived().count();
    row.who = QString::fromStdString(d.receivedBy);
    if (!d.receiverRelation.empty())
        row.who = QObject::tr("%1, %2").arg(row.who, QString::fromStdString(d.receiverRelation));
    return row;
}

} // namespace

HomeStockTab::HomeStockTab(Session &session, QWidget *parent)
    : RecordTab(session, parent), balanceModel_(balanceColumns()), eventModel_(eventColumns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *row = new QHBoxLayout;
    count_ = addButton(row, QStringLiteral("homeCount"), tr("Record a count…"),
                       [this] { countAtHome(this, this->session(), patientId()); });
    row->addStretch(1);
    layout->addLayout(row);
    known_ = new QLabel(this);
    known_->setObjectName(QStringLiteral("homeStockKnown"));
    known_->setWordWrap(true);
    layout->addWidget(known_);
    below_ = new QLabel(this);
    below_->setObjectName(QStringLiteral("homeStockBelow"));
    below_->setWordWrap(true);
    Look::setInk(below_, Role::Act);
    layout->addWidget(below_);
    balanceTable_ = new DenseTable(QStringLiteral("homeBalances"), tr("In the home by the record"), this);
    balanceTable_->setModel(new RowsProxy(&balanceModel_, this));
    layout->addWidget(balanceTable_, 1);
    auto *eventHead = new QLabel(tr("Counts and deliveries"), this);
    layout->addWidget(eventHead);
    eventTable_ = new DenseTable(QStringLiteral("homeEvents"), tr("Counts and deliveries"), this);
    eventTable_->setModel(new RowsProxy(&eventModel_, this));
    eventHead->setBuddy(eventTable_);
    layout->addWidget(eventTable_, 1);
}

std::vector<HomeBalanceRow> HomeStockTab::balances() const {
    const desk::AgencyPtr agency = session().agency();
    const SnapshotIndex &index = agency->index();
    std::vector<HomeBalanceRow> rows;
    for (const Catheter *catheter : index.cathetersOf(patientId()))
        for (const StockBalance &balance : index.balancesAt(Place::home(catheter->id))) {
            const Lot *lot = balance.lot ? index.lot(*balance.lot) : nullptr;
            HomeBalanceRow row;
            row.catheter = desk::catheterText(*catheter);
            row.item = desk::itemName(index, balance.item);
            row.lot = lot ? QString::fromStdString(lot->number) : notKnown();
            row.expires =
                lot && lot->expiresOn ? desk::dayText(*lot->expiresOn, agency->today()) : notKnown();
            row.expiresDay = lot && lot->expiresOn ? lot->expiresOn->dayNumber() : 1'000'000;
            row.count = balance.quantity.count();
            rows.push_back(std::move(row));
        }
    return rows;
}

std::vector<HomeEventRow> HomeStockTab::events() const {
    const desk::AgencyPtr agency = session().agency();
    const SnapshotIndex &index = agency->index();
    std::vector<HomeEventRow> rows;
    for (const Catheter *catheter : index.cathetersOf(patientId()))
        for (const HomeCount *count : index.countsOf(catheter->id))
            rows.push_back({count->at, tr("Count, %1").arg(desk::catheterText(*catheter)),
                            desk::itemName(index, count->item), desk::words(count->source),
                            count->counted.count()});
    for (const Delivery *delivery : index.deliveriesOf(patientId()))
        for (const DeliveryLine &line : delivery->lines)
            rows.push_back(deliveryRow(*delivery, line, index));
    std::ranges::stable_sort(rows, std::greater(), &HomeEventRow::at);
    return rows;
}

void HomeStockTab::fill() {
    std::vector<HomeBalanceRow> rows = balances();
    QStringList below;
    for (const HomeBalanceRow &row : rows)
        if (row.count < 0)
            below << belowText(row);
    below_->setText(below.join(QLatin1Char('\n')));
    below_->setHidden(below.isEmpty());
    balanceModel_.setRows(std::move(rows));
    eventModel_.setRows(events());
    balanceTable_->fitColumns(1);
    eventTable_->fitColumns(2);
    known_->setText(
        eventModel_.rowCount() == 0
            ? tr("What is in the home is not known: nothing was counted or delivered yet. Record a count.")
            : tr("By the record, after every logged drain. A count sets it right."));
    count_->setEnabled(!session().isReadOnly());
}

} // namespace kitround::ui
