#include "ui/people/VisitTabs.h"

#include "core/desk/views/VisitOrderView.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/people/VisitOrderForm.h"
#include "ui/shared/DenseTable.h"

#include <QLabel>

namespace kitround::ui {
namespace {

constexpr int kLongestMoment = 160; // "Tue 24 Nov 10:30" is never cut

// The whole of an order in one sentence: columns that are mostly empty would push the others out of sight.
QString orderInWords(const VisitOrderRow &row, Date today) {
    QStringList parts{desk::segmentsText(row.order.segments)};
    if (row.order.end)
        parts << QObject::tr("ends before %1").arg(desk::dayText(*row.order.end, today));
    if (row.order.twoNurses)
        parts << QObject::tr("by two nurses");
    if (!row.after.isEmpty())
        parts << row.after;
    if (!row.order.prescriber.empty())
        parts << QObject::tr("prescriber: %1").arg(QString::fromStdString(row.order.prescriber));
    return parts.join(QStringLiteral("; "));
}

std::vector<RowsColumn<VisitOrderRow>> orderColumns(const Session &session) {
    using Row = VisitOrderRow;
    const auto inWords = [&session](const Row &o) { return orderInWords(o, session.today()); };
    return {
        {.head = QObject::tr("Visits"),
         .text = [](const Row &o) { return desk::notation(o.order); },
         .tip = [](const Row &o) { return desk::segmentsText(o.order.segments); }},
        {.head = QObject::tr("In words"), .text = inWords, .tip = inWords},
        {.head = QObject::tr("Kind"), .text = [](const Row &o) { return desk::words(o.order.kind); }},
        {.head = QObject::tr("From"),
         .text = [&session](const Row &o) { return desk::dayText(o.order.start, session.today()); },
         .sortBy = [](const Row &o) { return QVariant(qlonglong(o.order.start.dayNumber())); }},
    };
}

Date dayOf(const Visit &visit) {
    return visit.on.value_or(visit.dueFrom);
}

QString whenText(const Visit &visit) {
    if (!visit.on)
        return QObject::tr("due %1 to %2")
            .arg(desk::dayText(visit.dueFrom), desk::dayText(visit.dueTo.plusDays(-1)));
    return visit.startAt ? desk::momentText({*visit.on, *visit.startAt}) : desk::dayText(*visit.on);
}

QString kindText(const VisitRow &row) {
    return QObject::tr("%1, %2 min")
        .arg(desk::words(row.visit.kind), desk::numberText(row.visit.length.count()));
}

QString stateText(const VisitRow &row) {
    QStringList parts{desk::words(row.visit.status)};
    if (row.visit.missReason != MissReason::None)
        parts.first() += QObject::tr(": %1").arg(desk::words(row.visit.missReason));
    if (const QString note = QString::fromStdString(row.visit.note).simplified(); !note.isEmpty())
        parts << note;
    return parts.join(QStringLiteral("; "));
}

std::vector<RowsColumn<VisitRow>> visitColumns() {
    return {
        {.head = QObject::tr("When"),
         .text = [](const VisitRow &r) { return whenText(r.visit); },
         .sortBy = [](const VisitRow &r) { return QVariant(qlonglong(dayOf(r.visit).dayNumber())); }},
        {.head = QObject::tr("Kind and length"), .text = kindText, .tip = kindText},
        {.head = QObject::tr("Status and note"), .text = stateText, .tip = stateText},
        {.head = QObject::tr("Nurse"), .text = [](const VisitRow &r) { return r.nurse; }},
    };
}

} // namespace

VisitOrdersTab::VisitOrdersTab(Session &session, QWidget *parent)
    : RecordTab(session, parent), model_(orderColumns(session)) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *row = new QHBoxLayout;
    add_ = addButton(row, QStringLiteral("visitOrderAdd"), tr("New visit order…"), [this] {
        VisitOrder order;
        order.patient = patientId();
        editVisitOrder(this, this->session(), order);
    });
    edit_ = addButton(row, QStringLiteral("visitOrderEdit"), tr("Edit…"),
                      [this] { edit(table_->currentSourceRow()); });
    row->addStretch(1);
    layout->addLayout(row);
    none_ = new QLabel(
        tr("No visit order yet, so no visit is due: “New visit order…” enters what was ordered."), this);
    none_->setObjectName(QStringLiteral("noVisitOrder"));
    none_->setWordWrap(true);
    layout->addWidget(none_);
    table_ = new DenseTable(QStringLiteral("visitOrders"), tr("Visit orders"), this);
    table_->setModel(new RowsProxy(&model_, this));
    table_->wrapTexts();
    layout->addWidget(table_, 1);
    connect(table_, &DenseTable::opened, this, &VisitOrdersTab::edit);
    connect(table_, &DenseTable::currentRowChanged, this,
            [this](int current) { edit_->setEnabled(current >= 0 && !this->session().isReadOnly()); });
}

void VisitOrdersTab::edit(int row) {
    if (row >= 0 && row < model_.rowCount() && !session().isReadOnly())
        editVisitOrder(this, session(), model_.row(row).order);
}

void VisitOrdersTab::fill() {
    const SnapshotIndex &index = session().agency()->index();
    std::vector<VisitOrderRow> orders;
    for (const VisitOrder *order : index.visitOrdersOf(patientId()))
        orders.push_back({*order, desk::afterText(order->after, index)});
    std::ranges::stable_sort(orders, std::greater(), [](const VisitOrderRow &r) { return r.order.start; });
    none_->setHidden(!orders.empty());
    model_.setRows(std::move(orders));
    table_->fitColumns(1);
    const Patient *p = patient();
    add_->setEnabled(p && isOnService(p->status) && !session().isReadOnly());
    edit_->setEnabled(false);
}

VisitsTab::VisitsTab(Session &session, QWidget *parent) : RecordTab(session, parent), model_(visitColumns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *row = new QHBoxLayout;
    add_ = addButton(row, QStringLiteral("visitAdd"), tr("Add a visit…"), [this] {
        if (const Patient *p = this->patient())
            addVisit(this, this->session(), *p);
    });
    left_ = new QLabel(this);
    left_->setObjectName(QStringLiteral("asNeededLeft"));
    row->addWidget(left_);
    row->addStretch(1);
    layout->addLayout(row);
    none_ =
        new QLabel(tr("No visits on record. They come with the weekly plan once a visit order is entered; "
                      "“Add a visit…” enters one beside the orders."),
                   this);
    none_->setObjectName(QStringLiteral("noVisits"));
    none_->setWordWrap(true);
    layout->addWidget(none_);
    table_ = new DenseTable(QStringLiteral("patientVisits"), tr("Visits, past and to come"), this);
    table_->setModel(new RowsProxy(&model_, this));
    table_->keepReadable(0, kLongestMoment);
    layout->addWidget(table_, 1);
}

void VisitsTab::fill() {
    const SnapshotIndex &index = session().agency()->index();
    std::vector<VisitRow> rows;
    for (const Visit *visit : index.visitsOf(patientId())) {
        VisitRow row{*visit, {}};
        QStringList nurses;
        for (const auto &id : {visit->nurse, visit->secondNurse})
            if (const Nurse *nurse = id ? index.nurse(*id) : nullptr)
                nurses << desk::personName(*nurse);
        row.nurse = nurses.join(QStringLiteral(" + "));
        rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(rows, std::greater(), [](const VisitRow &r) { return dayOf(r.visit); });
    none_->setHidden(!rows.empty());
    model_.setRows(std::move(rows));
    table_->fitColumns(2);
    const Patient *p = patient();
    add_->setEnabled(p && isOnService(p->status) && !session().isReadOnly());
    left_->setText(p ? desk::asNeededText(*session().agency(), p->id) : QString());
}

} // namespace kitround::ui
