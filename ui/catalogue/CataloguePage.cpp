#include "ui/catalogue/CataloguePage.h"

#include "core/desk/words/Words.h"
#include "ui/catalogue/CatalogueForms.h"
#include "ui/catalogue/CatalogueWords.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTabWidget>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

QString text(const std::string &s) {
    return QString::fromStdString(s);
}

template <class Row, class Get>
RowsColumn<Row> words(const QString &head, Get get) {
    return {.head = head, .text = get};
}
template <class Row, class Get>
RowsColumn<Row> number(const QString &head, Get get) {
    return {.head = head,
            .text = [get](const Row &r) { return QString::number(get(r)); },
            .sortBy = [get](const Row &r) { return QVariant(qlonglong(get(r))); },
            .isNumber = true};
}
// Nothing is shown as "not known", never as zero.
template <class Row, class Get>
RowsColumn<Row> day(const QString &head, const QString &none, Get get) {
    return {
        .head = head,
        .text = [get, none](const Row &r) { return get(r) ? text(get(r)->toIso()) : none; },
        .sortBy =
            [get](const Row &r) { return QVariant(qlonglong(get(r) ? get(r)->dayNumber() : 1'000'000)); }};
}
QString yes(bool on, const QString &yesText) {
    return on ? yesText : QString();
}

std::vector<RowsColumn<Item>> itemColumns() {
    return {
        words<Item>(QObject::tr("Reference"), [](const Item &i) { return text(i.code); }),
        words<Item>(QObject::tr("Name"), [](const Item &i) { return text(i.name); }),
        words<Item>(QObject::tr("Kind"), [](const Item &i) { return itemKindText(i.kind); }),
        {.head = QObject::tr("Bottle, mL"),
         .text =
             [](const Item &i) {
                 return i.bottleVolume ? QString::number(i.bottleVolume->count()) : QString();
             },
         .sortBy =
             [](const Item &i) { return QVariant(qlonglong(i.bottleVolume ? i.bottleVolume->count() : -1)); },
         .isNumber = true},
        words<Item>(QObject::tr("Contains"),
                    [](const Item &i) {
                        QStringList names;
                        for (const Material m : i.contains)
                            names << desk::words(m);
                        return names.join(QStringLiteral(", "));
                    }),
        words<Item>(
            QObject::tr("Connector"),
            [](const Item &i) { return i.connector.empty() ? QObject::tr("any") : text(i.connector); }),
        number<Item>(QObject::tr("In a case, pieces"),
                     [](const Item &i) { return i.casePack.eachesPerCase.count(); }),
        words<Item>(QObject::tr("Class"),
                    [](const Item &i) { return QString(QChar(u'A' + static_cast<int>(i.stockClass))); }),
        words<Item>(QObject::tr("Still stocked"),
                    [](const Item &i) { return i.isActive ? QObject::tr("yes") : QObject::tr("no longer"); }),
    };
}

std::vector<RowsColumn<Supplier>> supplierColumns(const Session &session) {
    const Session *s = &session;
    return {
        words<Supplier>(QObject::tr("Reference"), [](const Supplier &r) { return text(r.code); }),
        words<Supplier>(QObject::tr("Name"), [](const Supplier &r) { return text(r.name); }),
        words<Supplier>(QObject::tr("Contact"), [](const Supplier &r) { return text(r.contact); }),
        number<Supplier>(QObject::tr("Lead, days"), [](const Supplier &r) { return r.promisedLead.count(); }),
        number<Supplier>(QObject::tr("Give or take, days"),
                         [](const Supplier &r) { return r.promisedLeadSpread.count(); }),
        words<Supplier>(QObject::tr("Takes orders on"),
                        [](const Supplier &r) {
                            QStringList days;
                            for (const Weekday d : kAllWeekdays)
                                if (r.orderDays.contains(d))
                                    days << desk::words(d);
                            return days.join(QLatin1Char(' '));
                        }),
        words<Supplier>(QObject::tr("Order by"), [](const Supplier &r) { return desk::timeText(r.cutOff); }),
        {.head = QObject::tr("Smallest order"),
         .text =
             [s](const Supplier &r) {
                 return desk::moneyText(r.leastOrder, s->agency()->settings().currency);
             },
         .sortBy = [](const Supplier &r) { return QVariant(qlonglong(r.leastOrder.count())); },
         .isNumber = true},
        words<Supplier>(
            QObject::tr("Still ordered from"),
            [](const Supplier &r) { return r.isActive ? QObject::tr("yes") : QObject::tr("no longer"); }),
    };
}

// A short heading, its whole in the tip.
template <class Row>
RowsColumn<Row> told(RowsColumn<Row> column, const QString &tip) {
    column.headTip = tip;
    return column;
}

std::vector<RowsColumn<SupplierItem>> offerColumns(const Session &session) {
    const Session *s = &session;
    using Row = SupplierItem;
    return {
        words<Row>(QObject::tr("Supplier"),
                   [s](const Row &r) {
                       const Supplier *supplier = s->agency()->index().supplier(r.supplier);
                       return supplier ? text(supplier->name) : notKnown();
                   }),
        words<Row>(QObject::tr("Item"),
                   [s](const Row &r) { return desk::itemName(s->agency()->index(), r.item); }),
        told(words<Row>(QObject::tr("Reference"), [](const Row &r) { return text(r.supplierCode); }),
             QObject::tr("Supplier's reference")),
        told(number<Row>(QObject::tr("In a case"), [](const Row &r) { return r.pack.eachesPerCase.count(); }),
             QObject::tr("In a case, pieces")),
        {.head = QObject::tr("Price a case"),
         .text = [s](const Row &r) { return desk::moneyText(r.perCase, s->agency()->settings().currency); },
         .sortBy = [](const Row &r) { return QVariant(qlonglong(r.perCase.count())); },
         .isNumber = true},
        told(number<Row>(QObject::tr("Least, cases"), [](const Row &r) { return r.leastLine.count(); }),
             QObject::tr("Smallest line of an order, in cases")),
        told(number<Row>(QObject::tr("Breaks"), [](const Row &r) { return r.breaks.size(); }),
             QObject::tr("Price breaks")),
        told(day<Row>(QObject::tr("Out until"), {}, [](const Row &r) { return r.backorderedUntil; }),
             QObject::tr("Backordered until")),
        told(words<Row>(QObject::tr("Usual"),
                        [](const Row &r) { return yes(r.isPreferred, QObject::tr("usual")); }),
             QObject::tr("Usual source")),
        words<Row>(
            QObject::tr("Sold"),
            [](const Row &r) { return r.isDiscontinued ? QObject::tr("no longer") : QObject::tr("yes"); }),
    };
}

std::vector<RowsColumn<Lot>> lotColumns(const Session &session) {
    const Session *s = &session;
    return {
        words<Lot>(QObject::tr("Lot number"), [](const Lot &l) { return text(l.number); }),
        words<Lot>(QObject::tr("Item"),
                   [s](const Lot &l) { return desk::itemName(s->agency()->index(), l.item); }),
        day<Lot>(QObject::tr("Last day of use"), notKnown(), [](const Lot &l) { return l.expiresOn; }),
        {.head = QObject::tr("State"),
         .text = [](const Lot &l) { return desk::words(l.state); },
         .ink =
             [](const Lot &l) {
                 return l.state == LotState::Usable ? std::nullopt : std::optional(Role::Act);
             },
         .tip = [](const Lot &l) { return text(l.stateReason); }},
        words<Lot>(QObject::tr("Reason"), [](const Lot &l) { return text(l.stateReason); }),
    };
}

std::vector<RowsColumn<Payer>> payerColumns() {
    return {
        words<Payer>(QObject::tr("Name"), [](const Payer &p) { return text(p.name); }),
        words<Payer>(QObject::tr("Refill window"),
                     [](const Payer &p) {
                         return p.refillRuleApplies ? QObject::tr("applies") : QObject::tr("none");
                     }),
        number<Payer>(QObject::tr("Confirm at most, days before"),
                      [](const Payer &p) { return p.contactAtMostBefore.count(); }),
        number<Payer>(QObject::tr("Deliver at most, days before"),
                      [](const Payer &p) { return p.deliverAtMostBefore.count(); }),
        number<Payer>(QObject::tr("Shipment covers at most, days"),
                      [](const Payer &p) { return p.mostDaysHeld.count(); }),
    };
}

} // namespace

CataloguePage::CataloguePage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("cataloguePage"), tr("Items and suppliers"), parent),
      items_(itemColumns()), suppliers_(supplierColumns(session)), offers_(offerColumns(session)),
      lots_(lotColumns(session)), payers_(payerColumns()) {
    search_ = new QLineEdit(this);
    search_->setObjectName(QStringLiteral("catalogueSearch"));
    search_->setAccessibleName(tr("Find in this table"));
    search_->setPlaceholderText(tr("Find in this table…"));
    search_->setClearButtonEnabled(true);
    search_->setMaximumWidth(280);
    head()->addWidget(search_);
    const auto button = [this](const QString &objectName, const QString &label, auto slot) {
        auto *b = new QPushButton(label, this);
        b->setObjectName(objectName);
        head()->addWidget(b);
        connect(b, &QPushButton::clicked, this, slot);
        return b;
    };
    edit_ = button(QStringLiteral("catalogueEdit"), tr("Edit…"), [this] {
        edit(tables_[static_cast<std::size_t>(tabs_->currentIndex())]->currentSourceRow());
    });
    remove_ = button(QStringLiteral("offerRemove"), tr("Remove the offer…"), &CataloguePage::removeOffer);
    head()->addStretch(1);
    new_ = setMainAction(QStringLiteral("catalogueNew"), tr("New item"));
    tabs_ = new QTabWidget(this);
    tabs_->setObjectName(QStringLiteral("catalogueTabs"));
    tabs_->setDocumentMode(true);
    addTable(
        QStringLiteral("itemTable"), tr("Items"),
        tr("No items yet. Enter each kit, bottle and dressing that homes and the storeroom hold; orders, "
           "forecasts and refills count in them."),
        &items_);
    addTable(
        QStringLiteral("supplierTable"), tr("Suppliers"),
        tr("No suppliers yet. Enter who sells what is used, how long they take and on which days they take "
           "orders."),
        &suppliers_);
    addTable(
        QStringLiteral("offerTable"), tr("Offers"),
        tr("No offers yet. An offer joins an item and a supplier, with pack and price; only what somebody "
           "offers can be ordered."),
        &offers_);
    addTable(
        QStringLiteral("lotTable"), tr("Lots"),
        tr("No lots yet. They are entered with the receipt that brings them; one that stands on the shelf "
           "already is entered here."),
        &lots_);
    addTable(
        QStringLiteral("payerTable"), tr("Payers"),
        tr("No payers yet. Enter who pays for supplies and from when, and for how many days, a refill may "
           "be sent; without a payer no such window is kept."),
        &payers_);
    setBody(tabs_);
    makeActions();
    connect(new_, &QPushButton::clicked, this, &CataloguePage::add);
    connect(tabs_, &QTabWidget::currentChanged, this, &CataloguePage::showTab);
    connect(search_, &QLineEdit::textChanged, this, [this](const QString &wanted) {
        for (RowsProxy *proxy : proxies_)
            proxy->setFilterFixedString(wanted);
    });
    connect(&session, &Session::agencyChanged, this, &CataloguePage::show);
    connect(&session, &Session::closed, this, [this] {
        items_.setRows({});
        suppliers_.setRows({});
        offers_.setRows({});
        lots_.setRows({});
        payers_.setRows({});
        for (QLabel *nothing : nothing_)
            nothing->hide();
    });
    showTab();
}

void CataloguePage::addTable(const QString &objectName, const QString &title, const QString &nothing,
                             QAbstractItemModel *model) {
    auto *panel = new QWidget(tabs_);
    auto *layout = new QVBoxLayout(panel);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    nothing_.push_back(new QLabel(nothing, panel));
    nothing_.back()->setObjectName(objectName + QStringLiteral("Head"));
    nothing_.back()->setWordWrap(true);
    nothing_.back()->hide();
    layout->addWidget(nothing_.back());
    auto *table = new DenseTable(objectName, title, panel);
    layout->addWidget(table, 1);
    proxies_.push_back(new RowsProxy(model, this));
    table->setModel(proxies_.back());
    table->keepReadable(1); // names of items differ at their ends, by the size
    tables_.push_back(table);
    tabs_->addTab(panel, title);
    connect(table, &DenseTable::opened, this, &CataloguePage::edit);
}

void CataloguePage::makeActions() {
    const auto addAct = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    QAction *step = addMainStep(tr("&New record…"), this, &CataloguePage::add);
    step->setShortcuts({step->shortcut(), QKeySequence(Qt::Key_Insert)});
    addAct(tr("&Edit…"), Qt::Key_F2,
           [this] { edit(tables_[static_cast<std::size_t>(tabs_->currentIndex())]->currentSourceRow()); });
    addAct(tr("&Find"), QKeySequence::Find, [this] { search_->setFocus(Qt::ShortcutFocusReason); });
    addTabKeys(*tabs_);
}

void CataloguePage::takeFocus() {
    tables_[static_cast<std::size_t>(tabs_->currentIndex())]->setFocus(Qt::OtherFocusReason);
}

void CataloguePage::showTab() {
    const int tab = tabs_->currentIndex();
    const QStringList titles = {tr("New item"), tr("New supplier"), tr("New offer"), tr("New lot"),
                                tr("New payer")};
    new_->setText(titles.value(tab));
    remove_->setVisible(tab == kOffers);
    const bool mayWrite = session().isOpen() && !session().isReadOnly();
    for (QPushButton *b : {new_, edit_, remove_})
        b->setEnabled(mayWrite);
    const QStringList hints = {
        tr("What homes and the storeroom hold"), tr("Who sells, how fast and when"),
        tr("What a supplier sells: pack, price, terms"),
        tr("Lots arrive with a receipt; quarantine and recall are set under Stock forecast"),
        tr("Refill windows differ by who pays")};
    setSubtitle(hints.value(tab));
}

void CataloguePage::show() {
    const Snapshot &agency = session().agency()->snapshot();
    items_.setRows(agency.items);
    suppliers_.setRows(agency.suppliers);
    offers_.setRows(agency.supplierItems);
    lots_.setRows(agency.lots);
    payers_.setRows(agency.payers);
    for (std::size_t tab = 0; tab < nothing_.size(); ++tab)
        nothing_[tab]->setVisible(proxies_[tab]->sourceModel()->rowCount() == 0);
    if (!isFitted_)
        for (DenseTable *table : tables_)
            table->fitColumns(1);
    isFitted_ = true;
    showTab();
}

void CataloguePage::selectItem(ItemId item) {
    tabs_->setCurrentIndex(kItems);
    search_->clear();
    for (int row = 0; row < items_.rowCount(); ++row)
        if (items_.row(row).id == item)
            tables_[kItems]->selectSourceRow(row);
}

void CataloguePage::newSupplier() {
    tabs_->setCurrentIndex(kSuppliers);
    search_->clear();
    takeFocus();
    add();
}

void CataloguePage::add() {
    if (!session().agency() || session().isReadOnly())
        return;
    const Snapshot &agency = session().agency()->snapshot();
    const bool canOffer = !agency.items.empty() && !agency.suppliers.empty();
    switch (tabs_->currentIndex()) {
    case kItems:
        editItem(this, session(), {});
        break;
    case kSuppliers:
        editSupplier(this, session(), {});
        break;
    case kOffers:
        if (canOffer)
            editOffer(this, session(), {});
        else
            Ask::tell(this, tr("New offer"), tr("An offer joins an item and a supplier: add both first."));
        break;
    case kLots:
        editLot(this, session(), {});
        break;
    default:
        editPayer(this, session(), {});
    }
}

void CataloguePage::edit(int row) {
    if (row < 0 || session().isReadOnly())
        return;
    switch (tabs_->currentIndex()) {
    case kItems:
        editItem(this, session(), items_.row(row));
        break;
    case kSuppliers:
        editSupplier(this, session(), suppliers_.row(row));
        break;
    case kOffers:
        editOffer(this, session(), offers_.row(row));
        break;
    case kLots:
        editLot(this, session(), lots_.row(row));
        break;
    default:
        editPayer(this, session(), payers_.row(row));
    }
}

void CataloguePage::removeOffer() {
    const int row = tables_[kOffers]->currentSourceRow();
    if (row < 0)
        return;
    const SupplierItem offer = offers_.row(row);
    if (Ask::confirm(this, tr("Remove the offer"),
                     tr("The offer of %1 is taken away; orders already made keep their prices.")
                         .arg(desk::itemName(session().agency()->index(), offer.item)),
                     tr("Remove it"), tr("Keep it")))
        session().writeOrTell(this, tr("Removed an offer"), [&](desk::Desk &d) { return d.remove(offer); });
}

} // namespace kitround::ui
