#include "ui/load/ContinuityTab.h"

#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"

#include <QLabel>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

std::vector<RowsColumn<ContinuityRow>> continuityColumns() {
    return {
        {.head = QObject::tr("Patient"), .text = [](const ContinuityRow &r) { return r.name; }},
        {.head = QObject::tr("Main nurse"), .text = [](const ContinuityRow &r) { return r.primary; }},
        {.head = QObject::tr("Visits"),
         .text = [](const ContinuityRow &r) { return QString::number(r.continuity.visits); },
         .sortBy = [](const ContinuityRow &r) { return QVariant(r.continuity.visits); },
         .isNumber = true},
        {.head = QObject::tr("Different nurses"),
         .text = [](const ContinuityRow &r) { return QString::number(r.continuity.nurses); },
         .sortBy = [](const ContinuityRow &r) { return QVariant(r.continuity.nurses); },
         .isNumber = true},
        {.head = QObject::tr("By the main nurse"),
         .text =
             [](const ContinuityRow &r) {
                 const QString share =
                     QObject::tr("%1 %").arg(static_cast<int>(r.continuity.mainShare * 100 + 0.5));
                 return r.continuity.isMainNamed ? share : QObject::tr("%1, seen most").arg(share);
             },
         .sortBy = [](const ContinuityRow &r) { return QVariant(r.continuity.mainShare); },
         .isNumber = true},
        {.head = QObject::tr("Seen by, visits"),
         .text = [](const ContinuityRow &r) { return r.seenBy; },
         .tip = [](const ContinuityRow &r) { return r.seenBy; }},
    };
}

} // namespace

ContinuityTab::ContinuityTab(QWidget *parent) : QWidget(parent), rows_(continuityColumns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    days_ = new QLabel(this);
    days_->setObjectName(QStringLiteral("continuityDays"));
    days_->setWordWrap(true);
    layout->addWidget(days_);
    nothing_ = new QLabel(tr("No visit is done or planned yet that says who sees whom. Plan a week in the "
                             "caseload calendar first."),
                          this);
    nothing_->setObjectName(QStringLiteral("continuityNothing"));
    nothing_->setWordWrap(true);
    layout->addWidget(nothing_);
    table_ = new DenseTable(QStringLiteral("continuityTable"), tr("Continuity by patient"), this);
    table_->setModel(new RowsProxy(&rows_, this));
    layout->addWidget(table_, 1);
    connect(table_, &DenseTable::opened, this,
            [this](int row) { Q_EMIT opened(rows_.row(row).continuity.patient.value()); });
}

void ContinuityTab::show(const desk::Agency &agency, const caseload::LoadReview &review) {
    const SnapshotIndex &index = agency.index();
    std::vector<ContinuityRow> rows;
    for (const caseload::Continuity &c : review.continuity) {
        const Patient *patient = index.patient(c.patient);
        const Nurse *primary =
            patient && patient->primaryNurse ? index.nurse(*patient->primaryNurse) : nullptr;
        rows.push_back({c, patient ? desk::personName(*patient, index) : QString(),
                        primary ? desk::personName(*primary) : tr("none"), desk::seenByText(c, index)});
    }
    days_->setText(desk::continuityDaysText(review, agency.today()) + u' ' + desk::mainNurseText());
    nothing_->setVisible(rows.empty());
    rows_.setRows(std::move(rows));
    table_->fitColumns(5);
}

} // namespace kitround::ui
