#pragma once
// One patient's record as a page: who, catheters with orders in force and history, log, stock, visits, calls.
#include "core/desk/Desk.h"

#include <QString>

namespace kitround::desk {

struct PatientRow { // for the list
    PatientId patient;
    QString code, name, status, primaryNurse, catheters, note; // note: "on hold since ...", "no order"
    bool isOnHold = false;
};
std::vector<PatientRow> patientRows(const Agency &agency);

// Somebody on record whom this may be once more: the same name, however it is written large or small or
// spaced, and no other date of birth. Asked of a record that is new or whose name or date changes; else
// nullptr. Borrowed.
const Patient *sameName(const Agency &agency, const Patient &record);
// "Alder, Ada, born Tue 1 Mar 1950, is here already as Q-012 (on service). Is this another person?"
QString sameNameText(const Agency &agency, const Patient &other);

struct CatheterCard {
    const Catheter *catheter = nullptr; // borrowed from the agency
    const DrainOrder *order = nullptr;  // in force today, or nullptr
    std::vector<const DrainOrder *> history;
    std::optional<Date> lastDrain;
    std::optional<Date> nextDrain;
    std::vector<Date> plannedDrains; // next 14 days
};
std::vector<CatheterCard> catheterCards(const Agency &agency, PatientId patient);

struct LogPoint { // for the log chart, by time
    LocalTime at;
    std::optional<Millilitres> volume;
    DrainOutcome outcome = DrainOutcome::Drained;
    DrainEntryId entry;
};
std::vector<LogPoint> logPoints(const Agency &agency, CatheterId catheter);

// Lots a drain of this patient can have used, borrowed: of every item that was ordered for one of the
// catheters or stands in the home. Those that stand there come first, then by number.
std::vector<const Lot *> lotsForHome(const Agency &agency, PatientId patient);

} // namespace kitround::desk
