#include "ui/stock/DeliveryPanel.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/views/CarBoard.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/stock/StockColumns.h"
#include "ui/stock/SupplyForms.h"

#include <QCheckBox>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>
#include <initializer_list>
#include <tuple>

namespace kitround::ui {
namespace {

bool isOpen(DeliveryStatus status) {
    return status != DeliveryStatus::Delivered && status != DeliveryStatus::Cancelled;
}

// Its lots were written down, and stand in the ledger with it.
bool isPacked(DeliveryStatus status) {
    return status != DeliveryStatus::Promised && status != DeliveryStatus::Cancelled;
}

bool isLate(const Delivery &delivery) {
    return isOpen(delivery.status) && delivery.deliverBy && delivery.promisedFor > *delivery.deliverBy;
}

DeliveryRow rowOf(const Delivery &delivery, const SnapshotIndex &index) {
    DeliveryRow row{.delivery = delivery,
                    .patient = {},
                    .lines = {},
                    .what = {},
                    .lots = {},
                    .shortText = {},
                    .passTo = {},
                    .passToName = {}};
    if (const Patient *patient = index.patient(delivery.patient))
        row.patient = desk::personName(*patient, index);
    row.passTo = desk::takerOf(index, delivery);
    row.shortText = desk::arrivedShort(delivery);
    if (const Nurse *taker = row.passTo ? index.nurse(*row.passTo) : nullptr)
        row.passToName = desk::personName(*taker);
    QStringList lines, what, lots;
    for (const DeliveryLine &line : delivery.lines) {
        const Item *item = index.item(line.item);
        const Lot *lot = line.lot ? index.lot(*line.lot) : nullptr;
        QString text = QObject::tr("%1 × %2")
                           .arg(line.quantity.count())
                           .arg(item ? QString::fromStdString(item->name) : QObject::tr("an unknown item"));
        what << text;
        if (lot) {
            const bool isRecalled = lot->state == LotState::Recalled && isOpen(delivery.status);
            row.hasRecall = row.hasRecall || isRecalled;
            const QString number = isRecalled
                                       ? QObject::tr("%1 recalled").arg(QString::fromStdString(lot->number))
                                       : QString::fromStdString(lot->number);
            text += QObject::tr(" (lot %1)").arg(number);
            if (!lots.contains(number))
                lots << number;
        }
        if (const QString lacking = desk::arrivedShort(line); !lacking.isEmpty())
            text += QObject::tr(": %1").arg(lacking);
        lines << text;
    }
    row.lines = lines.join(QStringLiteral("; "));
    row.what = what.join(QStringLiteral("; "));
    row.lots = lots.join(QStringLiteral(", "));
    return row;
}

QVariant sortMoment(const std::optional<LocalTime> &at) {
    return at ? QVariant(qlonglong(at->date.dayNumber()) * 1440 + at->minute.count())
              : QVariant(qlonglong(1) << 40);
}

bool mayBeHandedOver(const Delivery &d) {
    return d.status == DeliveryStatus::InTransit ||
           (d.status == DeliveryStatus::Picked && d.way == DeliveryWay::WithVisit);
}

// What is open by the day it is promised for, then what is done with, the newest first.
std::tuple<bool, std::int64_t, std::int64_t> orderOf(const DeliveryRow &row) {
    const Delivery &d = row.delivery;
    const std::int64_t id = d.id.value();
    if (isOpen(d.status))
        return {false, d.promisedFor.dayNumber(), id};
    const Date done = d.deliveredAt ? d.deliveredAt->date : d.promisedFor;
    return {true, -std::int64_t{done.dayNumber()}, -id};
}

// Columns by their place.
constexpr int kWhat = 5, kLot = 6, kDelivered = 9, kReceivedBy = 10;
constexpr int kLotWidth = 130;

} // namespace

std::vector<RowsColumn<DeliveryRow>> DeliveryPanel::columns() {
    return {
        {.head = tr("Status"),
         .text =
             [](const DeliveryRow &r) {
                 const QString status = desk::words(r.delivery.status);
                 return r.shortText.isEmpty() ? status : tr("%1, %2").arg(status, r.shortText);
             },
         .sortBy = [](const DeliveryRow &r) { return QVariant(static_cast<int>(r.delivery.status)); },
         .ink =
             [](const DeliveryRow &r) {
                 return r.shortText.isEmpty() ? std::nullopt : std::optional(Role::Watch);
             },
         .tip = [](const DeliveryRow &r) { return r.shortText.isEmpty() ? QString() : r.lines; }},
        {.head = tr("Patient"), .text = [](const DeliveryRow &r) { return r.patient; }},
        {.head = tr("Promised for"),
         .text = [](const DeliveryRow &r) { return desk::dayText(r.delivery.promisedFor); },
         .sortBy =
             [](const DeliveryRow &r) { return QVariant(qlonglong(r.delivery.promisedFor.dayNumber())); }},
        {.head = tr("Needed by"),
         .text =
             [](const DeliveryRow &r) {
                 return r.delivery.deliverBy ? desk::dayText(*r.delivery.deliverBy) : QString();
             },
         .sortBy = [](const DeliveryRow &r) { return QVariant(sortDay(r.delivery.deliverBy)); },
         .ink =
             [](const DeliveryRow &r) {
                 return isLate(r.delivery) ? std::optional(Role::Watch) : std::nullopt;
             },
         .tip =
             [](const DeliveryRow &r) {
                 return isLate(r.delivery) ? QObject::tr("Promised for after it is needed") : QString();
             }},
        {.head = tr("Way"),
         .text = [](const DeliveryRow &r) { return desk::words(r.delivery.way); },
         .icon =
             [](const DeliveryRow &r) {
                 return r.delivery.way == DeliveryWay::WithVisit ? Look::icon(QStringLiteral("rider"))
                                                                 : QIcon();
             }},
        {.head = tr("What"),
         .text = [](const DeliveryRow &r) { return r.what; },
         .tip = [](const DeliveryRow &r) { return r.lines; }},
        {.head = tr("Lot"),
         .text = [](const DeliveryRow &r) { return r.lots; },
         .ink = [](const DeliveryRow &r) { return r.hasRecall ? std::optional(Role::Act) : std::nullopt; },
         .tip = [](const DeliveryRow &r) { return r.lines; }},
        {.head = tr("Shipped"),
         .text =
             [](const DeliveryRow &r) {
                 const auto &at = r.delivery.shippedAt;
                 return at ? desk::momentText(*at) : QString();
             },
         .sortBy = [](const DeliveryRow &r) { return sortMoment(r.delivery.shippedAt); }},
        {.head = tr("Tracking"),
         .text = [](const DeliveryRow &r) { return QString::fromStdString(r.delivery.trackingNumber); }},
        {.head = tr("Delivered"),
         .text =
             [](const DeliveryRow &r) {
                 return r.delivery.deliveredAt ? desk::momentText(*r.delivery.deliveredAt) : QString();
             },
         .sortBy = [](const DeliveryRow &r) { return sortMoment(r.delivery.deliveredAt); }},
        {.head = tr("Received by"),
         .text = [](const DeliveryRow &r) { return QString::fromStdString(r.delivery.receivedBy); }},
    };
}

DeliveryPanel::DeliveryPanel(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), model_(columns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    auto *row = new QHBoxLayout;
    const auto button = [&](const QString &objectName, const QString &text, void (DeliveryPanel::*step)()) {
        auto *b = new QPushButton(text, this);
        b->setObjectName(objectName);
        row->addWidget(b);
        connect(b, &QPushButton::clicked, this, step);
        return b;
    };
    pick_ = button(QStringLiteral("deliveryPick"), tr("Pick"), &DeliveryPanel::pick);
    lots_ = button(QStringLiteral("deliveryLots"), tr("Lot taken was another…"), &DeliveryPanel::correctLots);
    ship_ = button(QStringLiteral("deliveryShip"), tr("Ship"), &DeliveryPanel::ship);
    pass_ = button(QStringLiteral("deliveryPass"), tr("Handed over in the cars"), &DeliveryPanel::passOn);
    pass_->setToolTip(
        tr("Records that the packed parcel went from one nurse's car to the car of the nurse who "
           "makes its visit by now"));
    track_ = button(QStringLiteral("deliveryTrack"), tr("Tracking number…"), &DeliveryPanel::track);
    deliver_ = button(QStringLiteral("deliveryDeliver"), tr("Delivered…"), &DeliveryPanel::deliver);
    cancel_ = button(QStringLiteral("deliveryCancel"), tr("Cancel the delivery…"), &DeliveryPanel::cancel);
    row->addStretch(1);
    layout->addLayout(row);
    makeTable();
    row = new QHBoxLayout;
    row->addWidget(search_);
    row->addStretch(1);
    row->addWidget(closed_);
    layout->addLayout(row);
    layout->addWidget(table_, 1);
    row = new QHBoxLayout;
    row->addStretch(1);
    slip_ = button(QStringLiteral("deliverySlip"), tr("Print the slip…"), &DeliveryPanel::printSlip);
    print_ =
        button(QStringLiteral("deliveryPrint"), tr("Print the pick list…"), &DeliveryPanel::printPickList);
    layout->addLayout(row);
    QWidget *before = table_; // the first to get the focus when the tab is opened: no key may move stock
    for (QWidget *next : std::initializer_list<QWidget *>{pick_, lots_, ship_, pass_, track_, deliver_,
                                                          cancel_, search_, closed_, slip_, print_}) {
        setTabOrder(before, next);
        before = next;
    }
    connect(closed_, &QCheckBox::toggled, this, &DeliveryPanel::show);
    connect(table_, &DenseTable::currentRowChanged, this, &DeliveryPanel::enableSteps);
    connect(table_, &DenseTable::opened, this, &DeliveryPanel::nextStep);
    enableSteps();
}

void DeliveryPanel::makeTable() {
    search_ = new QLineEdit(this);
    search_->setObjectName(QStringLiteral("deliverySearch"));
    search_->setAccessibleName(tr("Show only deliveries with"));
    search_->setPlaceholderText(tr("Show only deliveries with… (patient, lot)"));
    search_->setClearButtonEnabled(true);
    search_->setMinimumWidth(280);
    closed_ = new QCheckBox(tr("Also delivered and cancelled"), this);
    closed_->setObjectName(QStringLiteral("deliveryClosed"));
    table_ = new DenseTable(QStringLiteral("deliveryTable"), tr("Deliveries"), this);
    auto *proxy = new RowsProxy(&model_, this);
    table_->setModel(proxy);
    table_->keepReadable(kLot, kLotWidth); // several lots are cut before what it is and its state
    table_->keepReadable(kWhat);
    connect(search_, &QLineEdit::textChanged, proxy, &RowsProxy::setFilterFixedString);
}

void DeliveryPanel::show() {
    const desk::AgencyPtr agency = session_.agency();
    if (!agency)
        return;
    const DeliveryRow *before = current();
    const auto kept = before ? std::optional(before->delivery.id) : std::nullopt;
    const int place = table_->currentSourceRow();
    std::vector<DeliveryRow> rows;
    for (const Delivery &delivery : agency->snapshot().deliveries)
        if (isOpen(delivery.status) || closed_->isChecked())
            rows.push_back(rowOf(delivery, agency->index()));
    std::ranges::stable_sort(rows, {}, orderOf);
    model_.setRows(std::move(rows));
    for (const int column : {kDelivered, kReceivedBy}) // empty for all that is open
        table_->setColumnHidden(column, !closed_->isChecked());
    table_->fitColumns(kWhat); // numbers and names come later; a width set by hand stays
    if (const int row = rowToGoOn(place, kept); row >= 0)
        table_->selectSourceRow(row);
    enableSteps();
}

// The row that was chosen: after a step its next one is asked for, not another patient's. Where it is gone,
// what stands in its place now.
int DeliveryPanel::rowToGoOn(int before, std::optional<DeliveryId> kept) const {
    const int count = model_.rowCount();
    if (count == 0)
        return -1;
    for (int row = 0; row < count; ++row)
        if (model_.row(row).delivery.id == kept)
            return row;
    return std::clamp(before, 0, count - 1);
}

void DeliveryPanel::clear() {
    model_.setRows({});
    enableSteps();
}

void DeliveryPanel::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

const DeliveryRow *DeliveryPanel::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

void DeliveryPanel::enableSteps() {
    const DeliveryRow *row = current();
    const bool mayWrite = row && !session_.isReadOnly();
    pick_->setEnabled(mayWrite && row->delivery.status == DeliveryStatus::Promised);
    lots_->setEnabled(mayWrite && isPacked(row->delivery.status));
    ship_->setEnabled(mayWrite && row->delivery.status == DeliveryStatus::Picked);
    pass_->setEnabled(mayWrite && row->passTo);
    pass_->setText(row && row->passTo ? tr("Handed over to %1").arg(row->passToName)
                                      : tr("Handed over in the cars"));
    track_->setEnabled(mayWrite && row->delivery.way == DeliveryWay::Courier && row->delivery.shippedAt);
    const bool isDelivered = row && row->delivery.status == DeliveryStatus::Delivered;
    deliver_->setEnabled(mayWrite && (isDelivered || mayBeHandedOver(row->delivery)));
    deliver_->setText(isDelivered ? tr("How it arrived…") : tr("Delivered…"));
    cancel_->setEnabled(mayWrite && isOpen(row->delivery.status));
    slip_->setEnabled(row);
}

void DeliveryPanel::pick() {
    const DeliveryRow *row = current();
    if (!row)
        return;
    takeFocus(); // the step is done: its button goes grey, and the next one must not get the next key
    session_.writeOrTell(this, tr("Picked a delivery for %1").arg(row->patient),
                         [id = row->delivery.id](desk::Desk &d) { return d.pick(id); });
}

void DeliveryPanel::correctLots() {
    const DeliveryRow *row = current();
    if (!row)
        return;
    const Delivery delivery = row->delivery; // a reload may come while the form is open
    takeFocus();
    ui::correctLots(this, session_, delivery);
}

void DeliveryPanel::ship() {
    const DeliveryRow *row = current();
    if (!row)
        return;
    takeFocus();
    session_.writeOrTell(this, tr("Shipped a delivery to %1").arg(row->patient),
                         [id = row->delivery.id](desk::Desk &d) { return d.ship(id); });
}

void DeliveryPanel::passOn() {
    const DeliveryRow *row = current();
    if (!row || !row->passTo)
        return;
    takeFocus();
    session_.writeOrTell(
        this, tr("Handed the parcel for %1 over to %2").arg(row->patient, row->passToName),
        [id = row->delivery.id, to = *row->passTo](desk::Desk &d) { return d.passParcel(id, to); });
}

void DeliveryPanel::track() {
    const DeliveryRow *row = current();
    if (!row)
        return;
    const DeliveryId id = row->delivery.id;
    const auto number = Ask::line(this, tr("Tracking number"),
                                  tr("The courier's number for the parcel to %1:").arg(row->patient),
                                  QString::fromStdString(row->delivery.trackingNumber));
    if (number)
        session_.writeOrTell(this, tr("Noted a tracking number"), [&](desk::Desk &d) {
            return d.setTracking(id, number->trimmed().toStdString());
        });
}

void DeliveryPanel::printSlip() {
    if (const DeliveryRow *row = current())
        offerPaper(this, session_, desk::deliverySlip(*session_.agency(), row->delivery));
}

void DeliveryPanel::deliver() {
    const DeliveryRow *row = current();
    if (!row)
        return;
    const Delivery delivery = row->delivery; // a reload may come while the form is open
    takeFocus();
    if (delivery.status == DeliveryStatus::Delivered)
        correctArrival(this, session_, delivery);
    else
        recordHandOver(this, session_, delivery);
}

void DeliveryPanel::cancel() {
    const DeliveryRow *row = current();
    if (!row)
        return;
    const Delivery delivery = row->delivery; // a reload may come while the question is open
    takeFocus();
    cancelDelivery(this, session_, delivery);
}

// A stray Enter must not move stock: steps without a form ask first.
void DeliveryPanel::nextStep() {
    const DeliveryRow *row = current();
    if (!row)
        return;
    // The list may be filled anew while the question is open.
    const auto isStillChosen = [this, id = row->delivery.id] {
        const DeliveryRow *now = current();
        return now && now->delivery.id == id;
    };
    if (row->delivery.status == DeliveryStatus::Delivered)
        return; // it is done with; what is put right has its button
    if (deliver_->isEnabled())
        deliver();
    else if (pick_->isEnabled()) {
        if (Ask::confirm(this, tr("Pick"), tr("Pick now for %1: %2?").arg(row->patient, row->lines),
                         tr("Pick"), tr("Leave it")) &&
            isStillChosen())
            pick();
    } else if (ship_->isEnabled()) {
        if (Ask::confirm(this, tr("Ship"), tr("Has the parcel for %1 been handed over?").arg(row->patient),
                         tr("Ship"), tr("Leave it")) &&
            isStillChosen())
            ship();
    }
}

void DeliveryPanel::printPickList() {
    if (const auto stock = session_.stock())
        offerPaper(this, session_, desk::pickList(*stock));
    else
        Ask::tell(this, tr("Pick list"), tr("The stock is being worked out. Try again in a moment."));
}

} // namespace kitround::ui
