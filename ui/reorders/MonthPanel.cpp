#include "ui/reorders/MonthPanel.h"

#include "core/desk/paper/ClerkPapers.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::MonthRow;

constexpr int kMonthsBack = 24;

RowsColumn<MonthRow> eaches(const QString &head, Eaches MonthLine::*value, const QString &tip = {}) {
    return {.head = head,
            .text = [value](const MonthRow &r) { return desk::numberText((r.line.*value).count()); },
            .sortBy = [value](const MonthRow &r) { return QVariant(qlonglong((r.line.*value).count())); },
            .isNumber = true,
            .headTip = tip};
}

} // namespace

std::vector<RowsColumn<MonthRow>> MonthPanel::columns(Session &session) {
    return {
        {.head = tr("Item"), .text = [](const MonthRow &r) { return r.item; }},
        eaches(tr("Opening"), &MonthLine::opening, tr("Ours at the end of the day before")),
        eaches(tr("Received"), &MonthLine::received),
        eaches(tr("Given back"), &MonthLine::returned, tr("To suppliers")),
        eaches(tr("Issued"), &MonthLine::issued, tr("To homes, less what came back")),
        eaches(tr("Used"), &MonthLine::used, tr("Out of our own stock")),
        eaches(tr("Written off"), &MonthLine::wasted, tr("The expired among it")),
        eaches(tr("Counts"), &MonthLine::adjusted, tr("Differences of counts, and stock taken over")),
        eaches(tr("Closing"), &MonthLine::closing, tr("Ours at the end of the last day")),
        {.head = tr("Cost"),
         .text = [](const MonthRow &r) { return r.price; },
         .ink =
             [](const MonthRow &r) {
                 return r.line.price == PriceSource::LastPaid ? std::nullopt : std::optional(Role::Watch);
             },
         .headTip = tr("Last price paid, by the newest receipt up to the month's end")},
        {.head = tr("Value"),
         .text =
             [&session](const MonthRow &r) {
                 return desk::moneyText(r.value, session.agency()->settings().currency);
             },
         .sortBy = [](const MonthRow &r) { return QVariant(qlonglong(r.value.count())); },
         .isNumber = true},
        eaches(tr("Used in homes"), &MonthLine::homeUsed),
        {.head = tr("A patient-day"),
         .text =
             [](const MonthRow &r) {
                 return r.usePerDay ? QString::number(*r.usePerDay, 'f', 3) : QString();
             },
         .sortBy = [](const MonthRow &r) { return QVariant(r.usePerDay.value_or(-1)); },
         .isNumber = true},
    };
}

MonthPanel::MonthPanel(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), model_(columns(session)) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    auto *top = new QHBoxLayout;
    months_ = new QComboBox(this);
    months_->setObjectName(QStringLiteral("monthChoice"));
    months_->setAccessibleName(tr("Month"));
    top->addWidget(months_);
    const auto button = [&](const char *objectName, const QString &text, auto step) {
        auto *b = new QPushButton(text, this);
        b->setObjectName(QLatin1String(objectName));
        top->addWidget(b);
        connect(b, &QPushButton::clicked, this, step);
        return b;
    };
    close_ = button("monthClose", tr("Close the month…"), [this] { closeMonth(); });
    reopen_ = button("monthReopen", tr("Open it again…"), [this] { reopenMonth(); });
    top->addStretch(1);
    print_ = button("monthPrint", tr("Print…"), [this] { print(); });
    csv_ = button("monthCsv", tr("CSV…"), [this] { save(); });
    layout->addLayout(top);
    const auto label = [&](const char *objectName) {
        auto *l = new QLabel(this);
        l->setObjectName(QLatin1String(objectName));
        l->setWordWrap(true);
        l->setTextInteractionFlags(Qt::TextSelectableByMouse);
        layout->addWidget(l);
        return l;
    };
    state_ = label("monthState");
    state_->setFont(Look::strongFont());
    figures_ = label("monthFigures");
    table_ = new DenseTable(QStringLiteral("monthTable"), tr("Supplies of the month by item"), this);
    table_->setModel(new RowsProxy(&model_, this));
    table_->keepReadable(0);
    layout->addWidget(table_, 1);
    notes_ = label("monthNotes");
    notes_->setText(desk::monthNotes().join(u' '));
    connect(months_, &QComboBox::currentIndexChanged, this, &MonthPanel::read);
    clear();
}

MonthPanel::~MonthPanel() = default;

void MonthPanel::show() {
    isStale_ = true;
    fillMonths();
    if (isVisible())
        read();
}

void MonthPanel::clear() {
    leaveOffReading();
    books_.reset();
    readFrom_.reset();
    isStale_ = true;
    model_.setRows({});
    state_->clear();
    figures_->clear();
    enableSteps();
}

void MonthPanel::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

void MonthPanel::showEvent(QShowEvent *event) {
    QWidget::showEvent(event);
    if (isStale_)
        read();
}

// The month that ended last is the one to close; the running one stands first.
void MonthPanel::fillMonths() {
    const Date running = monthOf(session_.today());
    if (months_->count() > 0 && months_->itemData(0).toLongLong() == running.dayNumber())
        return;
    const QSignalBlocker quiet(months_);
    months_->clear();
    Date month = running;
    for (int i = 0; i < kMonthsBack; ++i) {
        months_->addItem(desk::monthText(month), qlonglong(month.dayNumber()));
        month = monthOf(month.plusDays(-1));
    }
    months_->setCurrentIndex(1);
}

std::optional<Date> MonthPanel::month() const {
    return months_->currentIndex() < 0
               ? std::nullopt
               : std::optional(Date::fromDayNumber(months_->currentData().toLongLong()));
}

void MonthPanel::read() {
    const auto chosen = month();
    if (!chosen || !session_.isOpen() || !session_.agency())
        return;
    leaveOffReading();
    isStale_ = false;
    books_.reset();
    readFrom_ = session_.agency();
    state_->setText(tr("The books are being read."));
    enableSteps();
    job_ = BackgroundJob::start(
        this,
        [path = session_.desk().path(), agency = readFrom_,
         month = *chosen](const std::stop_token &stop, const ProgressSink &) -> Result<supply::MonthBooks> {
            return desk::readMonthBooks(path, *agency, month, stop);
        },
        [this, generation = generation_](Result<supply::MonthBooks> books) {
            if (generation == generation_)
                shown(std::move(books));
        });
}

// Who steps through the months waits for none of those passed over: each is asked to stop and its answer is
// dropped.
void MonthPanel::leaveOffReading() {
    ++generation_;
    if (job_)
        job_->stop();
}

void MonthPanel::shown(Result<supply::MonthBooks> books) {
    if (!books) {
        const QString why = desk::words(books.error());
        model_.setRows({});
        figures_->clear();
        state_->setText(why);
        return;
    }
    books_ = *std::move(books);
    const int kept = std::max(0, table_->currentSourceRow());
    model_.setRows(desk::monthRows(*readFrom_, books_->close));
    table_->fitColumns(0); // a width set by hand stays
    if (model_.rowCount() > 0)
        table_->selectSourceRow(std::min(kept, model_.rowCount() - 1));
    state_->setText(desk::monthState(*readFrom_, *books_));
    figures_->setText(desk::monthFigures(*readFrom_, books_->close).join(QLatin1Char('\n')));
    enableSteps();
}

void MonthPanel::enableSteps() {
    const bool mayWrite = books_ && !session_.isReadOnly();
    close_->setEnabled(mayWrite && !books_->close.isClosed &&
                       monthAfter(books_->close.month) <= readFrom_->today());
    reopen_->setEnabled(mayWrite && books_->close.isClosed);
    print_->setEnabled(books_.has_value());
    csv_->setEnabled(books_.has_value());
}

void MonthPanel::closeMonth() {
    const auto chosen = month();
    if (!chosen || !books_)
        return;
    const QString name = desk::monthText(*chosen);
    if (Ask::confirm(
            this, tr("Close %1").arg(name),
            tr("The figures are kept as they are. After that nothing of the stock can be dated into %1 "
               "or before it; corrections go into the open month.")
                .arg(name),
            tr("Close %1").arg(name), tr("Leave it open")))
        session_.writeOrTell(this, tr("Closed the books of %1").arg(name),
                             [&](desk::Desk &d) { return d.closeMonth(*chosen); });
}

void MonthPanel::reopenMonth() {
    const auto chosen = month();
    if (!chosen)
        return;
    const QString name = desk::monthText(*chosen);
    const auto why = Ask::line(this, tr("Open %1 again").arg(name),
                               tr("Why? The reason is kept with the month and in the record of changes."));
    if (why)
        session_.writeOrTell(this, tr("Opened the books of %1 again").arg(name), [&](desk::Desk &d) {
            return d.reopenMonth(*chosen, why->trimmed().toStdString());
        });
}

void MonthPanel::print() {
    if (books_)
        offerPaper(this, session_, desk::monthPaper(*readFrom_, *books_));
}

void MonthPanel::save() {
    if (books_)
        saveTable(this, session_, desk::monthTable(*readFrom_, books_->close));
}

} // namespace kitround::ui
