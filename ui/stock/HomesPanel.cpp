#include "ui/stock/HomesPanel.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Session.h"
#include "ui/stock/FanChart.h"
#include "ui/stock/ReturnPanel.h"
#include "ui/stock/StockColumns.h"
#include "ui/stock/SupplyForms.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSplitter>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>
#include <iterator>
#include <utility>

namespace kitround::ui {
namespace {

using desk::HomeRisk;
using desk::HomeRow;

bool isEmptyNow(const HomeRow &r) {
    return r.knowledge != forecast::StockKnowledge::Unknown && r.usable().count() <= 0;
}

// Filled, half or empty, and a question mark where nobody knows: never by colour alone.
QIcon drop(const HomeListRow &r) {
    if (r.risk == HomeRisk::Unknown || r.knowledge == forecast::StockKnowledge::Unknown)
        return Look::icon(QStringLiteral("drop_unknown"), Role::Watch);
    if (isEmptyNow(r) && r.risk != HomeRisk::OnHold)
        return Look::icon(QStringLiteral("drop_empty"), Role::Act);
    if (r.risk == HomeRisk::AtRisk)
        return Look::icon(QStringLiteral("drop_half"), Role::Act);
    return Look::icon(QStringLiteral("drop_full"), Role::FaintInk);
}

QString riskText(const HomeRow &r) {
    if (r.knowledge == forecast::StockKnowledge::Unknown)
        return QObject::tr("not known: ask for a count");
    if (isEmptyNow(r))
        return r.recalled.isZero() && r.expired.isZero() ? QObject::tr("nothing left by the ledger")
               : r.expired.isZero()                      ? QObject::tr("nothing left but a recalled lot")
               : r.recalled.isZero() ? QObject::tr("nothing left but what is past its day")
                                     : QObject::tr("nothing left that may be used");
    if (r.runOutP10)
        return QObject::tr("dry by %1, %2").arg(desk::dayText(*r.runOutP10), desk::chanceText(0.1));
    return QObject::tr("lasts beyond the forecast");
}

QString marks(const HomeRow &r) {
    QStringList all;
    if (!r.recall.isEmpty())
        all << r.recall;
    if (!r.past.isEmpty())
        all << r.past;
    if (r.isOnHold)
        all << QObject::tr("on hold");
    if (!r.standIn.isEmpty())
        all << QObject::tr("stands in: %1").arg(r.standIn);
    if (!r.promised.isEmpty())
        all << r.promised;
    return all.join(QStringLiteral(", "));
}

} // namespace

std::vector<RowsColumn<HomeListRow>> HomesPanel::columns() {
    const auto isKnown = [](const HomeRow &r) { return r.knowledge != forecast::StockKnowledge::Unknown; };
    return {
        {.head = tr("Run-out"),
         .text = riskText,
         .sortBy =
             [](const HomeListRow &r) {
                 return QVariant(qlonglong(r.risk) * (qlonglong(1) << 44) + sortDay(r.runOutP10));
             },
         .ink =
             [](const HomeListRow &r) {
                 return r.risk == HomeRisk::AtRisk    ? std::optional(Role::Act)
                        : r.risk == HomeRisk::Unknown ? std::optional(Role::Watch)
                        : r.risk == HomeRisk::OnHold  ? std::optional(Role::FaintInk)
                                                      : std::nullopt;
             },
         .icon = drop},
        {.head = tr("Patient"), .text = [](const HomeRow &r) { return r.patientName; }},
        {.head = tr("Item"), .text = [](const HomeRow &r) { return r.itemName; }},
        {.head = tr("On hand"),
         .text =
             [isKnown](const HomeRow &r) {
                 if (!isKnown(r))
                     return tr("not known");
                 QStringList there{desk::numberText(r.onHand.count())};
                 if (!r.recalled.isZero())
                     there << tr("recalled up to %1").arg(r.recalled.count());
                 if (!r.expired.isZero())
                     there << tr("past its day %1").arg(r.expired.count());
                 return there.join(QStringLiteral(", "));
             },
         .sortBy =
             [isKnown](const HomeRow &r) {
                 return QVariant(isKnown(r) ? qlonglong(r.onHand.count()) : qlonglong(-1) << 30);
             },
         .isNumber = true,
         .tip =
             [](const HomeRow &r) {
                 QStringList said{desk::words(r.knowledge), r.recall, r.past};
                 said.removeAll(QString());
                 return said.join(QStringLiteral("; "));
             },
         .headTip = tr("Eaches in the home")},
        {.head = tr("Lasts, days"),
         .text =
             [isKnown](const HomeRow &r) {
                 return isKnown(r) ? QString::number(r.daysOfSupply, 'f', 0) : QString();
             },
         .sortBy = [](const HomeRow &r) { return QVariant(r.daysOfSupply); },
         .isNumber = true,
         .headTip = tr("Mean days until the home runs dry, at most the forecast's length")},
        {.head = tr("Dry in 7 days"),
         .text =
             [isKnown](const HomeRow &r) { return isKnown(r) ? desk::chanceText(r.chanceDry7) : QString(); },
         .sortBy = [](const HomeRow &r) { return QVariant(r.chanceDry7); },
         .isNumber = true},
        {.head = tr("Refill by"),
         .text = [](const HomeRow &r) { return r.refillBy ? desk::dayText(*r.refillBy) : QString(); },
         .sortBy = [](const HomeRow &r) { return QVariant(sortDay(r.refillBy)); }},
        {.head = tr("Catheter"), .text = [](const HomeRow &r) { return r.place; }},
        {.head = tr("Signs"),
         .text = marks,
         .ink =
             [](const HomeListRow &r) {
                 return r.recall.isEmpty() && r.past.isEmpty() ? std::nullopt : std::optional(Role::Act);
             },
         .tip = marks},
    };
}

std::vector<RowsColumn<HomesPanel::Week>> HomesPanel::weekColumns() {
    return {
        {.head = tr("Week from"),
         .text = [](const Week &w) { return desk::dayText(w.use.from); },
         .sortBy = [](const Week &w) { return QVariant(qlonglong(w.use.from.dayNumber())); }},
        decimalColumn<Week>(tr("Mean"), [](const Week &w) { return w.use.mean; }),
        numberColumn<Week>(
            tr("Low"), [](const Week &w) { return w.use.p10; }, tr("1 time in 10 it is less, or just this")),
        numberColumn<Week>(tr("Middle"), [](const Week &w) { return w.use.p50; }),
        numberColumn<Week>(
            tr("High"), [](const Week &w) { return w.use.p90; }, tr("1 time in 10 it is more")),
        {.head = tr("Plain"),
         .text = [](const Week &w) { return w.hasPlain ? QString::number(w.plain) : QString(); },
         .sortBy = [](const Week &w) { return QVariant(qlonglong(w.plain)); },
         .isNumber = true,
         .headTip = tr("Drains ordered times units a drain, for checking by hand")},
    };
}

HomesPanel::HomesPanel(Session &session, QWidget *parent)
    : TableOverDetail(parent), session_(session), model_(columns()), weeks_(weekColumns()) {
    filter_ = new QLineEdit(this);
    filter_->setObjectName(QStringLiteral("homesFilter"));
    filter_->setAccessibleName(tr("Show only homes with"));
    filter_->setPlaceholderText(tr("Show only homes with…"));
    filter_->setClearButtonEnabled(true);
    filter_->setMinimumWidth(280);
    steps_->addWidget(filter_);
    steps_->addStretch(1);
    count_ = addStep(QStringLiteral("homesCount"), tr("Record a count…"));
    takeBack_ = addStep(QStringLiteral("homesTakeBack"), tr("Take stock back…"));
    call_ = addStep(QStringLiteral("homesCall"), tr("Refill call…"));
    open_ = addStep(QStringLiteral("homesOpen"), tr("Open the record"));

    addTable(QStringLiteral("homesTable"), tr("Homes by risk of running dry"), QStringLiteral("homeName"));
    auto *proxy = new RowsProxy(&model_, this);
    table_->setModel(proxy);
    table_->keepReadable(0);
    table_->keepReadable(2);
    auto *pictures = new QSplitter(Qt::Horizontal, this);
    pictures->setChildrenCollapsible(false);
    chart_ = new FanChart(pictures);
    pictures->addWidget(chart_);
    weekTable_ = new DenseTable(QStringLiteral("homeWeeks"), tr("Use expected by week, eaches"), pictures);
    weekTable_->setModel(new RowsProxy(&weeks_, this));
    weekTable_->setMinimumWidth(430);
    pictures->addWidget(weekTable_);
    pictures->setStretchFactor(0, 3);
    pictures->setStretchFactor(1, 1);
    detail_->addWidget(pictures, 1);
    notes_ = new QLabel(this);
    notes_->setObjectName(QStringLiteral("homeNotes"));
    notes_->setFont(Look::smallFont());
    notes_->setWordWrap(true);
    notes_->hide();
    detail_->addWidget(notes_);
    trial_ = makeTrialLine(this);
    detail_->addWidget(trial_);
    caution_ = new QLabel(desk::planningCaution(), this);
    caution_->setObjectName(QStringLiteral("planningCaution"));
    caution_->setFont(Look::smallFont());
    caution_->setWordWrap(true);
    detail_->addWidget(caution_);
    splitter_->setStretchFactor(0, 2);
    splitter_->setStretchFactor(1, 3);
    splitter_->setSizes({200, 320});

    connect(filter_, &QLineEdit::textChanged, proxy, &RowsProxy::setFilterFixedString);
    connect(filter_, &QLineEdit::textChanged, table_,
            [this] { // with all homes back, the chosen one is in sight: once the table has its rows again
                QTimer::singleShot(0, table_, [this] {
                    if (table_->currentIndex().isValid())
                        table_->scrollTo(table_->currentIndex(), QAbstractItemView::PositionAtCenter);
                });
            });
    connect(table_, &DenseTable::currentRowChanged, this, &HomesPanel::showHome);
    const auto openCurrent = [this] {
        if (const HomeRow *home = current())
            Q_EMIT patientAsked(home->patient.value());
    };
    connect(table_, &DenseTable::opened, this, openCurrent);
    connect(open_, &QPushButton::clicked, this, openCurrent);
    connect(count_, &QPushButton::clicked, this, &HomesPanel::recordCount);
    connect(takeBack_, &QPushButton::clicked, this, [this] {
        if (const HomeRow *home = current())
            takeBackFromHome(this, session_, home->catheter, home->item);
    });
    connect(call_, &QPushButton::clicked, this, [this] {
        if (const HomeRow *home = current())
            Q_EMIT callAsked(home->patient.value());
    });
}

// Its height stays while the step is dragged, so that the picture does not move under the mouse.
QWidget *HomesPanel::makeTrialLine(QWidget *parent) {
    constexpr int kMeaningLines = 2;
    auto *line = new QWidget(parent);
    auto *layout = new QHBoxLayout(line);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(Look::kBetween);
    auto *texts = new QVBoxLayout;
    texts->setSpacing(0);
    const auto label = [&](const QString &objectName, int lines) {
        auto *l = new QLabel(line);
        l->setObjectName(objectName);
        l->setFont(Look::smallFont());
        l->setWordWrap(true);
        l->setAlignment(Qt::AlignTop | Qt::AlignLeft);
        l->setMinimumHeight(lines * QFontMetrics(Look::smallFont()).lineSpacing());
        texts->addWidget(l);
        return l;
    };
    meaning_ = label(QStringLiteral("refillMeaning"), kMeaningLines);
    broken_ = label(QStringLiteral("refillBreaks"), 1);
    Look::setInk(broken_, Role::Act);
    layout->addLayout(texts, 1);
    back_ = new QPushButton(tr("Back to the proposal"), line);
    back_->setObjectName(QStringLiteral("refillBack"));
    layout->addWidget(back_, 0, Qt::AlignTop);
    connect(back_, &QPushButton::clicked, chart_, &FanChart::backToProposal);
    connect(chart_, &FanChart::refillTried, this, &HomesPanel::showTrial);
    line->hide();
    return line;
}

void HomesPanel::showTrial() {
    trial_->setVisible(chart_->hasMovableRefill());
    const auto &tried = chart_->tried();
    back_->setEnabled(tried.has_value());
    meaning_->setText(
        tried ? tried->sentence
              : tr("The refill proposed can be dragged: sideways for another day, up or down "
                   "for another quantity. Nothing is stored by it; the refill call starts from it."));
    broken_->setText(tried ? tried->rulesText() : QString());
}

void HomesPanel::show(desk::StockPicturePtr picture) {
    const HomeRow *before = current();
    const auto kept = before ? std::optional(std::pair(before->catheter, before->item)) : std::nullopt;
    const bool isFirst = model_.rowCount() == 0;
    picture_ = std::move(picture);
    std::vector<HomeListRow> rows;
    if (picture_)
        for (HomeRow home : desk::homeRows(*picture_)) {
            const desk::HomeRisk risk = desk::riskOf(home, picture_->agency->settings());
            rows.push_back({std::move(home), risk});
        }
    model_.setRows(std::move(rows));
    sayWhatComesFirst();
    if (isFirst && model_.rowCount() > 0) {
        // What decides comes first and fits a small window; the marks take what is left.
        table_->fitColumns(model_.columnCount() - 1);
    }
    int row = model_.rowCount() > 0 ? 0 : -1;
    for (int i = 0; kept && i < model_.rowCount(); ++i)
        if (std::pair(model_.row(i).catheter, model_.row(i).item) == *kept)
            row = i;
    if (row >= 0)
        table_->selectSourceRow(row);
    showHome(table_->currentSourceRow());
    const auto asked = std::exchange(countAsked_, std::nullopt);
    if (asked && picture_)
        QTimer::singleShot(0, this, [this, patient = *asked] {
            if (isVisible()) // whoever has gone on is not called back
                countHome(patient);
        });
}

// Bare tables and steps that can do nothing teach nobody how a home gets there.
void HomesPanel::sayWhatComesFirst() {
    const bool isNothing = picture_ && model_.rowCount() == 0;
    for (QWidget *part :
         {static_cast<QWidget *>(filter_), static_cast<QWidget *>(count_), static_cast<QWidget *>(takeBack_),
          static_cast<QWidget *>(call_), static_cast<QWidget *>(open_)})
        part->setHidden(isNothing);
    sayInstead(isNothing
                   ? tr("No home can be forecast yet. First come the patients, each with a catheter and "
                        "a drain order: under Patients, or many at once with File, Bring in a list from "
                        "a spreadsheet. Then comes what stands in each home: record a count here, or "
                        "bring in the list Counts. Each home then stands here by the day on which it "
                        "may run dry.")
                   : QString());
}

void HomesPanel::select(PatientId patient) {
    filter_->clear();
    for (int i = 0; i < model_.rowCount(); ++i)
        if (model_.row(i).patient == patient) { // riskiest first
            table_->selectSourceRow(i);
            return;
        }
}

void HomesPanel::countHome(PatientId patient) {
    select(patient);
    for (int i = 0; i < model_.rowCount(); ++i)
        if (model_.row(i).patient == patient &&
            model_.row(i).knowledge == forecast::StockKnowledge::Unknown) {
            table_->selectSourceRow(i);
            break;
        }
    if (const HomeRow *home = current(); home && home->patient == patient)
        recordCount();
    else if (!picture_ || picture_->agency != session_.agency())
        countAsked_ = patient; // entered a moment ago
    else
        Ask::tell(this, tr("Record a count"),
                  tr("Nothing is forecast for this home: it has no catheter on service with an order. Open "
                     "its record."));
}

std::optional<desk::TriedRefill> HomesPanel::triedRefill() const {
    return chart_->toOffer();
}

const HomeRow *HomesPanel::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

void HomesPanel::showHome(int) {
    const HomeRow *home = current();
    const bool mayWrite = home && !session_.isReadOnly();
    count_->setEnabled(mayWrite);
    takeBack_->setEnabled(mayWrite);
    call_->setEnabled(mayWrite);
    open_->setEnabled(home);
    if (!home || !picture_) {
        name_->clear();
        chart_->clear(picture_ ? tr("Choose a home.") : tr("The forecast is being worked out."));
        weeks_.setRows({});
        notes_->hide();
        return;
    }
    const auto movements = session_.desk().movementsAt(Place::home(home->catheter), home->item);
    desk::HomeChart chart =
        desk::homeChart(*picture_, home->forecast, movements ? *movements : std::vector<StockMovement>());
    name_->setText(chart.title);
    notes_->setText(chart.notes.join(u' '));
    notes_->setVisible(!chart.notes.isEmpty());
    const desk::RefillWhatIfPtr refill = desk::refillWhatIf(picture_, home->forecast, chart);
    chart_->setChart(std::move(chart), refill);
    const forecast::ItemForecast &f = picture_->homes[home->forecast];
    std::vector<Week> weeks;
    for (std::size_t i = 0; i < f.weeks.size(); ++i)
        weeks.push_back({f.weeks[i], i < f.plain.weeks() ? f.plain.inWeek(i) : 0, i < f.plain.weeks()});
    const bool isFirst = weeks_.rowCount() == 0;
    weeks_.setRows(std::move(weeks));
    if (isFirst)
        weekTable_->fitColumns(0);
}

void HomesPanel::recordCount() {
    if (const HomeRow *home = current(); home && !session_.isReadOnly())
        countAtHome(this, session_, home->catheter, home->item);
}

} // namespace kitround::ui
