#include "ui/stock/StartUpPanel.h"

#include "core/desk/paper/ClerkPapers.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/stock/SupplyForms.h"

#include <QHBoxLayout>
#include <QPushButton>

namespace kitround::ui {

using desk::StartUpRow;

std::vector<RowsColumn<StartUpRow>> StartUpPanel::columns() {
    return {
        {.head = tr("First drain"),
         .text =
             [](const StartUpRow &r) {
                 return r.start.firstDrain ? desk::dayText(*r.start.firstDrain) : tr("not known");
             },
         .sortBy =
             [](const StartUpRow &r) {
                 return QVariant(r.start.firstDrain ? qlonglong(r.start.firstDrain->dayNumber())
                                                    : qlonglong(1) << 40);
             },
         .ink = [](const StartUpRow &r) { return r.start.isLate ? std::optional(Role::Act) : std::nullopt; }},
        {.head = tr("Patient"), .text = [](const StartUpRow &r) { return r.who; }},
        {.head = tr("Catheter"), .text = [](const StartUpRow &r) { return r.catheter; }},
        {.head = tr("To send"),
         .text = [](const StartUpRow &r) { return r.items; },
         .tip = [](const StartUpRow &r) { return r.items; }},
        {.head = tr("How and when"),
         .text = [](const StartUpRow &r) { return r.way; },
         .headTip = tr("The last day before the first drain; a planned visit goes before a courier")},
        {.head = tr("Missing or does not fit"),
         .text = [](const StartUpRow &r) { return r.gaps; },
         .ink =
             [](const StartUpRow &r) { return r.gaps.isEmpty() ? std::nullopt : std::optional(Role::Watch); },
         .tip = [](const StartUpRow &r) { return r.gaps; }},
    };
}

StartUpPanel::StartUpPanel(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(0);
    auto *top = new QHBoxLayout;
    top->setSpacing(Look::kInside);
    const auto button = [&](const char *objectName, const QString &text, auto step) {
        auto *b = new QPushButton(text, this);
        b->setObjectName(QLatin1String(objectName));
        top->addWidget(b);
        connect(b, &QPushButton::clicked, this, step);
        return b;
    };
    promise_ = button("startUpPromise", tr("Promise the first delivery…"), [this] { promise(); });
    patient_ = button("startUpPatient", tr("Open the patient"), [this] {
        if (const StartUpRow *row = current())
            Q_EMIT patientAsked(row->start.patient.value());
    });
    top->addStretch(1);
    print_ = button("startUpPrint", tr("Print…"), [this] { print(); });
    layout->addLayout(top);
    note_ = new QLabel(this);
    note_->setObjectName(QStringLiteral("startUpNote"));
    note_->setWordWrap(true);
    note_->setContentsMargins(0, Look::kInside, 0, 0);
    layout->addWidget(note_);
    rows_ = new RowsPanel<StartUpRow>(
        {.objectName = QStringLiteral("startUpTable"),
         .title = tr("First deliveries"),
         .explanation = tr("Soonest first drain first. Enter makes the delivery."),
         .nothing = tr("Every catheter on service has had a delivery, a count or a drain."),
         .stretched = 5},
        columns(), [](const desk::StockPicture &p) { return desk::startUpRows(p); }, this);
    layout->addWidget(rows_, 1);
    whole_ = new QLabel(this);
    whole_->setObjectName(QStringLiteral("startUpWhole"));
    whole_->setWordWrap(true);
    whole_->setContentsMargins(0, Look::kInside, 0, 0);
    layout->addWidget(whole_);
    connect(rows_->table(), &DenseTable::currentRowChanged, this, &StartUpPanel::enableSteps);
    connect(rows_->table(), &DenseTable::opened, this, &StartUpPanel::promise);
    enableSteps();
}

void StartUpPanel::show(desk::StockPicturePtr picture) {
    picture_ = picture;
    note_->setText(picture ? desk::startUpNote(picture->agency->settings()) : QString());
    rows_->show(std::move(picture));
    enableSteps();
}

void StartUpPanel::takeFocus() {
    rows_->takeFocus();
}

const StartUpRow *StartUpPanel::current() const {
    const int row = rows_->table()->currentSourceRow();
    return row >= 0 && row < rows_->model().rowCount() ? &rows_->model().row(row) : nullptr;
}

void StartUpPanel::enableSteps() {
    const StartUpRow *row = current();
    promise_->setEnabled(row && row->mayPromise && !session_.isReadOnly());
    patient_->setEnabled(row);
    whole_->setText(row ? row->gaps : QString());
    print_->setEnabled(picture_ != nullptr);
}

void StartUpPanel::promise() {
    if (const StartUpRow *row = current(); row && promise_->isEnabled())
        promiseStartUp(this, session_, row->start);
}

void StartUpPanel::print() {
    if (picture_)
        offerPaper(this, session_, desk::startUpPaper(*picture_));
}

} // namespace kitround::ui
