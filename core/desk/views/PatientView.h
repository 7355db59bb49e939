#pragma once
// One patient's record as a page: who, catheters with orders in force and history, log, stock, visits, calls.
#include "core/desk/Desk.h"

#include <QString>
#include <QStringList>

namespace kitround::desk {

struct PatientRow { // for the list
    PatientId patient;
    QString code, name, status, primaryNurse, catheters, note; // note: "on hold since ...", "no order"
    bool isOnHold = false;                                     // today
    bool isHoldToCome = false;
    bool isNurseGone = false; // the main nurse no longer works here
};
std::vector<PatientRow> patientRows(const Agency &agency);

// The hold of today, else the next one to come; nullptr for none. Borrowed.
const Hold *holdToTell(const Agency &agency, PatientId patient);
// "on hold: in hospital since Mon 2 Mar"; "on hold from Tue 24 Nov: travelling"; with the end where it is
// known.
QString holdText(const Hold &hold, Date today);
// Whether a stored visit is not made because of the hold: it stands on one of its days, and has not begun.
bool isPausedBy(const Visit &visit, const Hold &hold, LocalTime now);
// What the hold takes out of the plan and what is promised for its days, one a line; a hold that is not
// stored yet is asked about like one that is.
QStringList holdEffectLines(const Agency &agency, const Hold &hold);

// "At most 500 mL in one session", with a flag where that is above what is common; "No maximum on the order".
QString mostPerSessionText(const DrainOrder &order, const Catheter &catheter);

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
