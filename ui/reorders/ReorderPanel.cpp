#include "ui/reorders/ReorderPanel.h"

#include "core/desk/views/BudgetView.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/LevelDialog.h"
#include "ui/shared/Printing.h"
#include "ui/shared/RowsModel.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QStyledItemDelegate>
#include <QVBoxLayout>

#include <algorithm>
#include <iterator>

namespace kitround::ui {
namespace {

QString numbersOf(const supply::ReorderLine &line) {
    QStringList rows;
    const auto row = [&](const QString &name, std::int64_t value) {
        rows << QObject::tr("%1: %2").arg(name, desk::numberText(value));
    };
    row(QObject::tr("On the shelf, usable"), line.storeroom.count());
    row(QObject::tr("Promised to homes"), line.promised.count());
    row(QObject::tr("On order, in time"), line.onOrder.count());
    row(QObject::tr("On order, later"), line.onOrderLater.count());
    row(QObject::tr("Expected to expire first"), line.expiring.count());
    row(QObject::tr("Position"), line.position.count());
    row(QObject::tr("Order up to"), line.orderUpTo.count());
    row(QObject::tr("Exact need"), line.exactNeed.count());
    row(QObject::tr("Eaches in a case"), line.pack.eachesPerCase.count());
    if (line.economic)
        row(QObject::tr("Cheapest order size, cases"), line.economic->count());
    rows << QObject::tr("Demand over %1 days: %2 (mean)")
                .arg(line.coverDays.count())
                .arg(line.demandMean, 0, 'f', 1);
    rows << QObject::tr("Service level: %1 %")
                .arg(static_cast<double>(line.servicePermille) / 10.0, 0, 'f', 1);
    rows << QObject::tr("Short before an order placed now arrives: %1")
                .arg(desk::chanceText(line.chanceShortBefore));
    rows << QObject::tr("Use over the next four weeks: %1 a week (mean)").arg(7 * line.meanPerDay, 0, 'f', 1);
    rows << QObject::tr("At that rate lasts about %1 days with the order").arg(line.daysAfter, 0, 'f', 0);
    if (line.backorderedUntil)
        rows << QObject::tr("Backordered until %1").arg(desk::dayText(*line.backorderedUntil));
    return rows.join(QLatin1Char('\n'));
}

// The number is typed over the cell: its editor covers it whole.
class CasesDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    QWidget *createEditor(QWidget *parent, const QStyleOptionViewItem &option,
                          const QModelIndex &index) const override {
        QWidget *editor = QStyledItemDelegate::createEditor(parent, option, index);
        if (editor) {
            editor->setAutoFillBackground(true);
            editor->setBackgroundRole(QPalette::Base);
        }
        return editor;
    }
    void updateEditorGeometry(QWidget *editor, const QStyleOptionViewItem &option,
                              const QModelIndex &) const override {
        editor->setGeometry(option.rect);
    }

protected:
    void initStyleOption(QStyleOptionViewItem *option, const QModelIndex &index) const override {
        QStyledItemDelegate::initStyleOption(option, index);
        option->state &= ~QStyle::State_HasFocus; // the whole row is chosen, as everywhere
    }
};

} // namespace

ReorderPanel::ReorderPanel(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    auto *top = new QHBoxLayout;
    sums_ = new QLabel(this);
    sums_->setObjectName(QStringLiteral("reorderSums"));
    sums_->setWordWrap(true);
    top->addWidget(sums_, 1);
    forget_ = new QPushButton(tr("Back to the proposal"), this);
    forget_->setObjectName(QStringLiteral("reorderForget"));
    level_ = new QPushButton(tr("Other service level…"), this);
    level_->setObjectName(QStringLiteral("reorderLevel"));
    csv_ = new QPushButton(tr("Save as CSV…"), this);
    csv_->setObjectName(QStringLiteral("reorderCsv"));
    top->addWidget(level_);
    top->addWidget(forget_);
    top->addWidget(csv_);
    connect(csv_, &QPushButton::clicked, this, [this] {
        if (picture_)
            saveTable(this, session_, desk::reorderTable(*picture_));
    });
    layout->addLayout(top);
    auto *splitter = new QSplitter(Qt::Horizontal, this);
    splitter->setChildrenCollapsible(false);
    table_ = new DenseTable(QStringLiteral("reorderTable"), tr("Reorder list"), splitter);
    table_->setModel(new RowsProxy(&model_, this));
    table_->setEditTriggers(QAbstractItemView::EditKeyPressed | QAbstractItemView::DoubleClicked);
    table_->setItemDelegateForColumn(ReorderModel::CasesColumn, new CasesDelegate(table_));
    table_->keepReadable(ReorderModel::Item);
    table_->wrapTexts(); // signs and names are read whole
    splitter->addWidget(table_);
    auto *area = new QScrollArea(splitter);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setMinimumWidth(280);
    area->setAccessibleName(tr("Why"));
    auto *side = new QWidget(area);
    auto *sideLayout = new QVBoxLayout(side);
    const auto label = [&](const QString &objectName) {
        auto *l = new QLabel(side);
        l->setObjectName(objectName);
        l->setWordWrap(true);
        l->setTextInteractionFlags(Qt::TextSelectableByMouse);
        sideLayout->addWidget(l);
        return l;
    };
    what_ = label(QStringLiteral("reorderItem"));
    what_->setFont(Look::strongFont());
    why_ = label(QStringLiteral("reorderWhy"));
    numbers_ = label(QStringLiteral("reorderNumbers"));
    sideLayout->addStretch(1);
    area->setWidget(side);
    splitter->addWidget(area);
    splitter->setStretchFactor(0, 1);
    splitter->setSizes({760, 300});
    layout->addWidget(splitter, 1);

    connect(table_, &DenseTable::currentRowChanged, this, &ReorderPanel::showDetail);
    connect(&model_, &ReorderModel::edited, this, &ReorderPanel::showSums);
    connect(&model_, &ReorderModel::edited, this, // a changed number is longer than the proposed one
            [this] { table_->fitColumns(ReorderModel::Signs); });
    connect(forget_, &QPushButton::clicked, &model_, &ReorderModel::forget);
    connect(level_, &QPushButton::clicked, this, [this] {
        if (const int row = table_->currentSourceRow(); row >= 0 && row < model_.rowCount()) {
            auto *dialog = new LevelDialog(session_, model_.line(row).item, this);
            dialog->setAttribute(Qt::WA_DeleteOnClose);
            dialog->show();
        }
    });
    const auto edit = [this] {
        const QModelIndex now = table_->currentIndex();
        if (now.isValid())
            table_->edit(now.siblingAtColumn(ReorderModel::CasesColumn));
    };
    connect(table_, &DenseTable::opened, this, edit);
    const auto key = [this](int code, auto slot) {
        auto *action = new QAction(this);
        action->setShortcut(QKeySequence(code));
        action->setShortcutContext(Qt::WidgetShortcut);
        table_->addAction(action);
        connect(action, &QAction::triggered, this, slot);
    };
    key(Qt::Key_Space, [this] { model_.toggle(table_->currentSourceRow()); });
    key(Qt::Key_F2, edit);
}

void ReorderPanel::show(desk::StockPicturePtr picture) {
    const int row = table_->currentSourceRow();
    const bool isFirst = model_.rowCount() == 0;
    picture_ = std::move(picture);
    model_.setPicture(picture_);
    if (isFirst && model_.rowCount() > 0)
        table_->fitColumns(ReorderModel::Signs);
    if (model_.rowCount() > 0)
        table_->selectSourceRow(std::clamp(row, 0, model_.rowCount() - 1));
    showDetail();
    showSums();
}

void ReorderPanel::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

void ReorderPanel::showDetail() {
    const int row = table_->currentSourceRow();
    level_->setEnabled(picture_ && row >= 0 && row < model_.rowCount());
    if (row < 0 || row >= model_.rowCount() || !picture_) {
        what_->setText(picture_ ? desk::nothingToOrderText(*picture_->agency)
                                : tr("The list is being worked out."));
        why_->clear();
        numbers_->clear();
        return;
    }
    const supply::ReorderLine &line = model_.line(row);
    const Item *item = picture_->agency->index().item(line.item);
    what_->setText(item ? QString::fromStdString(item->name) : tr("an unknown item"));
    why_->setText(desk::reason(line, picture_->agency->index()));
    numbers_->setText(numbersOf(line));
}

void ReorderPanel::showSums() {
    forget_->setEnabled(model_.isEdited());
    csv_->setEnabled(picture_ != nullptr);
    if (!picture_) {
        sums_->clear();
        return;
    }
    const std::string &currency = picture_->agency->settings().currency;
    QStringList parts;
    for (const desk::ReorderSum &sum : desk::reorderSums(*picture_, model_.edits())) {
        const Supplier *supplier = picture_->agency->index().supplier(sum.supplier);
        if (!supplier) {
            parts << desk::counted(static_cast<std::int64_t>(sum.lines),
                                   tr("Offered by nobody: 1 line, enter an offer under Items and suppliers"),
                                   tr("Offered by nobody: %1 lines, enter offers under Items and suppliers"));
            continue;
        }
        QString text =
            tr("%1: %2").arg(QString::fromStdString(supplier->name), desk::moneyText(sum.total, currency));
        if (sum.leastOrder.count() > 0 && sum.lines > 0)
            text += sum.meetsMinimum
                        ? tr(", minimum met")
                        : tr(", below the minimum of %1").arg(desk::moneyText(sum.leastOrder, currency));
        parts << text;
    }
    QString text = parts.join(QStringLiteral("   ·   "));
    Money proposed;
    for (const desk::ReorderSum &sum : desk::reorderSums(*picture_, model_.edits()))
        proposed += sum.supplier.isSet() ? sum.total : Money{};
    if (const QString budget = desk::budgetText(*picture_->agency, proposed); !budget.isEmpty())
        text += (text.isEmpty() ? QString() : QStringLiteral("\n")) + budget;
    sums_->setText(text);
}

bool ReorderPanel::mayMake(const std::vector<PurchaseOrder> &drafts) {
    QStringList waiting;
    const desk::AgencyPtr agency = session_.agency();
    for (const PurchaseOrder &order : agency->snapshot().purchaseOrders)
        if (order.status == PurchaseStatus::Draft)
            for (const PurchaseOrder &draft : drafts)
                if (draft.supplier == order.supplier)
                    waiting << QString::fromStdString(order.number);
    if (waiting.isEmpty())
        return true;
    return Ask::confirm(
        this, tr("Make purchase orders"),
        tr("A draft to the same supplier waits to be sent already: %1. Drafts do not count as on order, "
           "so the list proposes the same again.")
            .arg(waiting.join(QStringLiteral(", "))),
        tr("Make another draft"), tr("Leave it"));
}

std::vector<PurchaseOrderId> ReorderPanel::makeOrders() {
    // A number made for an older picture may be taken by now, so drafts come only from the present one.
    if (!picture_ || picture_ != session_.stock()) {
        Ask::tell(this, tr("Make purchase orders"),
                  tr("The list is being worked out again. Try in a moment."));
        return {};
    }
    const std::vector<PurchaseOrder> drafts = desk::draftOrders(*picture_, model_.edits());
    if (drafts.empty()) {
        Ask::tell(this, tr("Make purchase orders"), tr("No line with a supplier is left to order."));
        return {};
    }
    if (!mayMake(drafts))
        return {};
    Money sum = desk::draftsTotal(*session_.agency());
    for (const PurchaseOrder &draft : drafts)
        sum += supply::totalOf(draft);
    std::string approver;
    if (!desk::overBudget(*session_.agency(), sum).isZero()) {
        const auto name = Ask::line(this, tr("Over the month's budget"),
                                    tr("%1 Who approved it?").arg(desk::budgetText(*session_.agency(), sum)));
        if (!name || name->trimmed().isEmpty())
            return {};
        approver = name->trimmed().toStdString();
    }
    std::vector<PurchaseOrderId> made;
    QStringList numbers; // what was done last is all of them
    for (PurchaseOrder draft : drafts) {
        draft.approvedBy = approver;
        numbers << QString::fromStdString(draft.number);
        const QString what = (numbers.size() == 1 ? tr("Made draft order %1") : tr("Made draft orders %1"))
                                 .arg(numbers.join(QStringLiteral(", ")));
        if (!session_.writeOrTell(this, what, [&](desk::Desk &d) {
                auto saved = d.saveOrder(draft);
                if (saved)
                    made.push_back(saved->id);
                return saved;
            }))
            break;
    }
    if (made.size() == drafts.size())
        model_.forget();
    return made;
}

} // namespace kitround::ui
