#include "ui/stock/StoreroomPanel.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/LevelDialog.h"
#include "ui/shared/Session.h"
#include "ui/stock/CountsDialog.h"
#include "ui/stock/LotTraceDialog.h"
#include "ui/stock/RoomSplitter.h"
#include "ui/stock/ShelfChart.h"
#include "ui/stock/StockColumns.h"
#include "ui/stock/SupplyForms.h"

#include <QBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QSplitter>
#include <QTabWidget>

#include <algorithm>
#include <cmath>

namespace kitround::ui {
namespace {

using desk::LotRow;
using desk::OpenOrderRow;
using desk::StoreroomRow;

constexpr int kBesideFrom = 820; // pixels: chart and table of the weeks side by side
constexpr int kItem = 1, kSigns = 2, kFirstExpiry = 9, kCars = 12, kLotState = 2; // columns

QString signs(const StoreroomRow &r) {
    QStringList all;
    if (r.hasRecall)
        all << QObject::tr("recalled lot");
    if (r.isBackordered)
        all << QObject::tr("backordered");
    if (r.mayRunShort)
        all << QObject::tr("may run short");
    if (r.isToReorder)
        all << QObject::tr("to reorder");
    return all.join(QStringLiteral(", "));
}

std::optional<Role> shortInk(double left) {
    return std::llround(left) < 0 ? std::optional(Role::Act) : std::nullopt;
}

RowsColumn<desk::StoreroomWeek>
leftColumn(const QString &head, std::optional<double> desk::StoreroomWeek::*left, const QString &tip) {
    using Week = desk::StoreroomWeek;
    return {.head = head,
            .text = [left](const Week &w) { return w.*left ? desk::leftText(*(w.*left)) : QString(); },
            .sortBy = [left](const Week &w) { return QVariant((w.*left).value_or(0)); },
            .isNumber = true,
            .ink = [left](const Week &w) { return shortInk((w.*left).value_or(0)); },
            .headTip = tip};
}

} // namespace

std::vector<RowsColumn<StoreroomRow>> StoreroomPanel::columns() {
    using R = StoreroomRow;
    return {
        {.head = tr("Code"), .text = [](const R &r) { return r.code; }},
        {.head = tr("Item"), .text = [](const R &r) { return r.name; }},
        {.head = tr("Signs"),
         .text = signs,
         .ink =
             [](const R &r) {
                 return r.hasRecall                        ? std::optional(Role::Act)
                        : r.isBackordered || r.mayRunShort ? std::optional(Role::Watch)
                                                           : std::nullopt;
             },
         .icon =
             [](const R &r) {
                 return r.hasRecall || r.isBackordered || r.mayRunShort
                            ? Look::icon(QStringLiteral("bell"), r.hasRecall ? Role::Act : Role::Watch)
                            : QIcon();
             }},
        {.head = tr("Runs short"),
         .text = [](const R &r) { return r.nextReceipt ? desk::chanceText(r.chanceShort) : QString(); },
         .sortBy = [](const R &r) { return QVariant(r.nextReceipt ? -r.chanceShort : 1.0); },
         .isNumber = true,
         .ink = [](const R &r) { return r.mayRunShort ? std::optional(Role::Watch) : std::nullopt; },
         .tip =
             [](const R &r) {
                 return r.nextReceipt
                            ? tr("The next receipt is expected %1").arg(desk::dayText(*r.nextReceipt))
                            : QString();
             },
         .headTip = tr("Chance that the shelf is empty before the next receipt, or before an order sent now "
                       "could come")},
        {.head = tr("Free"),
         .text = [](const R &r) { return desk::leftText(static_cast<double>(r.free.count())); },
         .sortBy = [](const R &r) { return QVariant(qlonglong(r.free.count())); },
         .isNumber = true,
         .ink = [](const R &r) { return r.free.isNegative() ? std::optional(Role::Act) : std::nullopt; },
         .headTip = tr("Eaches usable in the storeroom, less what is promised")},
        numberColumn<R>(tr("Promised"), [](const R &r) { return r.promised.count(); }),
        {.head = tr("Lasts, days"),
         .text =
             [](const R &r) {
                 return r.daysOfStock >= 999 ? tr("no demand")
                                             : desk::numberText(std::llround(r.daysOfStock));
             },
         .sortBy = [](const R &r) { return QVariant(r.daysOfStock); },
         .isNumber = true},
        decimalColumn<R>(tr("Use a week"), [](const R &r) { return r.weeklyMean; }),
        numberColumn<R>(tr("On order"), [](const R &r) { return r.onOrder.count(); }),
        {.head = tr("First expiry"),
         .text = [](const R &r) { return r.firstExpiry ? desk::dayText(*r.firstExpiry, Date()) : QString(); },
         .sortBy = [](const R &r) { return QVariant(sortDay(r.firstExpiry)); }},
        {.head = tr("Order up to"),
         .text = [](const R &r) { return r.orderUpTo ? desk::numberText(r.orderUpTo->count()) : QString(); },
         .sortBy =
             [](const R &r) {
                 return QVariant(r.orderUpTo ? qlonglong(r.orderUpTo->count()) : qlonglong(-1));
             },
         .isNumber = true,
         .headTip = tr("The level an order fills up to")},
        numberColumn<R>(tr("Lots"), [](const R &r) { return r.lots; }),
        numberColumn<R>(tr("Cars"), [](const R &r) { return r.cars.count(); }),
        numberColumn<R>(tr("On the way"), [](const R &r) { return r.transit.count(); }),
        numberColumn<R>(tr("Homes"), [](const R &r) { return r.homes.count(); }),
        numberColumn<R>(tr("Quarantine"), [](const R &r) { return r.quarantine.count(); }),
    };
}

std::vector<RowsColumn<LotRow>> StoreroomPanel::lotColumns() {
    return {
        {.head = tr("Lot"), .text = [](const LotRow &r) { return r.number; }},
        {.head = tr("Last day of use"),
         .text =
             [](const LotRow &r) { return r.expiresOn ? desk::dayText(*r.expiresOn, Date()) : QString(); },
         .sortBy = [](const LotRow &r) { return QVariant(sortDay(r.expiresOn)); }},
        {.head = tr("State"),
         .text = [](const LotRow &r) { return r.state; },
         .ink =
             [](const LotRow &r) {
                 return r.isExpired || r.lotState == LotState::Recalled    ? std::optional(Role::Act)
                        : r.lotState != LotState::Usable || r.isShortDated ? std::optional(Role::Watch)
                                                                           : std::nullopt;
             },
         .tip = [](const LotRow &r) { return r.state; }},
        numberColumn<LotRow>(tr("Storeroom"), [](const LotRow &r) { return r.storeroom.count(); }),
        numberColumn<LotRow>(tr("Quarantine"), [](const LotRow &r) { return r.quarantine.count(); }),
        numberColumn<LotRow>(tr("Cars"), [](const LotRow &r) { return r.cars.count(); }),
        numberColumn<LotRow>(tr("On the way"), [](const LotRow &r) { return r.transit.count(); }),
        numberColumn<LotRow>(tr("Homes"), [](const LotRow &r) { return r.homes.count(); }),
    };
}

std::vector<RowsColumn<StoreroomPanel::Week>> StoreroomPanel::weekColumns() {
    return {
        {.head = tr("Week from"),
         .text = [](const Week &w) { return desk::dayText(w.from); },
         .sortBy = [](const Week &w) { return QVariant(qlonglong(w.from.dayNumber())); }},
        decimalColumn<Week>(tr("Demand, mean"), [](const Week &w) { return w.demand; }),
        numberColumn<Week>(tr("Arriving"), [](const Week &w) { return w.arriving.count(); }),
        {.head = tr("Left at its end"),
         .text = [](const Week &w) { return desk::leftText(w.left); },
         .sortBy = [](const Week &w) { return QVariant(w.left); },
         .isNumber = true,
         .ink = [](const Week &w) { return shortInk(w.left); },
         .headTip = tr("Free stock and what is on order, less mean demand")},
        leftColumn(tr("Low"), &Week::leftLow, tr("1 time in 10 there is less, as much as demand varies")),
        leftColumn(tr("High"), &Week::leftHigh, tr("1 time in 10 there is more")),
    };
}

std::vector<RowsColumn<OpenOrderRow>> StoreroomPanel::orderColumns() {
    return {
        {.head = tr("Order"), .text = [](const OpenOrderRow &r) { return r.number; }},
        {.head = tr("Supplier"), .text = [](const OpenOrderRow &r) { return r.supplier; }},
        numberColumn<OpenOrderRow>(tr("Open, eaches"),
                                   [](const OpenOrderRow &r) { return r.quantity.count(); }),
        {.head = tr("Expected"),
         .text =
             [](const OpenOrderRow &r) {
                 return desk::dayText(r.expectedOn) + (r.isBackordered ? tr(", backordered") : QString());
             },
         .sortBy = [](const OpenOrderRow &r) { return QVariant(qlonglong(r.expectedOn.dayNumber())); },
         .ink =
             [](const OpenOrderRow &r) {
                 return r.isBackordered ? std::optional(Role::Watch) : std::nullopt;
             }},
    };
}

StoreroomPanel::StoreroomPanel(Session &session, QWidget *parent)
    : TableOverDetail(parent), session_(session), model_(columns()), lots_(lotColumns()),
      weeks_(weekColumns()), orders_(orderColumns()) {
    counts_ = addStep(QStringLiteral("storeroomCounts"), tr("Counts due…"));
    count_ = addStep(QStringLiteral("storeroomCount"), tr("Count…"));
    lot_ = addStep(QStringLiteral("lotState"), tr("Change the lot's state…"));
    trace_ = addStep(QStringLiteral("lotTraceButton"), tr("Where did this lot go…"));
    notice_ = addStep(QStringLiteral("recallNotice"), tr("Recall notice…"));
    car_ = addStep(QStringLiteral("topUpCar"), tr("Top up a car…"));
    level_ = addStep(QStringLiteral("storeroomLevel"), tr("Other service level…"));
    steps_->addStretch(1);

    addTable(QStringLiteral("storeroomTable"), tr("Storeroom by item"), QStringLiteral("storeroomItem"));
    table_->setModel(new RowsProxy(&model_, this));
    table_->keepReadable(kItem);
    table_->keepReadable(kSigns, 280);       // all of them
    table_->keepReadable(kFirstExpiry, 190); // with its year
    opinion_ = new QLabel(this);
    opinion_->setObjectName(QStringLiteral("storeroomOpinion"));
    opinion_->setWordWrap(true);
    opinion_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    detail_->addWidget(opinion_);
    auto *tabs = new QTabWidget(this);
    tabs->setObjectName(QStringLiteral("storeroomTabs"));
    tabs->setDocumentMode(true);
    const auto table = [&](const QString &objectName, const QString &title, QAbstractItemModel &model) {
        auto *t = new DenseTable(objectName, title, tabs);
        t->setModel(new RowsProxy(&model, this));
        tabs->addTab(t, title);
        return t;
    };
    lotTable_ = table(QStringLiteral("lotTable"), tr("Lots"), lots_);
    addWeeks(*tabs);
    orderTable_ = table(QStringLiteral("storeroomOrders"), tr("On order"), orders_);
    detail_->addWidget(tabs, 1);
    splitter_->setSizes({220, 320}); // the picture of the weeks wants more height than a few rows do
    keepDivision(*splitter_, QStringLiteral("storeroom"));

    connect(table_, &DenseTable::currentRowChanged, this, &StoreroomPanel::showItem);
    connect(table_, &DenseTable::opened, this, [this] { lotTable_->setFocus(Qt::OtherFocusReason); });
    connect(lotTable_, &DenseTable::currentRowChanged, this, &StoreroomPanel::enableSteps);
    connect(lotTable_, &DenseTable::opened, this, &StoreroomPanel::traceCurrent);
    connect(counts_, &QPushButton::clicked, this, &StoreroomPanel::showCounts);
    connect(count_, &QPushButton::clicked, this, &StoreroomPanel::count);
    connect(lot_, &QPushButton::clicked, this, &StoreroomPanel::changeLot);
    connect(trace_, &QPushButton::clicked, this, &StoreroomPanel::traceCurrent);
    connect(notice_, &QPushButton::clicked, this, &StoreroomPanel::askForNotice);
    connect(car_, &QPushButton::clicked, this, [this] {
        if (const StoreroomRow *row = current())
            topUpCar(this, session_, row->item);
    });
    connect(level_, &QPushButton::clicked, this, [this] {
        if (const StoreroomRow *row = current()) {
            auto *dialog = new LevelDialog(session_, row->item, this);
            dialog->setAttribute(Qt::WA_DeleteOnClose);
            dialog->show();
        }
    });
    showItem();
}

StoreroomPanel::~StoreroomPanel() = default;

void StoreroomPanel::addWeeks(QTabWidget &tabs) {
    auto *both = new RoomSplitter(QStringLiteral("storeroomWeeks"), kBesideFrom, &tabs);
    chart_ = new ShelfChart(both);
    weekTable_ = new DenseTable(QStringLiteral("storeroomWeeks"), tr("Coming weeks"), both);
    weekTable_->setModel(new RowsProxy(&weeks_, this));
    both->addWidget(chart_);
    both->addWidget(weekTable_);
    tabs.addTab(both, tr("Coming weeks"));
}

void StoreroomPanel::show(desk::StockPicturePtr picture) {
    if (job_) // an older picture's answer is of no use
        job_->abandon();
    if (!picture) {
        worked({});
        return;
    }
    job_ = BackgroundJob::start(
        this,
        [picture](const std::stop_token &stop, const ProgressSink &) {
            Worked answer{picture, desk::storeroomRows(*picture, stop), desk::itemOutlooks(*picture, stop)};
            desk::sortByRisk(answer.rows);
            return answer;
        },
        [this](Worked answer) { worked(std::move(answer)); });
}

void StoreroomPanel::worked(Worked answer) {
    const StoreroomRow *before = current();
    const auto kept = wanted_ ? wanted_ : before ? std::optional(before->item) : std::nullopt;
    const LotRow *lotBefore = currentLot();
    const auto keptLot = lotBefore ? lotBefore->lot : std::nullopt;
    const bool isFirst = model_.rowCount() == 0;
    worked_ = std::move(answer);
    model_.setRows(worked_.rows);
    hideEmptyPlaces();
    if (isFirst && model_.rowCount() > 0)
        table_->fitColumns(kItem);
    if (model_.rowCount() > 0) {
        table_->selectSourceRow(0);
        if (kept)
            select(*kept);
        wanted_.reset();
    }
    showItem();
    if (keptLot) // what is done next is about the lot that was just changed, not the one that goes out first
        selectLot(*keptLot);
    Q_EMIT shown();
}

// Places where nothing of any item stands give their room to what is read.
void StoreroomPanel::hideEmptyPlaces() {
    const auto &rows = worked_.rows;
    const auto hide = [&](int column, Eaches StoreroomRow::*there) {
        table_->setColumnHidden(column, std::ranges::all_of(rows, [there](const StoreroomRow &r) {
                                    return (r.*there).isZero();
                                }));
    };
    hide(kCars, &StoreroomRow::cars);
    hide(kCars + 1, &StoreroomRow::transit);
    hide(kCars + 2, &StoreroomRow::homes);
    hide(kCars + 3, &StoreroomRow::quarantine);
}

void StoreroomPanel::selectLot(LotId lot) {
    for (int i = 0; i < lots_.rowCount(); ++i)
        if (lots_.row(i).lot == lot)
            lotTable_->selectSourceRow(i);
}

void StoreroomPanel::select(ItemId item) {
    for (int i = 0; i < model_.rowCount(); ++i)
        if (model_.row(i).item == item) {
            table_->selectSourceRow(i);
            return;
        }
    if (model_.rowCount() == 0)
        wanted_ = item;
}

const StoreroomRow *StoreroomPanel::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

const LotRow *StoreroomPanel::currentLot() const {
    const int row = lotTable_->currentSourceRow();
    return row >= 0 && row < lots_.rowCount() ? &lots_.row(row) : nullptr;
}

void StoreroomPanel::showItem() {
    const StoreroomRow *row = current();
    if (!row || !worked_.picture) {
        name_->setText(worked_.picture ? QString() : tr("The storeroom is being worked out."));
        opinion_->clear();
        opinion_->hide();
        lots_.setRows({});
        weeks_.setRows({});
        orders_.setRows({});
        chart_->clear(worked_.picture ? tr("Choose an item to see its coming weeks.")
                                      : tr("The storeroom is being worked out."));
        enableSteps();
        return;
    }
    const desk::Agency &agency = *worked_.picture->agency;
    const auto number = [](Eaches eaches) { return desk::numberText(eaches.count()); };
    name_->setText(tr("%1: %2 in the storeroom, %3 in cars, %4 on the way, %5 in homes")
                       .arg(row->name, number(row->storeroom), number(row->cars), number(row->transit),
                            number(row->homes)));
    const auto fill = [](auto &model, DenseTable *table, auto rows, int stretched) {
        const bool isFirst = model.rowCount() == 0;
        model.setRows(std::move(rows));
        if (isFirst && model.rowCount() > 0)
            table->fitColumns(stretched);
    };
    std::vector<OpenOrderRow> open = desk::openOrderRows(agency, row->item);
    std::vector<Week> weeks;
    QString opinion;
    if (const auto outlook = worked_.outlooks.find(row->item); outlook != worked_.outlooks.end()) {
        weeks = desk::storeroomWeeks(agency, row->free, outlook->second.demand, open, outlook->second.bands);
        opinion = desk::opinionText(agency, outlook->second, row->orderUpTo);
    }
    opinion_->setText(opinion);
    opinion_->setHidden(opinion.isEmpty());
    chart_->setChart(desk::storeroomChart(agency, *row, weeks, open));
    fill(lots_, lotTable_, desk::lotRows(agency, row->item), kLotState);
    if (lots_.rowCount() > 0)
        lotTable_->selectSourceRow(0);
    fill(weeks_, weekTable_, std::move(weeks), 0);
    fill(orders_, orderTable_, std::move(open), 1);
    enableSteps();
}

void StoreroomPanel::enableSteps() {
    const LotRow *lot = currentLot();
    const bool mayWrite = !session_.isReadOnly();
    count_->setEnabled(current() && mayWrite);
    car_->setEnabled(current() && mayWrite);
    counts_->setEnabled(model_.rowCount() > 0);
    level_->setEnabled(current());
    lot_->setEnabled(lot && lot->lot && mayWrite);
    trace_->setEnabled(lot && lot->lot);
}

void StoreroomPanel::count() {
    if (const StoreroomRow *row = current())
        countItem(this, session_, row->item);
}

void StoreroomPanel::showCounts() {
    std::map<ItemId, double> perDay;
    for (const StoreroomRow &row : model_.rows())
        perDay[row.item] = row.weeklyMean / 7;
    auto *dialog = new CountsDialog(session_, std::move(perDay), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    dialog->show();
}

void StoreroomPanel::changeLot() {
    if (const LotRow *lot = currentLot(); lot && lot->lot)
        changeLotState(this, session_, *lot->lot);
}

void StoreroomPanel::traceCurrent() {
    if (const LotRow *lot = currentLot(); lot && lot->lot)
        trace(*lot->lot);
}

void StoreroomPanel::trace(LotId lot) {
    const auto movements = session_.desk().movementsOfLot(lot);
    if (!movements) {
        Ask::problem(this, movements.error());
        return;
    }
    auto *dialog = new LotTraceDialog(session_, desk::recallView(*session_.agency(), lot, *movements), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    connect(dialog, &LotTraceDialog::patientAsked, this, &StoreroomPanel::patientAsked);
    dialog->show();
}

void StoreroomPanel::askForNotice() {
    if (!session_.agency())
        return;
    const auto number = Ask::line(this, tr("Recall notice"),
                                  tr("Lot number on the notice (its first four characters or more):"));
    if (!number || number->trimmed().isEmpty())
        return;
    const desk::AgencyPtr agency = session_.agency();
    const std::vector<LotId> lots = desk::lotsNamed(*agency, *number);
    if (lots.empty()) {
        Ask::tell(
            this, tr("Recall notice"),
            tr("No lot like %1 was ever received. Note on the notice that it was looked for.").arg(*number));
        return;
    }
    if (lots.size() == 1) {
        noticeOf(lots.front(), *number);
        return;
    }
    QStringList steps;
    for (const LotId id : lots) {
        const Lot *lot = agency->index().lot(id);
        const Item *item = lot ? agency->index().item(lot->item) : nullptr;
        steps << tr("%1 of %2")
                     .arg(lot ? QString::fromStdString(lot->number) : QString(),
                          item ? QString::fromStdString(item->name) : QString());
    }
    const auto chosen = Ask::choose(this, tr("Recall notice"),
                                    tr("Several lots are like %1. Which one?").arg(*number), steps);
    if (chosen)
        noticeOf(lots[static_cast<std::size_t>(*chosen)], *number);
}

// A notice of a lot that may still go out is followed first, then the lot. Leaving it is one key, marking it
// wants the notice: both are on record.
void StoreroomPanel::noticeOf(LotId id, const QString &asked) {
    const desk::AgencyPtr agency = session_.agency(); // kept: a reload may come while the question is open
    const Lot *lot = agency->index().lot(id);
    if (!lot)
        return;
    if (lot->state != LotState::Recalled && !session_.isReadOnly()) {
        const QString number = QString::fromStdString(lot->number);
        const QString title = tr("Recall notice for lot %1").arg(number);
        if (Ask::confirm(this, title, desk::noticeText(agency->index(), *lot, asked), tr("Mark it recalled"),
                         tr("Only look where it went"))) {
            auto why = Ask::line(this, title, tr("Which notice, and who decided:"));
            while (why && why->trimmed().isEmpty())
                why = Ask::line(this, title, tr("Nothing was typed. Which notice, and who decided:"));
            if (!why)
                return;
            if (!session_.writeOrTell(
                    this, tr("Lot %1 is now: %2").arg(number, desk::words(LotState::Recalled)),
                    [&](desk::Desk &d) {
                        return d.setLotState(id, LotState::Recalled, why->trimmed().toStdString());
                    }))
                return;
        }
    }
    trace(id);
}

} // namespace kitround::ui
