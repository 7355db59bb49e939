#include "ui/load/WorkTab.h"

#include "core/desk/paper/Papers.h"
#include "ui/load/ListParts.h"
#include "ui/load/PlainTable.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/Look.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QVBoxLayout>

namespace kitround::ui {

WorkTab::WorkTab(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *row = new QHBoxLayout;
    const auto choice = [&](const char *name, const QString &says) {
        auto *box = new QComboBox(this);
        box->setObjectName(QString::fromLatin1(name));
        box->setAccessibleName(says);
        row->addWidget(box);
        return box;
    };
    weeks_ = choice("workWeeks", tr("Weeks gone by"));
    for (const int weeks : {4, 8, 13})
        weeks_->addItem(tr("Last %1 whole weeks").arg(weeks), weeks);
    which_ = choice("workWhich", tr("Which table"));
    which_->addItems({tr("Cost by nurse"), tr("Cost by area"), tr("Work by nurse"), tr("Work by area"),
                      tr("By kind of visit"), tr("Supplies a patient-day")});
    row->addStretch(1);
    addButton(*row, "workCsv", tr("Save as CSV…"), this, &WorkTab::saveCsv);
    addButton(*row, "workPrint", tr("Print or PDF…"), this, &WorkTab::print);
    layout->addLayout(row);
    table_ = new PlainTable(QStringLiteral("workTable"), tr("Productivity and cost"), this);
    layout->addWidget(table_, 1);
    connect(weeks_, &QComboBox::currentIndexChanged, this, &WorkTab::show);
    connect(which_, &QComboBox::currentIndexChanged, this, [this](int at) {
        if (static_cast<std::size_t>(at) < tables_.size())
            table_->setTable(tables_[static_cast<std::size_t>(at)], 0,
                             tr("No visit was made in these weeks."));
    });
}

void WorkTab::show() {
    if (!session_.agency())
        return;
    const int generation = ++generation_;
    BackgroundJob::start(
        this,
        [agency = session_.agency(), weeks = weeks_->currentData().toInt()](std::stop_token,
                                                                            const ProgressSink &) {
            return desk::workTables(
                caseload::productivity(agency->index(), desk::wholeWeeksBack(*agency, weeks)), *agency);
        },
        [this, generation](const std::vector<desk::Table> &tables) {
            if (generation != generation_)
                return;
            tables_ = tables;
            table_->setTable(tables_[static_cast<std::size_t>(which_->currentIndex())], 0,
                             tr("No visit was made in these weeks."));
        });
}

void WorkTab::saveCsv() {
    const auto at = static_cast<std::size_t>(which_->currentIndex());
    if (at < tables_.size())
        saveTable(this, session_, tables_[at]);
}

void WorkTab::print() {
    if (!tables_.empty())
        offerPaper(this, session_, desk::workPaper(*session_.agency(), tables_));
}

} // namespace kitround::ui
