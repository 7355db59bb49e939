#include "ui/stock/StartUpPanel.h"

#include "core/desk/paper/ClerkPapers.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/stock/StockColumns.h"
#include "ui/stock/SupplyForms.h"

#include <QTimer>

#include <algorithm>
#include <utility>

namespace kitround::ui {

using desk::StartUpRow;

std::vector<RowsColumn<StartUpRow>> StartUpPanel::columns() {
    return {
        {.head = tr("First drain"),
         .text =
             [](const StartUpRow &r) {
                 return r.start.firstDrain ? desk::dayText(*r.start.firstDrain) : tr("not known");
             },
         .sortBy = [](const StartUpRow &r) { return QVariant(sortDay(r.start.firstDrain)); },
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
    layout->setContentsMargins(0, 0, 0, 0);
    rows_ = new RowsPanel<StartUpRow>(
        {.objectName = QStringLiteral("startUpTable"), .title = tr("First deliveries"), .stretched = 5},
        columns(), [](const desk::StockPicture &p) { return desk::startUpRows(p); }, this);
    layout->addWidget(rows_);
    promise_ = rows_->addStep("startUpPromise", tr("Promise the first delivery…"), [this] { promise(); });
    patient_ = rows_->addStep("startUpPatient", tr("Open the record"), [this] {
        if (const StartUpRow *row = rows_->current())
            Q_EMIT patientAsked(row->start.patient.value());
    });
    rows_->addGap();
    print_ = rows_->addStep("startUpPrint", tr("Print…"), [this] { print(); });
    csv_ = rows_->addStep("startUpCsv", tr("CSV…"), [this] { save(); });
    rows_->showWhole([](const StartUpRow &row) { return row.gaps; });
    rows_->onChosen([this] { enableSteps(); });
    connect(rows_->table(), &DenseTable::opened, this, &StartUpPanel::promise);
    enableSteps();
}

void StartUpPanel::show(desk::StockPicturePtr picture) {
    picture_ = picture;
    if (picture)
        rows_->explain(desk::startUpNote(picture->agency->settings()) + u' ' +
                           tr("Soonest first drain first. Enter makes the delivery."),
                       tr("Every catheter on service has had a delivery, a count or a drain."));
    else
        asked_.reset();
    rows_->show(std::move(picture));
    enableSteps();
    if (const auto asked = std::exchange(asked_, std::nullopt))
        QTimer::singleShot(0, this, [this, whose = *asked] {
            if (isVisible()) // whoever has gone on is not called back
                promiseFor(whose.first, whose.second);
        });
}

void StartUpPanel::takeFocus() {
    rows_->takeFocus();
}

void StartUpPanel::enableSteps() {
    const StartUpRow *row = rows_->current();
    promise_->setEnabled(row && row->mayPromise && !session_.isReadOnly());
    patient_->setEnabled(row);
    print_->setEnabled(picture_ != nullptr);
    csv_->setEnabled(picture_ != nullptr);
}

void StartUpPanel::promise() {
    if (const StartUpRow *row = rows_->current(); row && promise_->isEnabled())
        promiseStartUp(this, session_, row->start);
}

// The table is filled in the background and may not be there yet: the home is looked up by itself. Where no
// catheter is named, the one that can be supplied.
void StartUpPanel::promiseFor(PatientId patient, CatheterId catheter) {
    if (session_.isReadOnly() || !session_.agency())
        return;
    const std::vector<StartUpRow> starts =
        picture_ ? desk::startUpRows(*picture_) : std::vector<StartUpRow>();
    const auto isAsked = [&](const StartUpRow &r) {
        return r.start.patient == patient && (!catheter.isSet() || r.start.catheter == catheter);
    };
    auto row = std::ranges::find_if(starts, [&](const StartUpRow &r) { return isAsked(r) && r.mayPromise; });
    if (row == starts.end())
        row = std::ranges::find_if(starts, isAsked);
    if (row != starts.end())
        rows_->table()->selectSourceRow(static_cast<int>(row - starts.begin()));
    if (row != starts.end() && row->mayPromise)
        promiseStartUp(this, session_, row->start);
    else if (!picture_ || picture_->agency != session_.agency())
        asked_ = {patient, catheter}; // entered a moment ago
    else if (row == starts.end())
        Ask::tell(this, tr("First delivery"),
                  tr("This home waits for no first delivery: a catheter on service there has had a delivery, "
                     "a count or a drain, or none is on service."));
    else
        Ask::tell(this, tr("First delivery"),
                  row->gaps.isEmpty() ? tr("Nothing can be proposed for this home yet. Open its record and "
                                           "look at the order.")
                                      : row->gaps);
}

void StartUpPanel::print() {
    if (picture_)
        offerPaper(this, session_, desk::startUpPaper(*picture_));
}

void StartUpPanel::save() {
    if (picture_)
        saveTable(this, session_, desk::startUpTable(*picture_));
}

} // namespace kitround::ui
