#pragma once
// What went wrong: each incident with its state, what to do next, the clock of an external report, and how it
// went from the first word to the outcome. A faulty piece is evidence: it is kept with its lot label.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"

#include <QString>
#include <QStringList>

#include <optional>
#include <span>
#include <vector>

namespace kitround::desk {

enum class IncidentState : std::uint8_t { ReportLate, ReportNear, ReportAhead, Open, Closed };
struct IncidentRow {
    Incident incident;
    IncidentState state = IncidentState::Open;
    QString patient; // by initials and code: the list may leave the house
    QString who;     // "P. Alder", for the window
    QString device;  // "L-17, 500 mL kit", or the number on the piece
};
QString words(IncidentKind kind);
QString words(IncidentHarm harm);
QString words(IncidentState state);

// Open ones first, those with a report to make by its day; the others newest first.
std::vector<IncidentRow> incidentList(const Agency &agency);
// The lot's rest stands where it may still be given out.
bool maySetLotAside(const Incident &incident, const Agency &agency);
// What is not done yet, a sentence each; a report to make is not among them: without it nothing is closed.
QStringList incidentOpenSteps(const Incident &incident, const Agency &agency);
// What to do next; of a closed one what came of it, and what was never done.
QStringList incidentSteps(const Incident &incident, const Agency &agency);
// The day a form proposes for the external report; nothing where none is asked for.
std::optional<Date> reportProposed(IncidentKind kind, IncidentHarm harm, std::optional<Date> learnedOn);

Table incidentTable(const std::vector<IncidentRow> &rows);
// `changes`: the entries of the incident and of its lot in the record of changes.
Table incidentTimeline(const Incident &incident, const Agency &agency, std::span<const AuditEntry> changes);

} // namespace kitround::desk
