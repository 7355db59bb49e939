#include "ui/load/IncidentsTab.h"

#include "core/desk/paper/IncidentPaper.h"
#include "core/desk/words/Words.h"
#include "ui/load/IncidentForms.h"
#include "ui/load/ListParts.h"
#include "ui/load/PlainTable.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Moment.h"
#include "ui/shared/Printing.h"

#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::IncidentRow;
using desk::IncidentState;

constexpr std::int64_t kMostChanges = 200; // of one incident, newest first
constexpr qsizetype kFactsInReason = 120;

std::optional<Role> inkOfState(const IncidentRow &row) {
    switch (row.state) {
    case IncidentState::ReportLate:
        return Role::Act;
    case IncidentState::ReportNear:
        return Role::Watch;
    default:
        return std::nullopt;
    }
}

std::vector<RowsColumn<IncidentRow>> incidentColumns() {
    const auto day = [](std::optional<Date> Incident::*which) {
        return [which](const IncidentRow &r) {
            const std::optional<Date> &on = r.incident.*which;
            return on ? desk::dayText(*on) : QString();
        };
    };
    const auto byDay = [](std::optional<Date> Incident::*which) {
        return [which](const IncidentRow &r) {
            const std::optional<Date> &on = r.incident.*which;
            return QVariant(on ? qlonglong(on->dayNumber()) : 1'000'000);
        };
    };
    const auto facts = [](const IncidentRow &r) { return QString::fromStdString(r.incident.facts); };
    return {
        {.head = QObject::tr("State"),
         .text = [](const IncidentRow &r) { return desk::words(r.state); },
         .sortBy = [](const IncidentRow &r) { return QVariant(static_cast<int>(r.state)); },
         .ink = inkOfState},
        {.head = QObject::tr("Happened"),
         .text = [](const IncidentRow &r) { return desk::momentText(r.incident.at); },
         .sortBy =
             [](const IncidentRow &r) { return QVariant(QString::fromStdString(toIso(r.incident.at))); }},
        {.head = QObject::tr("Patient"), .text = [](const IncidentRow &r) { return r.who; }},
        {.head = QObject::tr("What"),
         .text = [](const IncidentRow &r) { return desk::words(r.incident.kind); }},
        {.head = QObject::tr("Harm"),
         .text = [](const IncidentRow &r) { return desk::words(r.incident.harm); },
         .sortBy = [](const IncidentRow &r) { return QVariant(static_cast<int>(r.incident.harm)); }},
        {.head = QObject::tr("Lot or device"), .text = [](const IncidentRow &r) { return r.device; }},
        {.head = QObject::tr("Report due"),
         .text = day(&Incident::reportDueOn),
         .sortBy = byDay(&Incident::reportDueOn),
         .ink = inkOfState},
        {.head = QObject::tr("By whom"),
         .text = [](const IncidentRow &r) { return QString::fromStdString(r.incident.owner); }},
        {.head = QObject::tr("Reported"),
         .text = day(&Incident::reportedOn),
         .sortBy = byDay(&Incident::reportedOn)},
        {.head = QObject::tr("What happened"),
         .text = [facts](const IncidentRow &r) { return facts(r).simplified(); },
         .tip = facts},
    };
}

} // namespace

IncidentsTab::IncidentsTab(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), rows_(incidentColumns()) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    table_ = new DenseTable(QStringLiteral("incidentTable"), tr("Incidents"), this);
    table_->setModel(new RowsProxy(&rows_, this));
    layout->addWidget(table_, 3);
    nothing_ = addWrapped(*layout, "incidentNothing",
                          tr("No incident is written down. When a bottle fails, a patient is harmed or data "
                             "go astray, press \"Report an incident…\": it asks for the facts, says what to "
                             "keep and whom to tell, and watches the day by which a report has to leave the "
                             "house. It stays here until it is closed with what came of it."),
                          1);
    facts_ = addWrapped(*layout, "incidentFacts");
    steps_ = addWrapped(*layout, "incidentSteps");
    timeline_ = new PlainTable(QStringLiteral("incidentTimeline"), tr("What was done about it"), this);
    layout->addWidget(timeline_, 2);
    auto *row = new QHBoxLayout;
    layout->addLayout(row);
    makeButtons(*row);
    connect(table_, &DenseTable::opened, this, &IncidentsTab::open);
    connect(table_, &DenseTable::currentRowChanged, this, &IncidentsTab::showChosen);
}

void IncidentsTab::makeButtons(QHBoxLayout &row) {
    csv_ = addButton(row, "incidentCsv", tr("Save as CSV…"), this,
                     [this] { saveTable(this, session_, desk::incidentTable(rows_.rows())); });
    print_ = addButton(row, "incidentPrint", tr("Print its file…"), this, &IncidentsTab::print);
    row.addStretch(1);
    report_ = addButton(row, "incidentReport", tr("Report an incident…"), this, &IncidentsTab::report);
    open_ = addButton(row, "incidentOpen", tr("Open…"), this, [this] { open(table_->currentSourceRow()); });
    aside_ = addButton(row, "incidentAside", tr("Set the lot aside…"), this, &IncidentsTab::setLotAside);
    close_ = addButton(row, "incidentClose", tr("Close…"), this, &IncidentsTab::closeOrReopen);
}

int IncidentsTab::show(const desk::AgencyPtr &agency) {
    const IncidentRow *before = current();
    const IncidentId chosen = before ? before->incident.id : IncidentId();
    shown_ = agency;
    rows_.setRows(agency ? desk::incidentList(*agency) : std::vector<IncidentRow>());
    const std::vector<IncidentRow> &rows = rows_.rows();
    nothing_->setVisible(rows.empty());
    for (QWidget *part : std::initializer_list<QWidget *>{table_, facts_, steps_, timeline_})
        part->setVisible(!rows.empty());
    table_->fitColumns(9);
    report_->setEnabled(agency && !session_.isReadOnly());
    csv_->setEnabled(!rows.empty());
    if (saved_ && choose(*saved_))
        saved_.reset();
    else if (!rows.empty() && !choose(chosen))
        table_->selectSourceRow(0);
    showChosen(table_->currentSourceRow());
    return static_cast<int>(
        std::ranges::count_if(rows, [](const IncidentRow &row) { return !row.incident.closedOn; }));
}

void IncidentsTab::clear() {
    saved_.reset();
    show(nullptr);
}

void IncidentsTab::takeFocus() {
    if (rows_.rowCount() > 0)
        table_->setFocus(Qt::OtherFocusReason);
    else
        report_->setFocus(Qt::OtherFocusReason);
}

bool IncidentsTab::isEmpty() const {
    return rows_.rowCount() == 0 && (!shown_ || shown_->snapshot().patients.empty());
}

const IncidentRow *IncidentsTab::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < rows_.rowCount() ? &rows_.row(row) : nullptr;
}

desk::Table IncidentsTab::timelineOf(const Incident &incident) const {
    std::vector<AuditEntry> all;
    const auto add = [&](const std::string &table, std::int64_t record) {
        if (const auto changes = session_.desk().audit(kMostChanges, table, record))
            all.insert(all.end(), changes->begin(), changes->end());
    };
    add("incident", incident.id.value());
    if (incident.lot)
        add("lot", incident.lot->value());
    return desk::incidentTimeline(incident, *shown_, all);
}

void IncidentsTab::showChosen(int row) {
    const bool isChosen = shown_ && row >= 0 && row < rows_.rowCount();
    const bool mayWrite = isChosen && !session_.isReadOnly();
    const Incident *incident = isChosen ? &rows_.row(row).incident : nullptr;
    open_->setEnabled(mayWrite);
    close_->setEnabled(mayWrite);
    close_->setText(incident && incident->closedOn ? tr("Open again…") : tr("Close…"));
    aside_->setEnabled(mayWrite && desk::maySetLotAside(*incident, *shown_));
    print_->setEnabled(isChosen);
    facts_->setText(incident ? QString::fromStdString(incident->facts).trimmed() : QString());
    steps_->setText(incident ? desk::incidentSteps(*incident, *shown_).join(u'\n') : QString());
    if (incident)
        timeline_->setTable(timelineOf(*incident), 2);
}

void IncidentsTab::report() {
    if (!session_.agency() || session_.isReadOnly())
        return;
    Incident blank;
    blank.at = momentNow(session_);
    blank.learnedOn = blank.at.date;
    blank.owner = session_.userName().toStdString();
    edit(blank);
}

void IncidentsTab::open(int row) {
    if (row < 0 || row >= rows_.rowCount() || session_.isReadOnly())
        return;
    const Incident incident = rows_.row(row).incident; // the rows may be filled anew meanwhile
    edit(incident);
}

// The list may be filled anew now or a moment later: the one that was saved is chosen in either case.
void IncidentsTab::edit(const Incident &incident) {
    saved_ = editIncident(this, session_, incident);
    if (!saved_)
        return;
    if (choose(*saved_))
        saved_.reset();
    takeFocus();
}

bool IncidentsTab::choose(IncidentId id) {
    const std::vector<IncidentRow> &rows = rows_.rows();
    const auto found =
        std::ranges::find_if(rows, [id](const IncidentRow &row) { return row.incident.id == id; });
    if (found == rows.end())
        return false;
    table_->selectSourceRow(static_cast<int>(found - rows.begin()));
    return true;
}

void IncidentsTab::setLotAside() {
    const IncidentRow *row = current();
    if (!row || !desk::maySetLotAside(row->incident, *shown_))
        return;
    const Incident incident = row->incident;
    const QString number = QString::fromStdString(shown_->index().lot(*incident.lot)->number);
    if (!Ask::confirm(this, tr("Set the lot aside"),
                      tr("What the storeroom and cars hold of lot %1 goes to quarantine; packed parcels with "
                         "it are opened and promised again. Homes are not touched: call them from the list "
                         "of where the lot went, under Stock forecast.")
                          .arg(number),
                      tr("Set it aside"), tr("Leave it")))
        return;
    const QString why = tr("Incident of %1: %2")
                            .arg(desk::momentText(incident.at),
                                 QString::fromStdString(incident.facts).simplified().left(kFactsInReason));
    session_.writeOrTell(this, tr("Set lot %1 aside").arg(number), [&](desk::Desk &d) {
        return d.setLotState(*incident.lot, LotState::Quarantined, why.toStdString());
    });
}

void IncidentsTab::closeOrReopen() {
    const IncidentRow *row = current();
    if (!row)
        return;
    Incident incident = row->incident;
    if (!incident.closedOn) {
        closeIncident(this, session_, incident);
        return;
    }
    if (!Ask::confirm(this, tr("Open again"),
                      tr("The incident is open again, with all that is written down about it."),
                      tr("Open it again"), tr("Leave it closed")))
        return;
    incident.closedOn.reset();
    session_.writeOrTell(this, tr("Opened an incident again"),
                         [&](desk::Desk &d) { return d.save(incident); });
}

void IncidentsTab::print() {
    if (const IncidentRow *row = current())
        offerPaper(this, session_, desk::incidentPaper(*row, *shown_, timelineOf(row->incident)));
}

} // namespace kitround::ui
