#include "ui/stock/LotTraceDialog.h"

#include "core/desk/paper/RecallPaper.h"
#include "core/desk/words/Text.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/stock/RecallForm.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QScrollBar>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kStopsInSight = 10; // rows; more of them scroll

using desk::RecallHomeRow;
using desk::RecallStopRow;

template <class Row>
RowsColumn<Row> text(const QString &head, QString Row::*value) {
    return {.head = head, .text = [value](const Row &r) { return r.*value; }};
}
template <class Row>
RowsColumn<Row> eaches(const QString &head, Eaches Row::*value) {
    return {.head = head,
            .text = [value](const Row &r) { return desk::numberText((r.*value).count()); },
            .sortBy = [value](const Row &r) { return QVariant(qlonglong((r.*value).count())); },
            .isNumber = true};
}

} // namespace

LotTraceDialog::LotTraceDialog(Session &session, desk::RecallView view, QWidget *parent)
    : QDialog(parent), session_(session), view_(std::move(view)),
      stops_({text(tr("Where"), &RecallStopRow::place),
              eaches(tr("Received, eaches"), &RecallStopRow::received),
              eaches(tr("There now, eaches"), &RecallStopRow::there),
              {.head = tr("To do"),
               .text = [](const RecallStopRow &r) { return r.todo; },
               .ink = [](const RecallStopRow &) { return std::optional(Role::Act); },
               .tip = [](const RecallStopRow &r) { return r.todo; }}}),
      homes_(
          {text(tr("Patient"), &RecallHomeRow::name),
           text(tr("Catheter"), &RecallHomeRow::place),
           text(tr("Care"), &RecallHomeRow::standing),
           text(tr("Phone"), &RecallHomeRow::phone),
           eaches(tr("Received, eaches"), &RecallHomeRow::received),
           eaches(tr("There, at most"), &RecallHomeRow::there),
           eaches(tr("Used, eaches"), &RecallHomeRow::used),
           {.head = tr("What they said"),
            .text =
                [](const RecallHomeRow &r) { return r.outcome.isEmpty() ? tr("not called yet") : r.outcome; },
            .ink =
                [](const RecallHomeRow &r) { return r.isReached ? std::nullopt : std::optional(Role::Act); },
            .tip = [](const RecallHomeRow &r) { return r.outcome; }}}) {
    setObjectName(QStringLiteral("lotTrace"));
    setWindowTitle(tr("Where lot %1 went").arg(view_.number));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    title_ = new QLabel(this);
    title_->setFont(Look::strongFont());
    title_->setWordWrap(true);
    layout->addWidget(title_);
    places_ = new QLabel(this);
    places_->setObjectName(QStringLiteral("tracePlaces"));
    places_->setWordWrap(true);
    layout->addWidget(places_);
    auto *note = new QLabel(
        tr("Homes on hold and those who have left are on the list too. What stands in a home is an "
           "upper estimate where counts did not name lots."),
        this);
    note->setWordWrap(true);
    layout->addWidget(note);
    const auto table = [&](const QString &objectName, const QString &name, QAbstractItemModel &model,
                           int stretch) {
        auto *t = new DenseTable(objectName, name, this);
        t->setModel(new RowsProxy(&model, this));
        layout->addWidget(t, stretch);
        return t;
    };
    stopsTable_ = table(QStringLiteral("traceStops"), tr("With us"), stops_, 0);
    connect(stopsTable_, &DenseTable::currentRowChanged, this, &LotTraceDialog::enableSteps);
    reached_ = new QLabel(this);
    reached_->setObjectName(QStringLiteral("traceReached"));
    layout->addWidget(reached_);
    homesTable_ = table(QStringLiteral("traceHomes"), tr("Homes"), homes_, 3);
    connect(homesTable_, &DenseTable::opened, this,
            [this](int row) { Q_EMIT patientAsked(homes_.row(row).patient.value()); });
    auto *buttons = new QHBoxLayout;
    record_ = new QPushButton(tr("Record a call…"), this);
    record_->setObjectName(QStringLiteral("traceRecord"));
    add_ = new QPushButton(tr("Add a home…"), this);
    add_->setObjectName(QStringLiteral("traceAddHome"));
    add_->setToolTip(tr("A home that has the lot and is not on the list."));
    takeOut_ = new QPushButton(tr("Taken out of the car"), this);
    takeOut_->setObjectName(QStringLiteral("traceTakeOut"));
    takeOut_->setToolTip(tr("Choose the car above. Its stock of the lot goes to quarantine."));
    auto *reply = new QPushButton(tr("Reply to the supplier…"), this);
    reply->setObjectName(QStringLiteral("traceReply"));
    auto *print = new QPushButton(tr("Print the call list…"), this);
    print->setObjectName(QStringLiteral("tracePrint"));
    auto *close = new QPushButton(tr("Close"), this);
    close->setObjectName(QStringLiteral("traceClose"));
    buttons->addWidget(record_);
    buttons->addWidget(add_);
    buttons->addWidget(takeOut_);
    buttons->addStretch(1);
    buttons->addWidget(reply);
    buttons->addWidget(print);
    buttons->addWidget(close);
    layout->addLayout(buttons);
    connect(print, &QPushButton::clicked, this,
            [this] { offerPaper(this, session_, desk::recallPaper(*session_.agency(), view_)); });
    connect(reply, &QPushButton::clicked, this,
            [this] { offerPaper(this, session_, desk::recallReply(*session_.agency(), view_)); });
    connect(record_, &QPushButton::clicked, this, &LotTraceDialog::recordCall);
    connect(add_, &QPushButton::clicked, this, [this] {
        const desk::RecallView asItIs = view_; // a write reloads it
        addRecalledHome(this, session_, asItIs);
    });
    connect(takeOut_, &QPushButton::clicked, this, &LotTraceDialog::takeFromCar);
    connect(&session_, &Session::agencyChanged, this, &LotTraceDialog::reload);
    connect(close, &QPushButton::clicked, this, &QDialog::accept);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    fill();
    stopsTable_->fitColumns(stops_.columnCount() - 1);
    homesTable_->fitColumns(homes_.columnCount() - 1);
    homesTable_->wrapTexts(); // what they said is read whole
    homesTable_->setFocus(Qt::OtherFocusReason);
    resize(1120, 660);
}

// Every place with us is in sight, as far as the homes keep room; each car is to be emptied.
void LotTraceDialog::fitStops() {
    const int rows = std::clamp(stops_.rowCount(), 2, kStopsInSight);
    stopsTable_->setFixedHeight(stopsTable_->horizontalHeader()->sizeHint().height() +
                                rows * stopsTable_->verticalHeader()->defaultSectionSize() +
                                2 * stopsTable_->frameWidth() +
                                stopsTable_->horizontalScrollBar()->sizeHint().height());
}

void LotTraceDialog::fill() {
    const int kept = homesTable_->currentSourceRow();
    const int keptStop = stopsTable_->currentSourceRow();
    title_->setText(tr("%1, lot %2: %3").arg(view_.itemName, view_.number, view_.state));
    reached_->setText(tr("%1 It may still stand in %4 of them. Set aside there: %2; still out, at most: %3.")
                          .arg(view_.homes.empty() ? view_.reachedText() : view_.reachedText() + u'.')
                          .arg(view_.setAside.count())
                          .arg(view_.stillOut.count())
                          .arg(view_.mayHaveIt));
    QString places = desk::words(desk::lotPlaces(session_.agency()->index(), view_.lot));
    if (!view_.passed.isEmpty())
        places += u' ' + view_.passed;
    places_->setText(places);
    stops_.setRows(view_.stops);
    fitStops();
    homes_.setRows(view_.homes);
    if (homes_.rowCount() > 0)
        homesTable_->selectSourceRow(std::clamp(kept, 0, homes_.rowCount() - 1));
    // To begin with a car that is still to be emptied, where there is one.
    const auto car =
        std::ranges::find_if(view_.stops, [](const RecallStopRow &r) { return r.car.has_value(); });
    if (car != view_.stops.end() && keptStop < 0)
        stopsTable_->selectSourceRow(static_cast<int>(car - view_.stops.begin()));
    else if (stops_.rowCount() > 0)
        stopsTable_->selectSourceRow(std::clamp(keptStop, 0, stops_.rowCount() - 1));
    enableSteps();
}

void LotTraceDialog::enableSteps() {
    const int stop = stopsTable_->currentSourceRow();
    record_->setEnabled(homes_.rowCount() > 0 && !session_.isReadOnly());
    add_->setEnabled(!session_.isReadOnly());
    takeOut_->setEnabled(stop >= 0 && stop < stops_.rowCount() && stops_.row(stop).car &&
                         !session_.isReadOnly());
}

void LotTraceDialog::takeFromCar() {
    const int stop = stopsTable_->currentSourceRow();
    if (stop < 0 || stop >= stops_.rowCount() || !stops_.row(stop).car)
        return;
    const NurseId nurse = *stops_.row(stop).car; // a write reloads the rows
    stopsTable_->setFocus(Qt::OtherFocusReason);
    session_.writeOrTell(this, tr("Took lot %1 out of a car").arg(view_.number),
                         [&](desk::Desk &d) { return d.takeFromCar(nurse, view_.lot); });
}

void LotTraceDialog::reload() {
    const auto movements = session_.desk().movementsOfLot(view_.lot);
    if (!movements)
        return; // what stands here stays; the next change tries again
    view_ = desk::recallView(*session_.agency(), view_.lot, *movements);
    fill();
}

void LotTraceDialog::recordCall() {
    const int row = homesTable_->currentSourceRow();
    if (row >= 0 && row < homes_.rowCount())
        recordRecallCall(this, session_, view_, homes_.row(row));
}

} // namespace kitround::ui
