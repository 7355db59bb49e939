#include "ui/reorders/ReorderPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"
#include "ui/reorders/BoardColumns.h"
#include "ui/reorders/MonthPanel.h"
#include "ui/reorders/OrdersPanel.h"
#include "ui/reorders/ReceivePanel.h"
#include "ui/reorders/ReorderPanel.h"
#include "ui/reorders/ShortageForm.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QHBoxLayout>
#include <QPushButton>
#include <QTabWidget>

namespace kitround::ui {

ReorderPage::ReorderPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("reorderPage"), tr("Reorders"), parent) {
    tabs_ = new QTabWidget(this);
    tabs_->setObjectName(QStringLiteral("reorderTabs"));
    tabs_->setDocumentMode(true);
    list_ = new ReorderPanel(session, tabs_);
    orders_ = new OrdersPanel(session, tabs_);
    receive_ = new ReceivePanel(session, tabs_);
    tabs_->addTab(list_, tr("Reorder list"));
    tabs_->addTab(orders_, tr("Orders"));
    tabs_->addTab(receive_, tr("Receive"));
    shortages_ = new RowsPanel<desk::ShortageRow>(
        {.objectName = QStringLiteral("shortageTable"),
         .title = tr("Shortages"),
         .explanation =
             tr("Homes by the day they are at risk before the next supply. The shelf is shared out "
                "in this order; nobody is given twice while another runs dry. Note what is done and by "
                "whom. Enter opens the patient."),
         .nothing = tr("No item is likely to run short before its next supply."),
         .stretched = 8},
        shortageColumns(), desk::shortageRows, tabs_);
    shortages_->showWhole(
        [](const desk::ShortageRow &row) { return tr("%1: %2. %3").arg(row.item, row.supply, row.action); });
    suppliers_ = new RowsPanel<desk::SupplierRow>(
        {.objectName = QStringLiteral("supplierTable"),
         .title = tr("Suppliers"),
         .explanation = tr("What suppliers did on the orders received, not what they promise. The reorder "
                           "list uses the learned lead time once enough orders are seen."),
         .nothing = tr("No supplier yet. Enter one under Items and suppliers."),
         .stretched = 0},
        supplierColumns(session), [](const desk::StockPicture &p) { return desk::supplierRows(*p.agency); },
        tabs_);
    tabs_->addTab(shortages_, tr("Shortages"));
    tabs_->addTab(suppliers_, tr("Suppliers"));
    month_ = new MonthPanel(session, tabs_);
    tabs_->addTab(month_, tr("Month end"));
    setBody(tabs_);
    head()->addStretch(1);
    main_ = setMainAction(QStringLiteral("reorderMain"), tr("Make purchase orders"));
    makeActions();
    connect(main_, &QPushButton::clicked, this, &ReorderPage::mainAction);
    connect(tabs_, &QTabWidget::currentChanged, this, &ReorderPage::nameMainAction);
    connect(orders_, &OrdersPanel::receiveAsked, this, [this](qint64 order) {
        tabs_->setCurrentWidget(receive_);
        receive_->choose(PurchaseOrderId(order));
    });
    connect(receive_, &ReceivePanel::newsAsked, this, [this](qint64 order) {
        tabs_->setCurrentWidget(orders_);
        orders_->choose(PurchaseOrderId(order));
        orders_->news();
    });
    connect(shortages_->table(), &DenseTable::opened, this,
            [this](int row) { Q_EMIT showPatient(shortages_->model().row(row).patient.value()); });
    connect(&session, &Session::agencyChanged, this, &ReorderPage::agencyChanged);
    connect(&session, &Session::computed, this, &ReorderPage::computed);
    connect(&session, &Session::closed, this, [this] {
        list_->show(nullptr);
        orders_->clear();
        shortages_->show(nullptr);
        suppliers_->show(nullptr);
        month_->clear();
        showEmpty(tr("No file is open."));
        nameMainAction();
    });
    connect(&session, &Session::opened, this,
            [this] { showEmpty(tr("The reorder list is being worked out.")); });
    showEmpty(tr("The reorder list is being worked out."));
    nameMainAction();
}

void ReorderPage::makeActions() {
    const auto action = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    addMainStep(tr("&Do the main step"), this, [this] { mainAction(); });
    action(tr("&Print…"), QKeySequence::Print, [this] { print(); });
    addTabKeys(*tabs_);
}

void ReorderPage::takeFocus() {
    if (tabs_->currentWidget() == list_)
        list_->takeFocus();
    else if (tabs_->currentWidget() == orders_)
        orders_->takeFocus();
    else if (tabs_->currentWidget() == receive_)
        receive_->takeFocus();
    else if (tabs_->currentWidget() == shortages_)
        shortages_->takeFocus();
    else if (tabs_->currentWidget() == month_)
        month_->takeFocus();
    else
        suppliers_->takeFocus();
}

bool ReorderPage::hasUnsavedDraft() const {
    return list_->isEdited() || receive_->hasDraft();
}

void ReorderPage::agencyChanged() {
    orders_->show();
    receive_->show();
    month_->show();
    nameMainAction();
    setSubtitle((session().stock() ? tr("%1. The list is being worked out again.")
                                   : tr("%1. The list is being worked out."))
                    .arg(desk::dayText(session().today())));
}

void ReorderPage::computed() {
    const desk::StockPicturePtr stock = session().stock();
    if (!stock)
        return;
    list_->show(stock);
    shortages_->show(stock);
    suppliers_->show(stock);
    setSubtitle(tr("%1. %2").arg(desk::dayText(session().today()), desk::planningCaution()));
    if (stock->agency->snapshot().suppliers.empty())
        showEmpty(tr("No supplier yet. Enter suppliers and what they sell under Items and suppliers; the "
                     "list then works out "
                     "what to order, and why."),
                  tr("Enter suppliers"), QStringLiteral("catalogue"));
    else
        showEmpty({});
    nameMainAction();
}

void ReorderPage::nameMainAction() {
    const QWidget *now = tabs_->currentWidget();
    main_->setText(now == list_        ? tr("Make purchase orders")
                   : now == orders_    ? tr("Print the order…")
                   : now == shortages_ ? tr("Record an action…")
                                       : tr("Book it in"));
    const bool hasStep = now == list_ || now == orders_ || now == receive_ || now == shortages_;
    main_->setVisible(hasStep);
    const bool isThere = now == list_      ? list_->hasLines()
                         : now == orders_  ? orders_->hasOrders()
                         : now == receive_ ? receive_->isEnabled()
                                           : true;
    main_->setEnabled(hasStep && isThere && isBodyShown() && session().isOpen() &&
                      (!session().isReadOnly() || now == orders_));
}

void ReorderPage::mainAction() {
    const QWidget *now = tabs_->currentWidget();
    if (!main_->isEnabled())
        return;
    if (now == list_) {
        if (const auto made = list_->makeOrders(); !made.empty()) {
            Q_EMIT said(tr("Drafts made: %1. Check them under Orders, then send.").arg(made.size()));
            tabs_->setCurrentWidget(orders_);
            orders_->choose(made.front());
            orders_->takeFocus(); // the main step prints there: the next key must not
        }
    } else if (now == orders_)
        orders_->print();
    else if (now == shortages_) {
        if (const desk::ShortageRow *row = shortages_->current())
            recordShortageAction(this, session(), desk::ShortageRow(*row));
    } else
        receive_->book();
}

void ReorderPage::print() {
    const auto stock = session().stock();
    if (tabs_->currentWidget() == orders_)
        orders_->print();
    else if (tabs_->currentWidget() == month_)
        month_->print();
    else if (stock)
        offerPaper(this, session(), desk::reorderPaper(*stock));
}

} // namespace kitround::ui
