#include "ui/reorders/MonthPanel.h"

#include "core/desk/paper/ClerkPapers.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

using desk::MonthRow;

constexpr int kMonthsBack = 24;
constexpr int kReadableName = 200; // items differ at the end of their names

RowsColumn<MonthRow> eaches(const QString &head, Eaches MonthLine::*value, const QString &tip = {}) {
    return {.head = head,
            .text = [value](const MonthRow &r) { return QString::number((r.line.*value).count()); },
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
    layout->addWidget(table_, 1);
    notes_ = label("monthNotes");
    notes_->setText(desk::monthNotes().join(u' '));
    connect(months_, &QComboBox::currentIndexChanged, this, &MonthPanel::read);
    clear();
}

void MonthPanel::show() {
    isStale_ = true;
    fillMonths();
    if (isVisible())
        read();
}

void MonthPanel::clear() {
    books_.reset();
    isStale_ = true;
    model_.setRows({});
    state_->clear();
    figures_->clear();
    for (QPushButton *b : {close_, reopen_, print_, csv_})
        b->setEnabled(false);
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
    isStale_ = false;
    auto books = session_.desk().monthBooks(*chosen);
    if (!books) {
        clear();
        state_->setText(desk::words(books.error()));
        return;
    }
    const desk::Agency &agency = *session_.agency();
    books_ = *std::move(books);
    const bool isFirst = model_.rowCount() == 0;
    model_.setRows(desk::monthRows(agency, books_->close));
    if (isFirst)
        table_->fitColumns(0, kReadableName);
    if (model_.rowCount() > 0)
        table_->selectSourceRow(0);
    state_->setText(desk::monthState(agency, *books_));
    figures_->setText(desk::monthFigures(agency, books_->close).join(QLatin1Char('\n')));
    const bool mayWrite = !session_.isReadOnly();
    close_->setEnabled(mayWrite && !books_->close.isClosed && monthAfter(*chosen) <= agency.today());
    reopen_->setEnabled(mayWrite && books_->close.isClosed);
    print_->setEnabled(true);
    csv_->setEnabled(true);
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
        offerPaper(this, session_, desk::monthPaper(*session_.agency(), *books_));
}

void MonthPanel::save() {
    if (books_)
        saveTable(this, session_, desk::monthTable(*session_.agency(), books_->close));
}

} // namespace kitround::ui
