#include "ui/reorders/OrdersPanel.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/views/BudgetView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/reorders/ReverseReceipt.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>
#include <tuple>

namespace kitround::ui {
namespace {

bool isOwed(PurchaseStatus status) {
    return status == PurchaseStatus::Sent || status == PurchaseStatus::PartlyReceived;
}

// When what is still owed should come: the order's day holds only for lines that were not set back.
void setExpected(OrderRow &row, Date today) {
    const std::optional<Date> &on = row.order.expectedOn;
    row.expected = on ? desk::dayText(*on) : QString();
    if (!isOwed(row.order.status))
        return;
    std::optional<Date> backordered; // the latest of them
    bool hasOther = false;
    for (const PurchaseLine &line : row.order.lines) {
        if (line.received >= toEaches(line.cases, line.pack))
            continue;
        if (line.backorderedUntil)
            backordered = std::max(backordered.value_or(*line.backorderedUntil), *line.backorderedUntil);
        else
            hasOther = true;
    }
    row.isBackordered = backordered.has_value();
    const bool isOrderLate = on && *on < today && (hasOther || !backordered);
    row.isLate = isOrderLate || (backordered && *backordered < today);
    if (row.isLate && !backordered)
        row.expected = QObject::tr("%1, late").arg(row.expected);
    else if (backordered && hasOther && on)
        row.expected = QObject::tr("%1; backordered until %2")
                           .arg(isOrderLate ? QObject::tr("%1, late").arg(row.expected) : row.expected,
                                desk::dayText(*backordered));
    else if (backordered)
        row.expected = (row.isLate ? QObject::tr("%1, backordered, late") : QObject::tr("%1, backordered"))
                           .arg(desk::dayText(*backordered));
}

OrderRow rowOf(const PurchaseOrder &order, const desk::Agency &agency) {
    OrderRow row{.order = order, .supplier = {}, .lines = {}, .expected = {}};
    if (const Supplier *supplier = agency.index().supplier(order.supplier))
        row.supplier = QString::fromStdString(supplier->name);
    QStringList lines;
    for (const PurchaseLine &line : order.lines) {
        const Item *item = agency.index().item(line.item);
        QString text =
            QObject::tr("%1 of %2: received %3 of %4 eaches")
                .arg(desk::counted(line.cases.count(), QObject::tr("%1 case"), QObject::tr("%1 cases")))
                .arg(item ? QString::fromStdString(item->name) : QObject::tr("an unknown item"))
                .arg(desk::numberText(line.received.count()),
                     desk::numberText(toEaches(line.cases, line.pack).count()));
        if (line.backorderedUntil)
            text += QObject::tr(", backordered until %1").arg(desk::dayText(*line.backorderedUntil));
        lines << text;
        row.ordered += toEaches(line.cases, line.pack).count();
        row.received += line.received.count();
    }
    if (!order.approvedBy.empty())
        lines
            << QObject::tr("beyond the budget, approved by %1").arg(QString::fromStdString(order.approvedBy));
    row.lines = lines.join(QStringLiteral("; "));
    setExpected(row, agency.today());
    return row;
}

RowsColumn<OrderRow> dayColumn(const QString &head, std::optional<Date> PurchaseOrder::*day) {
    return {
        .head = head,
        .text =
            [day](const OrderRow &r) { return r.order.*day ? desk::dayText(*(r.order.*day)) : QString(); },
        .sortBy =
            [day](const OrderRow &r) {
                return QVariant(r.order.*day ? qlonglong((r.order.*day)->dayNumber()) : qlonglong(1) << 40);
            }};
}

} // namespace

std::vector<RowsColumn<OrderRow>> OrdersPanel::columns() {
    RowsColumn<OrderRow> expected = dayColumn(tr("Expected"), &PurchaseOrder::expectedOn);
    expected.text = [](const OrderRow &r) { return r.expected; };
    expected.ink = [](const OrderRow &r) {
        return r.isLate || r.isBackordered ? std::optional(Role::Watch) : std::nullopt;
    };
    return {
        {.head = tr("Status"),
         .text = [](const OrderRow &r) { return desk::words(r.order.status); },
         .sortBy = [](const OrderRow &r) { return QVariant(static_cast<int>(r.order.status)); }},
        {.head = tr("Number"),
         .text = [](const OrderRow &r) { return QString::fromStdString(r.order.number); }},
        {.head = tr("Supplier"), .text = [](const OrderRow &r) { return r.supplier; }},
        dayColumn(tr("Ordered"), &PurchaseOrder::orderedOn),
        std::move(expected),
        {.head = tr("Received, eaches"),
         .text =
             [](const OrderRow &r) {
                 return tr("%1 of %2").arg(desk::numberText(r.received), desk::numberText(r.ordered));
             },
         .sortBy = [](const OrderRow &r) { return QVariant(qlonglong(r.received)); },
         .isNumber = true},
        {.head = tr("Lines"),
         .text = [](const OrderRow &r) { return r.lines; },
         .tip = [](const OrderRow &r) { return r.lines; }},
    };
}

OrdersPanel::OrdersPanel(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), model_(columns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    auto *top = new QHBoxLayout;
    const auto button = [&](const QString &objectName, const QString &text, void (OrdersPanel::*step)()) {
        auto *b = new QPushButton(text, this);
        b->setObjectName(objectName);
        top->addWidget(b);
        connect(b, &QPushButton::clicked, this, step);
        return b;
    };
    send_ = button(QStringLiteral("orderSend"), tr("Send…"), &OrdersPanel::send);
    receive_ = button(QStringLiteral("orderReceive"), tr("Receive…"), &OrdersPanel::open);
    news_ = button(QStringLiteral("orderNews"), tr("Supplier's news…"), &OrdersPanel::news);
    reverse_ = button(QStringLiteral("orderReverse"), tr("Reverse a receipt…"), &OrdersPanel::reverse);
    cancel_ = button(QStringLiteral("orderCancel"), tr("Cancel the order…"), &OrdersPanel::cancel);
    top->addStretch(1);
    csv_ = button(QStringLiteral("orderCsv"), tr("Save as CSV…"), &OrdersPanel::saveCsv);
    print_ = button(QStringLiteral("orderPrint"), tr("Print the order…"), &OrdersPanel::print);
    layout->addLayout(top);
    table_ = new DenseTable(QStringLiteral("orderTable"), tr("Purchase orders"), this);
    table_->setModel(new RowsProxy(&model_, this));
    table_->keepReadable(1, 140); // numbers differ at their ends, and suppliers' names
    table_->keepReadable(2, 180);
    layout->addWidget(table_, 1);
    connect(table_, &DenseTable::currentRowChanged, this, &OrdersPanel::enableSteps);
    connect(table_, &DenseTable::opened, this, [this] {
        const OrderRow *row = current();
        if (row && row->order.status == PurchaseStatus::Draft)
            send();
        else
            open();
    });
    enableSteps();
}

void OrdersPanel::show() {
    const desk::AgencyPtr agency = session_.agency();
    const OrderRow *before = current();
    const auto kept = wanted_ ? wanted_ : before ? std::optional(before->order.id) : std::nullopt;
    const bool isFirst = model_.rowCount() == 0;
    std::vector<OrderRow> rows;
    for (const PurchaseOrder &order : agency->snapshot().purchaseOrders)
        rows.push_back(rowOf(order, *agency));
    // Drafts, then what is owed by expected day, then closed ones, newest first.
    std::ranges::stable_sort(rows, {}, [](const OrderRow &r) {
        const int group = r.order.status == PurchaseStatus::Draft ? 0 : isOwed(r.order.status) ? 1 : 2;
        const std::int64_t expected = r.order.expectedOn ? r.order.expectedOn->dayNumber() : 0;
        return std::tuple(group, group == 2 ? -expected : expected, r.order.id);
    });
    model_.setRows(std::move(rows));
    if (isFirst && model_.rowCount() > 0)
        table_->fitColumns(6);
    int row = model_.rowCount() > 0 ? 0 : -1;
    for (int i = 0; kept && i < model_.rowCount(); ++i)
        if (model_.row(i).order.id == *kept) {
            row = i;
            if (wanted_ == kept)
                wanted_.reset();
        }
    if (row >= 0)
        table_->selectSourceRow(row);
    enableSteps();
}

void OrdersPanel::choose(PurchaseOrderId order) {
    wanted_ = order;
    if (session_.agency())
        show();
}

void OrdersPanel::clear() {
    model_.setRows({});
    enableSteps();
}

void OrdersPanel::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

const OrderRow *OrdersPanel::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

void OrdersPanel::enableSteps() {
    const OrderRow *row = current();
    const bool mayWrite = row && !session_.isReadOnly();
    send_->setEnabled(mayWrite && row->order.status == PurchaseStatus::Draft);
    receive_->setEnabled(mayWrite && isOwed(row->order.status));
    news_->setEnabled(mayWrite && isOwed(row->order.status));
    reverse_->setEnabled(mayWrite && hasReceipt(*session_.agency(), [row](const Receipt &receipt) {
                             return receipt.order == row->order.id;
                         }));
    cancel_->setEnabled(mayWrite && row->order.status != PurchaseStatus::Received &&
                        row->order.status != PurchaseStatus::Cancelled);
    print_->setEnabled(row);
    csv_->setEnabled(row);
}

void OrdersPanel::open() {
    if (const OrderRow *row = current(); row && receive_->isEnabled())
        Q_EMIT receiveAsked(row->order.id.value());
}

void OrdersPanel::send() {
    const OrderRow *row = current();
    if (!row || !send_->isEnabled())
        return;
    const PurchaseOrder order = row->order;
    const QString number = QString::fromStdString(order.number);
    takeFocus(); // once it is sent its button goes grey, and the next one must not get the next key
    if (!Ask::confirm(this, tr("Send order %1").arg(number),
                      tr("Mark it as sent to %1 today? Then print the order and send it yourself: until it "
                         "is marked, its "
                         "paper says it is a draft. From now on it counts as on order.")
                          .arg(row->supplier),
                      tr("It is sent"), tr("Leave it as a draft")))
        return;
    std::string approver;
    const Money total = supply::totalOf(order);
    if (order.approvedBy.empty() && !desk::overBudget(*session_.agency(), total).isZero()) {
        const auto name =
            Ask::line(this, tr("Over the month's budget"),
                      tr("%1 Who approved it?").arg(desk::budgetText(*session_.agency(), total)));
        if (!name || name->trimmed().isEmpty())
            return;
        approver = name->trimmed().toStdString();
    }
    session_.writeOrTell(this, tr("Sent order %1").arg(number),
                         [&](desk::Desk &d) { return d.sendOrder(order.id, approver); });
}

void OrdersPanel::cancel() {
    const OrderRow *row = current();
    if (!row)
        return;
    const PurchaseOrderId id = row->order.id;
    const QString number = QString::fromStdString(row->order.number);
    const auto why = Ask::line(this, tr("Cancel order %1").arg(number),
                               tr("Why, and who at the supplier was told? What came already stays."));
    if (why)
        session_.writeOrTell(this, tr("Cancelled order %1").arg(number),
                             [&](desk::Desk &d) { return d.cancelOrder(id, why->trimmed().toStdString()); });
}

void OrdersPanel::news() {
    const OrderRow *row = current();
    if (!row || !news_->isEnabled())
        return;
    const PurchaseOrder before = row->order;
    const desk::AgencyPtr agency = session_.agency();
    RecordForm form(tr("Supplier's news: order %1").arg(QString::fromStdString(before.number)), this);
    form.addDate("expected_on", tr("Expected"), before.expectedOn, session_.today());
    const auto field = [](std::size_t i) { return "backordered_until_" + std::to_string(i); };
    for (std::size_t i = 0; i < before.lines.size(); ++i) {
        const Item *item = agency->index().item(before.lines[i].item);
        form.addDate(field(i),
                     tr("%1 on backorder until")
                         .arg(item ? QString::fromStdString(item->name) : tr("an unknown item")),
                     before.lines[i].backorderedUntil, session_.today());
    }
    form.addLongText("note", tr("Note"), before.note);
    form.onSave(
        [&] {
            PurchaseOrder order = before;
            order.expectedOn = form.dateOf("expected_on");
            for (std::size_t i = 0; i < order.lines.size(); ++i)
                order.lines[i].backorderedUntil = form.dateOf(field(i));
            order.note = form.textOf("note");
            return order;
        },
        [&](const PurchaseOrder &order) {
            return session_.write(
                tr("Noted the supplier's news on order %1").arg(QString::fromStdString(order.number)),
                [&](desk::Desk &d) { return d.saveOrder(order); });
        });
    form.exec();
}

void OrdersPanel::reverse() {
    if (const OrderRow *row = current(); row && reverse_->isEnabled())
        reverseReceipt(this, session_,
                       [id = row->order.id](const Receipt &receipt) { return receipt.order == id; });
}

void OrdersPanel::print() {
    if (const OrderRow *row = current())
        offerPaper(this, session_, desk::purchaseOrderPaper(*session_.agency(), row->order));
}

void OrdersPanel::saveCsv() {
    if (const OrderRow *row = current())
        saveTable(this, session_, desk::purchaseOrderTable(*session_.agency(), row->order));
}

} // namespace kitround::ui
