#pragma once
// Homes to be phoned because a published plan changed under them: from what each of them was told last
// (desk/views/HomesTold) to where its visits stand now.
// Of the same days as desk/views/PlanNews; a start half an hour off is as agreed. Only a person who was
// reached counts as told: a message that was left is a try. A visit of today whose hour has come stays until
// a person was reached or it is recorded as made or missed, at the longest for the day. Left out: who left
// service, phone visits (that call tells by itself), what is recorded or of a day that is over, a visit taken
// out of days on which the home is away, and visits of one kind that only changed places among themselves.
// Pure.
#include "core/desk/Table.h"
#include "core/desk/views/PlanNews.h"

#include <cstddef>
#include <cstdint>

namespace kitround::desk {

struct VisitChange {
    QString was, now; // "Fri 27 Nov 09:30, Marsh, Owen" and "Fri 27 Nov 11:00"; or that there is no visit;
                      // of one whose hour has come that the nurse may be there already
    QString nurse;    // who comes now
    QString sentence; // all of it, for the call
    QString kind;     // of visit
};
struct PatientCall {
    PatientId patient;
    LocalTime first; // the earliest still to come today; else the earliest from today on
    QString who, phone;
    std::vector<VisitChange> changes; // the first first; never empty
    QString tried;                    // "tried 09:40, nobody answered (Kim)"; empty where nobody has tried
    PatientTold toTell;               // to be stored with who was reached
};
// The most urgent first. Empty where every home knows its visits.
std::vector<PatientCall> patientCalls(const Agency &agency);
QString toPhoneText(std::size_t homes);       // "3 patients to phone about changed visits"
QString phoneText(const PatientCall &call);   // or that none is on record
QString sentencesOf(const PatientCall &call); // a line a change

// A row a change, so that several of one home are read apart; the home is named in its first row only.
struct PatientCallLine {
    PatientCall call;
    VisitChange change;
    bool isFirst = true;
};
std::vector<PatientCallLine> callLines(const std::vector<PatientCall> &calls);

// A call that was written down, for who looks over what was done.
struct RecordedCall {
    PatientTold told;
    QString who, at;   // "10:05" of today, else with the day
    QString reached;   // "the patient"
    QString by, about; // about: the places told, "Fri 27 Nov 11:00, Marsh, Owen; no visit"
    QString putBack;   // "put back 10:20 (Kim): wrong row"; empty where it counts
};
// Of today and yesterday, the newest first, also those that were put back.
std::vector<RecordedCall> recordedCalls(const Agency &agency);

// A call that was made, beside the plan by now: something in it is news to the home, the home had heard all
// of it, or a visit stands elsewhere than was said. The clock does not matter: what began meanwhile was told.
enum class CallFit : std::uint8_t { News, Known, MovedOn };
CallFit callFit(const Agency &agency, const PatientTold &told);
Table patientCallTable(const std::vector<PatientCall> &calls, const Agency &agency); // codes; a row a change

} // namespace kitround::desk
