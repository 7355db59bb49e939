#include "ui/today/HolidayDialog.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

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
    : QDialog(parent), session_(session), model_(columns()) {
    setObjectName(QStringLiteral("holidayDialog"));
    setWindowTitle(tr("Holiday plan"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    auto *top = new QHBoxLayout;
    head_ = new QLabel(this);
    head_->setObjectName(QStringLiteral("holidayHead"));
    head_->setWordWrap(true);
    top->addWidget(head_, 1);
    weeks_ = new QComboBox(this);
    weeks_->setObjectName(QStringLiteral("holidayWeeks"));
    weeks_->setAccessibleName(tr("How far ahead"));
    for (const int weeks : {4, 8, 12})
        weeks_->addItem(tr("%1 weeks").arg(weeks), weeks);
    weeks_->setCurrentIndex(1);
    top->addWidget(weeks_, 0, Qt::AlignTop);
    layout->addLayout(top);
    table_ = new DenseTable(QStringLiteral("holidayTable"), tr("Holiday plan by patient"), this);
    table_->setModel(new RowsProxy(&model_, this));
    layout->addWidget(table_, 1);
    auto *foot = new QHBoxLayout;
    const auto button = [&](const char *name, const QString &text, auto slot) {
        auto *made = new QPushButton(text, this);
        made->setObjectName(QString::fromLatin1(name));
        made->setAutoDefault(false);
        connect(made, &QPushButton::clicked, this, slot);
        return made;
    };
    csv_ = button("holidayCsv", tr("Save as CSV…"),
                  [this] { saveTable(this, session_, desk::holidayTable(plan_, *plannedFrom_)); });
    print_ = button("holidayPrint", tr("Print or PDF…"), [this] { print(); });
    auto *close = button("holidayClose", tr("Close"), [this] { reject(); });
    foot->addStretch(1);
    for (QPushButton *made : {csv_, print_, close})
        foot->addWidget(made);
    layout->addLayout(foot);
    resize(1000, 560);
    connect(weeks_, &QComboBox::currentIndexChanged, this, &HolidayDialog::work);
    connect(table_, &DenseTable::opened, this, &HolidayDialog::open);
    connect(&session_, &Session::computed, this, &HolidayDialog::work);
    connect(&session_, &Session::closed, this, &QDialog::reject);
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
    table_->fitColumns(2);
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
