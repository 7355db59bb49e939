#pragma once
// Homes to be phoned because a published plan changed under them: from what each of them was told last (first
// the first published version of its week, this one or a later one, then every call that reached somebody) to
// where its visits stand now.
// Of the same days and with the same tolerance as desk/views/PlanNews. Left out: who left service, phone
// visits (that call tells by itself), what is over, a visit taken out of days on which the home is away, and
// visits of one kind that only changed places among themselves. Pure.
#include "core/desk/Table.h"
#include "core/desk/views/PlanNews.h"

#include <cstdint>

namespace kitround::desk {

struct PatientCall {
    PatientId patient;
    LocalTime first; // the earliest moment it is about, from today on
    QString who, phone;
    QString was, now;    // "Fri 27 Nov 09:30, Marsh, Owen" and "Fri 27 Nov 11:00"; or that there is no visit
    QString nurse;       // who comes now
    QStringList changes; // a sentence each, for the call
    QString tried;       // "tried 09:40, nobody answered (Kim)"; empty where nobody has tried
    PatientTold toTell;  // to be stored with who was reached
};
// The most urgent first. Empty where every home knows its visits.
std::vector<PatientCall> patientCalls(const Agency &agency);
QString phoneText(const PatientCall &call); // or that none is on record

// A call that was made, beside the plan by now: something in it is news to the home, the home had heard all
// of it, or a visit stands elsewhere than was said. The clock does not matter: what began meanwhile was told.
enum class CallFit : std::uint8_t { News, Known, MovedOn };
CallFit callFit(const Agency &agency, const PatientTold &told);
Table patientCallTable(const std::vector<PatientCall> &calls, const Agency &agency); // by code and initials

} // namespace kitround::desk
