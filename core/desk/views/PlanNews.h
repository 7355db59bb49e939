#pragma once
// What changed in a nurse's round since she last heard of it: since the week was first published, or since
// somebody told her, to the minute: who drives by a sheet that is older is late or early at every door. From
// today to the end of the last week that is published. Drafts are not told: they are in force once they are
// published. Pure.
#include "core/desk/Desk.h"
#include "core/desk/words/Words.h"

#include <QStringList>

#include <optional>
#include <vector>

namespace kitround::desk {

struct RoundNews {
    LocalTime since;                 // when she heard last
    QStringList changes;             // a sentence each, by time: "09:30 P. Alder, routine visit, is new."
    std::vector<PatientId> patients; // whose visits these are; who is to be phoned: desk/views/PatientCalls
    PlanTold toTell;                 // to be stored once she was told; who told her is left open
};
// By day, then nurse. Empty where every nurse knows her round.
std::vector<RoundNews> roundNews(const Agency &agency);
// `named`: how the sentences name the patients.
std::optional<RoundNews> roundNewsOf(const Agency &agency, NurseId nurse, Date on,
                                     PatientNamed named = PatientNamed::InFull);

// What a nurse was told, as it was written down, for who looks over what was done.
struct RecordedTelling {
    PlanTold told;
    QString who, at; // "10:05" of today, else with the day
    QString day;     // of the round
    QString about;   // the round as she heard it, "09:30 P. Alder; 11:00 B. Rowan"
    QString putBack; // "put back 10:20 (Kim): wrong row"; empty where it counts
};
// Of rounds of today and later, the newest first, also those that were put back.
std::vector<RecordedTelling> recordedTellings(const Agency &agency);
// "10:05" of today, else with the day.
QString recordedAt(const Agency &agency, LocalTime at);
// "put back 10:20 (Kim): wrong row"; empty where what was told counts.
QString putBackText(const Agency &agency, const PlanTold &told);
QString putBackText(const Agency &agency, const PatientTold &told);

// The days of which changes are told: to the end of the last published week, at least of tomorrow's.
DateRange daysTold(const Agency &agency);
// The day's week has a draft in hand: what that left out is not decided yet.
bool isBeingPlanned(const Agency &agency, Date on);
// Of homes: a start that moves by no more than half an hour is as agreed (rounds::kStillMinutes).
bool isAsAgreed(Minutes told, Minutes now);
// Two nurses may change which of them is named first.
bool sameNurses(const VisitPlace &one, const VisitPlace &other);
// The same nurses on the same day, the start as agreed; or no visit before and after.
bool isAsAgreed(const VisitPlace &told, const VisitPlace &now);
bool isSamePlace(const VisitPlace &one, const VisitPlace &other); // the very start, too

} // namespace kitround::desk
