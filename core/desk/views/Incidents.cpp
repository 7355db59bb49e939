#include "core/desk/views/Incidents.h"

#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/safety/IncidentReports.h"

#include <QJsonDocument>
#include <QJsonObject>

#include <algorithm>
#include <tuple>

namespace kitround::desk {
namespace {

bool isReportOpen(const Incident &incident) {
    return incident.reportDueOn && !incident.reportedOn && !incident.closedOn;
}

IncidentState incidentState(const Incident &incident, Date today) {
    if (incident.closedOn)
        return IncidentState::Closed;
    if (!isReportOpen(incident))
        return IncidentState::Open;
    if (*incident.reportDueOn < today)
        return IncidentState::ReportLate;
    return safety::isReportNear(*incident.reportDueOn, today) ? IncidentState::ReportNear
                                                              : IncidentState::ReportAhead;
}

// The number first: it is what a cut cell still has to show.
QString deviceText(const Incident &incident, const SnapshotIndex &index) {
    QStringList named;
    if (const Lot *lot = incident.lot ? index.lot(*incident.lot) : nullptr)
        named << Text::tr("%1, %2").arg(fromStd(lot->number), itemName(index, lot->item));
    if (!incident.device.empty())
        named << fromStd(incident.device);
    return named.join(QStringLiteral("; "));
}

bool isAboutAPiece(const Incident &incident) {
    return incident.kind == IncidentKind::Device || incident.lot || !incident.device.empty();
}

bool isLotGivenOut(const Incident &incident, const Agency &agency) {
    const Lot *lot = incident.lot ? agency.index().lot(*incident.lot) : nullptr;
    return lot && lot->state == LotState::Usable;
}

struct OpenStep {
    QString text;
    bool mayHarm = false; // it can't wait until somebody looks at the list of incidents
};

void addPieceSteps(std::vector<OpenStep> &steps, const Incident &incident, const Agency &agency) {
    if (incident.keptPlace.empty())
        steps.push_back({Text::tr("Keep the faulty bottle or piece with its lot label, do not throw it away, "
                                  "and write down where it is kept.")});
    if (isLotGivenOut(incident, agency))
        steps.push_back({Text::tr("Set the rest of lot %1 aside in quarantine.")
                             .arg(fromStd(agency.index().lot(*incident.lot)->number)),
                         true});
    else if (!incident.lot && incident.device.empty())
        steps.push_back({Text::tr("Neither a lot nor a number is written down: read it off the label.")});
    if (!incident.supplierToldOn)
        steps.push_back({Text::tr("Tell the supplier."), true});
}

std::vector<OpenStep> openSteps(const Incident &incident, const Agency &agency) {
    std::vector<OpenStep> steps;
    if (isAboutAPiece(incident))
        addPieceSteps(steps, incident, agency);
    if (incident.kind == IncidentKind::Privacy && incident.told.empty())
        steps.push_back({Text::tr("Tell the privacy officer today; whom else to tell is decided there. Write "
                                  "down who was told."),
                         true});
    if (incident.patient && !incident.prescriberToldOn)
        steps.push_back({Text::tr("Tell the prescriber."), true});
    if (!incident.reportDueOn && !incident.reportedOn && safety::asksForReport(incident))
        steps.push_back(
            {Text::tr("Serious harm with a device: decide whether an external report is made. It would "
                      "be due by %1, %2 work days after the agency learned of it (federal rule; local "
                      "policy comes first).")
                 .arg(dayText(safety::reportDue(incident.learnedOn), agency.today()))
                 .arg(safety::kReportWorkDays),
             true});
    return steps;
}

QString reportStep(const Incident &incident, Date today) {
    return (*incident.reportDueOn < today
                ? Text::tr("The external report was due by %1 and is not made; it is with %2.")
                : Text::tr("The external report is due by %1; it is with %2."))
        .arg(dayText(*incident.reportDueOn, today), fromStd(incident.owner));
}

QJsonObject readEntry(const std::string &json) {
    return QJsonDocument::fromJson(QByteArray::fromStdString(json)).object();
}

// The fields that an entry of the record of changes altered, as a form calls them.
QStringList alteredFields(const AuditEntry &entry) {
    const QJsonObject before = readEntry(entry.before), after = readEntry(entry.after);
    QStringList fields;
    for (auto it = after.begin(); it != after.end(); ++it)
        if (it.key() != QLatin1String("row_version") && before.value(it.key()) != it.value())
            fields << fieldName(it.key().toStdString());
    return fields;
}

QString changeText(const AuditEntry &entry) {
    if (entry.action == AuditAction::Insert)
        return Text::tr("Written down");
    const auto isClosed = [](const std::string &json) {
        const QJsonValue day = readEntry(json).value(QLatin1String("closed_on"));
        return !day.isNull() && !day.isUndefined();
    };
    if (isClosed(entry.before) && !isClosed(entry.after))
        return Text::tr("Opened again");
    const QStringList fields = alteredFields(entry);
    return fields.isEmpty() ? Text::tr("Looked at")
                            : Text::tr("Changed: %1").arg(fields.join(QStringLiteral(", ")));
}

} // namespace

QString words(IncidentKind kind) {
    switch (kind) {
    case IncidentKind::Device:
        return Text::tr("device or supplies");
    case IncidentKind::Infection:
        return Text::tr("infection");
    case IncidentKind::Injury:
        return Text::tr("injury or fall");
    case IncidentKind::Exposure:
        return Text::tr("exposure of staff");
    case IncidentKind::Privacy:
        return Text::tr("patient data lost or seen");
    case IncidentKind::Other:
        return Text::tr("other");
    }
    return {};
}

QString words(IncidentHarm harm) {
    switch (harm) {
    case IncidentHarm::NotKnown:
        return Text::tr("not known yet");
    case IncidentHarm::None:
        return Text::tr("none");
    case IncidentHarm::Slight:
        return Text::tr("slight");
    case IncidentHarm::Serious:
        return Text::tr("serious");
    case IncidentHarm::Death:
        return Text::tr("death");
    }
    return {};
}

QString words(IncidentState state) {
    switch (state) {
    case IncidentState::ReportLate:
        return Text::tr("report late");
    case IncidentState::ReportNear:
        return Text::tr("report due soon");
    case IncidentState::ReportAhead:
        return Text::tr("report to make");
    case IncidentState::Open:
        return Text::tr("open");
    case IncidentState::Closed:
        return Text::tr("closed");
    }
    return {};
}

std::vector<IncidentRow> incidentList(const Agency &agency) {
    std::vector<IncidentRow> rows;
    for (const Incident &incident : agency.snapshot().incidents) {
        const Patient *patient = incident.patient ? agency.index().patient(*incident.patient) : nullptr;
        rows.push_back({incident, incidentState(incident, agency.today()),
                        patient ? patientMark(*patient) : QString(),
                        patient ? parts::shortName(agency, patient->id) : QString(),
                        deviceText(incident, agency.index())});
    }
    const auto place = [](const IncidentRow &row) {
        const Incident &i = row.incident;
        const std::int64_t due = isReportOpen(i) ? i.reportDueOn->dayNumber() : 1 << 24;
        return std::tuple(i.closedOn.has_value(), due, -i.at.date.dayNumber(), -i.at.minute.count());
    };
    std::ranges::stable_sort(rows, {}, place);
    return rows;
}

bool maySetLotAside(const Incident &incident, const Agency &agency) {
    return !incident.closedOn && isLotGivenOut(incident, agency);
}

QStringList incidentOpenSteps(const Incident &incident, const Agency &agency) {
    QStringList steps;
    for (const OpenStep &step : openSteps(incident, agency))
        steps << step.text;
    return steps;
}

QStringList incidentSteps(const Incident &incident, const Agency &agency) {
    const Date today = agency.today();
    const QStringList open = incidentOpenSteps(incident, agency);
    QStringList steps;
    if (incident.closedOn) {
        steps << Text::tr("Closed on %1: %2")
                     .arg(dayText(*incident.closedOn, today), fromStd(incident.outcome));
        for (const QString &step : open)
            steps << Text::tr("Not done when it was closed: %1").arg(step);
        return steps;
    }
    if (isAboutAPiece(incident) && !incident.keptPlace.empty())
        steps << Text::tr("The piece is kept with its lot label: %1. It stays there until whoever examines "
                          "it has it.")
                     .arg(fromStd(incident.keptPlace));
    steps << open;
    if (isReportOpen(incident))
        steps << reportStep(incident, today);
    if (steps.isEmpty())
        steps << Text::tr("Nothing is left to do but to close it with what came of it.");
    return steps;
}

std::optional<Date> reportProposed(IncidentKind kind, IncidentHarm harm, std::optional<Date> learnedOn) {
    Incident incident;
    incident.kind = kind;
    incident.harm = harm;
    return learnedOn && safety::asksForReport(incident) ? std::optional(safety::reportDue(*learnedOn))
                                                        : std::nullopt;
}

Table incidentTable(const std::vector<IncidentRow> &rows) {
    Table table;
    table.title = Text::tr("Incidents").toStdString();
    table.key = "incidents";
    table.columns = {textColumn(Text::tr("State"), "state"),
                     textColumn(Text::tr("Happened"), "happened_at"),
                     textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("What"), "kind"),
                     textColumn(Text::tr("Harm"), "harm"),
                     textColumn(Text::tr("Lot or device"), "device"),
                     textColumn(Text::tr("Report due"), "report_due_on"),
                     textColumn(Text::tr("By whom"), "owner"),
                     textColumn(Text::tr("Reported"), "reported_on"),
                     textColumn(Text::tr("What happened"), "facts"),
                     inCopies(textColumn(Text::tr("Learned of"), "learned_on")),
                     inCopies(textColumn(Text::tr("Kept"), "kept_place")),
                     inCopies(textColumn(Text::tr("Prescriber told"), "prescriber_told_on")),
                     inCopies(textColumn(Text::tr("Supplier told"), "supplier_told_on")),
                     inCopies(textColumn(Text::tr("Who was told"), "told")),
                     inCopies(textColumn(Text::tr("Closed"), "closed_on")),
                     inCopies(textColumn(Text::tr("Outcome"), "outcome"))};
    for (const IncidentRow &row : rows) {
        const Incident &i = row.incident;
        table.rows.push_back({cell(words(row.state)), toIso(i.at), cell(row.patient), cell(words(i.kind)),
                              cell(words(i.harm)), cell(row.device), cell(i.reportDueOn), i.owner,
                              cell(i.reportedOn), i.facts, cell(i.learnedOn), i.keptPlace,
                              cell(i.prescriberToldOn), cell(i.supplierToldOn), i.told, cell(i.closedOn),
                              i.outcome});
    }
    return table;
}

namespace {

// Of one day: it happened first and was closed last; what is known by the day alone can't be told apart from
// the changes by its hour.
enum class DayPlace : std::uint8_t { Happened, Learned, Changed, Done, Closed };
struct IncidentEvent {
    LocalTime at;
    DayPlace place = DayPlace::Done;
    std::string when, who;
    QString what;
};

void addLotChange(std::vector<IncidentEvent> &events, const Incident &incident, const AuditEntry &entry,
                  const Agency &agency) {
    const QLatin1String state("state");
    const QString before = readEntry(entry.before).value(state).toString();
    const LocalTime at = localTimeOf(agency, entry.at);
    if (entry.action == AuditAction::Insert || before == readEntry(entry.after).value(state).toString() ||
        at.date < incident.at.date || !incident.lot)
        return;
    const Lot *lot = agency.index().lot(*incident.lot);
    if (lot && before == QLatin1String("usable"))
        events.push_back({at, DayPlace::Changed, toIso(at), userOf(agency.index(), entry.user),
                          Text::tr("Lot %1 set aside").arg(fromStd(lot->number))});
}

std::vector<IncidentEvent> incidentEvents(const Incident &incident, const Agency &agency,
                                          std::span<const AuditEntry> changes) {
    std::vector<IncidentEvent> events{
        {incident.at, DayPlace::Happened, toIso(incident.at), {}, Text::tr("It happened")}};
    const auto onDay = [&](const std::optional<Date> &day, const QString &what,
                           DayPlace place = DayPlace::Done) {
        if (day)
            events.push_back({{*day, {}}, place, cell(*day), {}, what});
    };
    onDay(incident.learnedOn, Text::tr("The agency learned of it"), DayPlace::Learned);
    onDay(incident.prescriberToldOn, Text::tr("Prescriber told"));
    onDay(incident.supplierToldOn, Text::tr("Supplier told"));
    onDay(incident.reportedOn, Text::tr("Reported outside the agency"));
    onDay(incident.closedOn, Text::tr("Closed"), DayPlace::Closed);
    for (const AuditEntry &entry : changes) {
        if (entry.table == "lot") {
            addLotChange(events, incident, entry, agency);
            continue;
        }
        const LocalTime at = localTimeOf(agency, entry.at);
        events.push_back(
            {at, DayPlace::Changed, toIso(at), userOf(agency.index(), entry.user), changeText(entry)});
    }
    std::ranges::stable_sort(
        events, {}, [](const IncidentEvent &e) { return std::tuple(e.at.date, e.place, e.at.minute); });
    return events;
}

} // namespace

Table incidentTimeline(const Incident &incident, const Agency &agency, std::span<const AuditEntry> changes) {
    Table table;
    table.title = Text::tr("What was done").toStdString();
    table.key = "incident_timeline";
    table.columns = {textColumn(Text::tr("When"), "when"), textColumn(Text::tr("Who"), "who"),
                     textColumn(Text::tr("What"), "what")};
    for (const IncidentEvent &event : incidentEvents(incident, agency, changes))
        table.rows.push_back({event.when, event.who, cell(event.what)});
    return table;
}

void parts::addIncidents(Items &items, const Agency &agency) {
    for (const Incident &incident : agency.snapshot().incidents) {
        const bool isReportDue =
            isReportOpen(incident) && safety::isReportNear(*incident.reportDueOn, agency.today());
        const bool waits =
            !incident.closedOn && std::ranges::any_of(openSteps(incident, agency), &OpenStep::mayHarm);
        if (!isReportDue && !waits)
            continue;
        AttentionItem item;
        item.kind = AttentionKind::IncidentReport;
        item.harm = Harm::Today;
        item.forRole = UserRole::NurseManager;
        item.patient = incident.patient;
        item.incident = incident.id;
        item.owner = userNamed(agency, incident.owner);
        if (isReportOpen(incident))
            item.dueOn = incident.reportDueOn;
        QString what = words(incident.kind);
        if (incident.patient)
            what = QStringLiteral("%1, %2").arg(what, shortName(agency, *incident.patient));
        item.title = (isReportDue ? Text::tr("External report of an incident: %1")
                                  : Text::tr("Open incident with steps that can't wait: %1"))
                         .arg(what);
        item.detail = Text::tr("%1: %2 %3 Its file is under Load review, Incidents.")
                          .arg(momentText(incident.at), fromStd(incident.facts),
                               incidentSteps(incident, agency).join(u' '));
        items.push_back(std::move(item));
    }
}

} // namespace kitround::desk
