#include "ui/today/HolidayDialog.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QLabel>
#include <QPushButton>

#include <utility>

namespace kitround::ui {

std::vector<RowsColumn<HolidayDialog::Row>> HolidayDialog::columns() {
    return {
        {.head = tr("Closed"),
         .text = [](const Row &r) { return r.days; },
         .sortBy = [](const Row &r) { return QVariant(qlonglong(r.from.dayNumber())); }},
        {.head = tr("Patient"), .text = [](const Row &r) { return r.home.who; }},
        {.head = tr("Visits"),
         .text = [](const Row &r) { return r.visits; },
         .ink = [](const Row &r) { return r.home.isOpen() ? std::optional(Role::Watch) : std::nullopt; },
         .tip = [](const Row &r) { return r.visits; }},
        {.head = tr("Supplies"),
         .text = [](const Row &r) { return r.supplies; },
         .ink = [](const Row &r) { return r.home.needsStock ? std::optional(Role::Act) : std::nullopt; },
         .tip = [](const Row &r) { return r.supplies; }},
    };
}

HolidayDialog::HolidayDialog(Session &session, QWidget *parent)
    : ListDialog(QStringLiteral("holiday"), tr("Holiday plan"), session, parent), model_(columns()),
      weeks_(new QComboBox(this)) {
    for (const int weeks : {4, 8, 12})
        weeks_->addItem(tr("%1 weeks").arg(weeks), weeks);
    weeks_->setCurrentIndex(1);
    addChoice(weeks_, QStringLiteral("holidayWeeks"), tr("How far ahead"));
    setRows(&model_, tr("Holiday plan by patient"));
    table_->wrapTexts();
    addRoom();
    csv_ = addStep(
        QStringLiteral("holidayCsv"), tr("Save as CSV…"),
        [this] { saveTable(this, session_, desk::holidayTable(plan_, *plannedFrom_)); },
        Qt::CTRL | Qt::Key_S);
    print_ = addStep(
        QStringLiteral("holidayPrint"), tr("Print…"), [this] { print(); }, QKeySequence::Print);
    addClose(QStringLiteral("holidayClose"));
    connect(weeks_, &QComboBox::currentIndexChanged, this, &HolidayDialog::work);
    connect(table_, &DenseTable::opened, this, &HolidayDialog::open);
    connect(&session_, &Session::computed, this, &HolidayDialog::work);
    work();
}

int HolidayDialog::weeks() const {
    return weeks_->currentData().toInt();
}

void HolidayDialog::work() {
    csv_->setEnabled(false); // both need a whole plan of the weeks chosen
    print_->setEnabled(false);
    const int generation = ++generation_;
    if (job_)
        job_->stop();
    const desk::StockPicturePtr stock = session_.stock();
    if (!stock) {
        head_->setText(tr("The stock forecast is being worked out."));
        return;
    }
    head_->setText(tr("The plan is being worked out."));
    job_ = BackgroundJob::start(
        this,
        [stock, weeks = weeks()](std::stop_token stop, const ProgressSink &) {
            return desk::holidayPlan(*stock, weeks, std::move(stop));
        },
        [this, generation, agency = stock->agency](const desk::HolidayPlan &plan) {
            if (generation == generation_)
                show(plan, agency);
        });
}

void HolidayDialog::show(const desk::HolidayPlan &plan, const desk::AgencyPtr &agency) {
    plan_ = plan;
    plannedFrom_ = agency;
    QStringList lines;
    for (const desk::HolidayStretch &stretch : plan_.stretches)
        lines << desk::stretchText(stretch, agency->today());
    if (lines.isEmpty())
        lines << tr("No holiday in these weeks.");
    else if (plan_.homes.empty())
        lines << tr("No visit falls on these days and no home runs short over them.");
    head_->setText(lines.join(QLatin1Char('\n')));
    std::vector<Row> rows;
    for (const desk::HolidayHome &home : plan_.homes) {
        const DateRange days = plan_.stretches[home.stretch].days;
        const Date last = days.to.plusDays(-1);
        rows.push_back({home,
                        days.from == last
                            ? desk::dayText(last)
                            : QStringLiteral("%1 – %2").arg(desk::dayText(days.from), desk::dayText(last)),
                        desk::visitText(home), desk::stockText(plan_, home), days.from});
    }
    model_.setRows(std::move(rows));
    table_->fitColumns(3); // by when to hand over is what somebody acts on
    if (model_.rowCount() > 0)
        table_->selectSourceRow(0);
    csv_->setEnabled(model_.rowCount() > 0);
    print_->setEnabled(true);
}

void HolidayDialog::print() {
    if (plannedFrom_)
        offerPaper(this, session_, desk::holidayPaper(plan_, *plannedFrom_, weeks()));
}

void HolidayDialog::open(int row) {
    if (row < 0 || row >= model_.rowCount())
        return;
    const qint64 patient = model_.row(row).home.patient.value();
    accept();
    Q_EMIT showPatient(patient);
}

} // namespace kitround::ui
