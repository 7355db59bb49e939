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

QString deviceText(const Incident &incident, const SnapshotIndex &index) {
    QStringList named;
    if (const Lot *lot = incident.lot ? index.lot(*incident.lot) : nullptr)
        named << Text::tr("%1, lot %2").arg(itemName(index, lot->item), fromStd(lot->number));
    if (!incident.device.empty())
        named << fromStd(incident.device);
    return named.join(QStringLiteral("; "));
}

bool isAboutAPiece(const Incident &incident) {
    return incident.kind == IncidentKind::Device || incident.lot || !incident.device.empty();
}

void addPieceSteps(QStringList &steps, const Incident &incident, const Agency &agency) {
    if (incident.keptPlace.empty())
        steps << Text::tr("Keep the faulty bottle or piece with its lot label, do not throw it away, and "
                          "write down where it is kept.");
    else
        steps << Text::tr("The piece is kept with its lot label: %1. It stays there until whoever examines "
                          "it has it.")
                     .arg(fromStd(incident.keptPlace));
    if (maySetLotAside(incident, agency))
        steps << Text::tr("Set the rest of lot %1 aside in quarantine.")
                     .arg(fromStd(agency.index().lot(*incident.lot)->number));
    else if (!incident.lot && incident.device.empty())
        steps << Text::tr("Neither a lot nor a number is written down: read it off the label.");
    if (!incident.supplierToldOn)
        steps << Text::tr("Tell the supplier.");
}

void addReportStep(QStringList &steps, const Incident &incident, Date today) {
    if (isReportOpen(incident)) {
        const QString day = dayText(*incident.reportDueOn, today);
        steps << (*incident.reportDueOn < today
                      ? Text::tr("The external report was due by %1 and is not made; it is with %2.")
                      : Text::tr("The external report is due by %1; it is with %2."))
                     .arg(day, fromStd(incident.owner));
    } else if (!incident.reportDueOn && !incident.reportedOn && safety::asksForReport(incident)) {
        steps << Text::tr("Serious harm with a device: decide whether an external report is made. It would "
                          "be due by %1, %2 work days after the agency learned of it (federal rule; local "
                          "policy comes first).")
                     .arg(dayText(safety::reportDue(incident.learnedOn), today))
                     .arg(safety::kReportWorkDays);
    }
}

// The fields that an entry of the record of changes altered, as a form calls them.
QStringList alteredFields(const AuditEntry &entry) {
    const auto read = [](const std::string &json) {
        return QJsonDocument::fromJson(QByteArray::fromStdString(json)).object();
    };
    const QJsonObject before = read(entry.before), after = read(entry.after);
    QStringList fields;
    for (auto it = after.begin(); it != after.end(); ++it)
        if (it.key() != QLatin1String("row_version") && before.value(it.key()) != it.value())
            fields << fieldName(it.key().toStdString());
    return fields;
}

QString changeText(const AuditEntry &entry) {
    if (entry.action == AuditAction::Insert)
        return Text::tr("Written down");
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
                        patient ? patientMark(*patient) : QString(), deviceText(incident, agency.index())});
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
    const Lot *lot = incident.lot && !incident.closedOn ? agency.index().lot(*incident.lot) : nullptr;
    return lot && lot->state == LotState::Usable;
}

QStringList incidentSteps(const Incident &incident, const Agency &agency) {
    const Date today = agency.today();
    if (incident.closedOn)
        return {
            Text::tr("Closed on %1: %2").arg(dayText(*incident.closedOn, today), fromStd(incident.outcome))};
    QStringList steps;
    if (isAboutAPiece(incident))
        addPieceSteps(steps, incident, agency);
    if (incident.kind == IncidentKind::Privacy)
        steps << Text::tr("Tell the privacy officer today; whom else to tell is decided there.");
    if (incident.patient && !incident.prescriberToldOn)
        steps << Text::tr("Tell the prescriber.");
    addReportStep(steps, incident, today);
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

Table incidentTimeline(const Incident &incident, const Agency &agency, std::span<const AuditEntry> changes) {
    struct Event {
        LocalTime at;
        std::string when, who;
        QString what;
    };
    std::vector<Event> events{{incident.at, toIso(incident.at), {}, Text::tr("It happened")}};
    const auto onDay = [&](const std::optional<Date> &day, const QString &what) {
        if (day)
            events.push_back({{*day, {}}, cell(*day), {}, what});
    };
    onDay(incident.learnedOn, Text::tr("The agency learned of it"));
    onDay(incident.prescriberToldOn, Text::tr("Prescriber told"));
    onDay(incident.supplierToldOn, Text::tr("Supplier told"));
    onDay(incident.reportedOn, Text::tr("Reported outside the agency"));
    onDay(incident.closedOn, Text::tr("Closed"));
    for (const AuditEntry &entry : changes) {
        const LocalTime at = localTimeOf(agency, entry.at);
        events.push_back({at, toIso(at), userOf(agency.index(), entry.user), changeText(entry)});
    }
    std::ranges::stable_sort(events, {}, &Event::at);
    Table table;
    table.title = Text::tr("What was done").toStdString();
    table.key = "incident_timeline";
    table.columns = {textColumn(Text::tr("When"), "when"), textColumn(Text::tr("Who"), "who"),
                     textColumn(Text::tr("What"), "what")};
    for (const Event &event : events)
        table.rows.push_back({event.when, event.who, cell(event.what)});
    return table;
}

void parts::addIncidents(Items &items, const Agency &agency) {
    for (const Incident &incident : agency.snapshot().incidents) {
        const Date today = agency.today();
        if (!isReportOpen(incident) || !safety::isReportNear(*incident.reportDueOn, today))
            continue;
        AttentionItem item;
        item.kind = AttentionKind::IncidentReport;
        item.harm = Harm::Today;
        item.forRole = UserRole::NurseManager;
        item.patient = incident.patient;
        item.dueOn = incident.reportDueOn;
        const QString what = words(incident.kind);
        item.title = Text::tr("External report of an incident: %1")
                         .arg(incident.patient
                                  ? QStringLiteral("%1, %2").arg(what, shortName(agency, *incident.patient))
                                  : what);
        item.detail = Text::tr("%1: %2 %3 Its file is under Load review, Incidents.")
                          .arg(momentText(incident.at), fromStd(incident.facts),
                               incidentSteps(incident, agency).join(u' '));
        items.push_back(std::move(item));
    }
}

} // namespace kitround::desk
