#include "ui/stock/ExpiryPanel.h"

#include "core/desk/paper/ClerkPapers.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/stock/SupplyForms.h"

#include <QComboBox>
#include <QPushButton>
#include <QRegularExpression>

namespace kitround::ui {
namespace {

using desk::ExpiryRow;

constexpr int kDueColumn = 1;

QString decimal(double value) {
    return QString::number(value, 'f', 1);
}

} // namespace

std::vector<RowsColumn<ExpiryRow>> ExpiryPanel::columns(Session &session) {
    return {
        {.head = tr("Last day of use"),
         .text = [](const ExpiryRow &r) { return desk::dayText(r.line.at.expiresOn, Date()); },
         .sortBy = [](const ExpiryRow &r) { return QVariant(qlonglong(r.line.at.expiresOn.dayNumber())); }},
        {.head = tr("Due"),
         .text = [](const ExpiryRow &r) { return r.due; },
         .sortBy = [](const ExpiryRow &r) { return QVariant(r.line.band); },
         .ink =
             [&session](const ExpiryRow &r) {
                 const int first = desk::dueBands(session.agency()->settings()).at(1);
                 return r.line.band == 0       ? std::optional(Role::Act)
                        : r.line.band <= first ? std::optional(Role::Watch)
                                               : std::nullopt;
             }},
        {.head = tr("Place"),
         .text = [](const ExpiryRow &r) { return r.place; },
         .tip = [](const ExpiryRow &r) { return r.place; }},
        {.head = tr("Item"),
         .text = [](const ExpiryRow &r) { return r.item; },
         .tip = [](const ExpiryRow &r) { return r.item; }},
        {.head = tr("Lot"),
         .text =
             [](const ExpiryRow &r) { return r.line.isPickedFirst ? tr("%1, first").arg(r.lot) : r.lot; }},
        {.head = tr("Eaches"),
         .text = [](const ExpiryRow &r) { return desk::numberText(r.line.at.quantity.count()); },
         .sortBy = [](const ExpiryRow &r) { return QVariant(qlonglong(r.line.at.quantity.count())); },
         .isNumber = true},
        {.head = tr("Used in time"),
         .text = [](const ExpiryRow &r) { return decimal(r.line.expectedUse); },
         .sortBy = [](const ExpiryRow &r) { return QVariant(r.line.expectedUse); },
         .isNumber = true,
         .headTip = tr("Expected use before the last day, first expiring first")},
        {.head = tr("Lost"),
         .text = [](const ExpiryRow &r) { return decimal(r.line.expectedWaste); },
         .sortBy = [](const ExpiryRow &r) { return QVariant(r.line.expectedWaste); },
         .isNumber = true,
         .ink =
             [](const ExpiryRow &r) {
                 return r.line.expectedWaste >= supply::kLeastWaste ? std::optional(Role::Watch)
                                                                    : std::nullopt;
             },
         .headTip = tr("Eaches expected to pass their last day unused")},
        {.head = tr("Loss"),
         .text =
             [&session](const ExpiryRow &r) {
                 return desk::moneyText(r.line.wasteValue, session.agency()->settings().currency);
             },
         .sortBy = [](const ExpiryRow &r) { return QVariant(qlonglong(r.line.wasteValue.count())); },
         .isNumber = true,
         .headTip = tr("At today's best case price")},
        {.head = tr("What to do"),
         .text = [](const ExpiryRow &r) { return r.action; },
         .tip = [](const ExpiryRow &r) { return r.action; }},
    };
}

ExpiryPanel::ExpiryPanel(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    rows_ = new RowsPanel<ExpiryRow>(
        {.objectName = QStringLiteral("expiryTable"),
         .title = tr("Lots that fall due"),
         .stretched = 9,
         .names = {3}},
        columns(session), [](const desk::StockPicture &p) { return desk::expiryRows(p); }, this);
    layout->addWidget(rows_);
    due_ = new QComboBox(this);
    due_->setObjectName(QStringLiteral("expiryDue"));
    due_->setAccessibleName(tr("Which lots"));
    rows_->addToSteps(due_);
    first_ = rows_->addStep("expiryFirst", tr("Put first"), [this] { putFirst(); });
    aside_ = rows_->addStep("expiryAside", tr("Set aside…"), [this] { setAside(); });
    off_ =
        rows_->addStep("expiryWriteOff", tr("Write off…"), [this] { takeOut(desk::RemovalWay::WriteOff); });
    back_ = rows_->addStep("expiryReturn", tr("Back to the supplier…"),
                           [this] { takeOut(desk::RemovalWay::ToSupplier); });
    bring_ = rows_->addStep("expiryBring", tr("Out of the car…"),
                            [this] { takeOut(desk::RemovalWay::ToStoreroom); });
    rows_->addGap();
    print_ = rows_->addStep("expiryPrint", tr("Print…"), [this] { print(); });
    csv_ = rows_->addStep("expiryCsv", tr("CSV…"), [this] { save(); });
    rows_->showWhole([](const ExpiryRow &row) { return row.action; });
    rows_->onChosen([this] { enableSteps(); });
    connect(rows_->table(), &DenseTable::opened, this, &ExpiryPanel::nextStep);
    connect(due_, &QComboBox::currentIndexChanged, this, &ExpiryPanel::filter);
    enableSteps();
}

void ExpiryPanel::show(desk::StockPicturePtr picture) {
    picture_ = picture;
    fillDue();
    rows_->show(std::move(picture));
    enableSteps();
}

// The bands are settings: what is chosen stays chosen where it is still one of them.
void ExpiryPanel::fillDue() {
    if (!picture_)
        return;
    const AgencySettings &settings = picture_->agency->settings();
    rows_->explain(desk::expiryNote() + tr(" Enter does what the row proposes."),
                   desk::nothingDueText(settings));
    std::vector<int> bands = desk::dueBands(settings);
    const int last = bands.back();
    bands.pop_back();
    bands.insert(bands.begin(), last);
    const QVariant before = due_->currentData();
    {
        const QSignalBlocker quiet(due_);
        due_->clear();
        for (const int band : bands)
            due_->addItem(band == last ? tr("All within %1 days").arg(band)
                          : band == 0  ? tr("Past their last day")
                                       : tr("Within %1 days").arg(band),
                          band);
        due_->setCurrentIndex(std::max(0, due_->findData(before)));
    }
    filter();
}

void ExpiryPanel::takeFocus() {
    rows_->takeFocus();
}

void ExpiryPanel::enableSteps() {
    const ExpiryRow *row = rows_->current();
    const bool mayWrite = row && !session_.isReadOnly();
    const bool isShelf = mayWrite && row->line.at.place.kind == PlaceKind::Storeroom;
    first_->setEnabled(isShelf && row->line.state == LotState::Usable && row->line.band > 0);
    first_->setText(row && row->line.isPickedFirst ? tr("Not first") : tr("Put first"));
    first_->setToolTip(tr("Given out before the other lots of the item, also where its life is short"));
    aside_->setEnabled(mayWrite);
    off_->setEnabled(mayWrite && row->isRemovable);
    back_->setEnabled(mayWrite && row->isRemovable);
    bring_->setEnabled(mayWrite && row->line.at.place.kind == PlaceKind::Car);
    print_->setEnabled(picture_ != nullptr);
    csv_->setEnabled(picture_ != nullptr);
}

// "Within 60 days" holds what is due within 30 and what is past too.
void ExpiryPanel::filter() {
    if (!picture_)
        return;
    const int most = due_->currentData().toInt();
    QStringList wanted;
    for (const int band : desk::dueBands(picture_->agency->settings()))
        if (band <= most)
            wanted << QRegularExpression::escape(desk::dueText(band));
    auto *proxy = qobject_cast<QSortFilterProxyModel *>(rows_->table()->model());
    proxy->setFilterKeyColumn(kDueColumn);
    proxy->setFilterRegularExpression(
        QRegularExpression(QStringLiteral("^(%1)$").arg(wanted.join(QLatin1Char('|')))));
    if (!rows_->current() && proxy->rowCount() > 0)
        rows_->table()->setCurrentIndex(proxy->index(0, 0));
    enableSteps();
}

void ExpiryPanel::putFirst() {
    const ExpiryRow *row = rows_->current();
    const Lot *stored = row ? session_.agency()->index().lot(row->line.at.lot) : nullptr;
    if (!stored)
        return;
    Lot lot = *stored;
    lot.isPickedFirst = !lot.isPickedFirst;
    session_.writeOrTell(this,
                         lot.isPickedFirst ? tr("Put lot %1 first in the pick").arg(row->lot)
                                           : tr("Lot %1 is picked in its turn").arg(row->lot),
                         [&](desk::Desk &d) { return d.save(lot); });
}

void ExpiryPanel::setAside() {
    if (const ExpiryRow *row = rows_->current())
        changeLotState(this, session_, row->line.at.lot);
}

void ExpiryPanel::takeOut(desk::RemovalWay way) {
    if (const ExpiryRow *row = rows_->current())
        takeStockOut(
            this, session_,
            {row->line.at.place, row->line.at.item, row->line.at.lot, row->line.at.quantity, way, {}, {}});
}

void ExpiryPanel::nextStep() {
    const ExpiryRow *row = rows_->current();
    if (!row || session_.isReadOnly())
        return;
    using enum supply::ExpiryMove;
    if (row->line.move == Discard && off_->isEnabled())
        takeOut(desk::RemovalWay::WriteOff);
    else if (row->line.move == ReturnToSupplier && back_->isEnabled())
        takeOut(desk::RemovalWay::ToSupplier);
    else if (row->line.move == BringBack && bring_->isEnabled())
        takeOut(desk::RemovalWay::ToStoreroom);
    else if (row->line.move == PutFirst && first_->isEnabled() &&
             Ask::confirm(this, tr("Put first in the pick"), row->action, tr("Put it first"), tr("Leave it")))
        putFirst();
}

void ExpiryPanel::print() {
    if (picture_)
        offerPaper(this, session_, desk::expiryPaper(*picture_));
}

void ExpiryPanel::save() {
    if (picture_)
        saveTable(this, session_, desk::expiryTable(*picture_));
}

} // namespace kitround::ui
