#include "ui/stock/LotTraceDialog.h"

#include "core/desk/paper/RecallPaper.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

using desk::RecallHomeRow;
using desk::RecallStopRow;

template <class Row>
RowsColumn<Row> text(const QString &head, QString Row::*value) {
    return {.head = head, .text = [value](const Row &r) { return r.*value; }};
}
template <class Row>
RowsColumn<Row> eaches(const QString &head, Eaches Row::*value) {
    return {.head = head,
            .text = [value](const Row &r) { return QString::number((r.*value).count()); },
            .sortBy = [value](const Row &r) { return QVariant(qlonglong((r.*value).count())); },
            .isNumber = true};
}

} // namespace

LotTraceDialog::LotTraceDialog(Session &session, desk::RecallView view, QWidget *parent)
    : QDialog(parent), session_(session), view_(std::move(view)),
      stops_({text(tr("Where"), &RecallStopRow::place),
              eaches(tr("Received, each"), &RecallStopRow::received),
              eaches(tr("There now, each"), &RecallStopRow::there)}),
      homes_({text(tr("Patient"), &RecallHomeRow::name), text(tr("Line"), &RecallHomeRow::place),
              text(tr("Care"), &RecallHomeRow::standing), text(tr("Phone"), &RecallHomeRow::phone),
              eaches(tr("Received, each"), &RecallHomeRow::received),
              eaches(tr("There, at most"), &RecallHomeRow::there),
              eaches(tr("Used, each"), &RecallHomeRow::used)}) {
    setObjectName(QStringLiteral("lotTrace"));
    setWindowTitle(tr("Where lot %1 went").arg(view_.number));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    auto *title = new QLabel(tr("%1, lot %2: %3").arg(view_.itemName, view_.number, view_.state), this);
    title->setFont(Look::strongFont());
    title->setWordWrap(true);
    layout->addWidget(title);
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
    stops_.setRows(view_.stops);
    homes_.setRows(view_.homes);
    table(QStringLiteral("traceStops"), tr("With us"), stops_, 1)->fitColumns(0);
    DenseTable *homes = table(QStringLiteral("traceHomes"), tr("Homes"), homes_, 3);
    homes->fitColumns(0);
    connect(homes, &DenseTable::opened, this,
            [this](int row) { Q_EMIT patientAsked(homes_.row(row).patient.value()); });
    auto *buttons = new QHBoxLayout;
    auto *print = new QPushButton(tr("Print the call list…"), this);
    print->setObjectName(QStringLiteral("tracePrint"));
    auto *close = new QPushButton(tr("Close"), this);
    close->setObjectName(QStringLiteral("traceClose"));
    buttons->addStretch(1);
    buttons->addWidget(print);
    buttons->addWidget(close);
    layout->addLayout(buttons);
    connect(print, &QPushButton::clicked, this,
            [this] { offerPaper(this, session_, desk::recallPaper(*session_.agency(), view_)); });
    connect(close, &QPushButton::clicked, this, &QDialog::accept);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    homes->setFocus(Qt::OtherFocusReason);
    resize(860, 520);
}

} // namespace kitround::ui
