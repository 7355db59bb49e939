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
