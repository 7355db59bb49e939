#pragma once
// Where a lot went, for people: places and homes, with whom to ring. Patients on hold and discharged are on
// it.
#include "core/desk/Desk.h"

#include <QString>

#include <optional>
#include <span>

namespace kitround::desk {

struct RecallStopRow {
    QString place;
    Eaches received, there;
    std::optional<NurseId> car; // whose; with something of a lot out of use to be taken out
    QString todo;               // "the lot is recalled: have it taken out of the car"
};
struct RecallHomeRow {
    PatientId patient;
    CatheterId catheter;
    QString name, phone, place, standing; // standing: "in service", "on hold", "has left"
    Eaches received, there, used;
    Eaches onTheWay; // in parcels that have left for it
    int drains = 0;  // that name the lot
    bool isReached = false;
    int tries = 0;
    Eaches setAside, replaced; // by the last answer
    QString outcome; // "Thu 19 Nov 10:05, R. Alder with the daughter: set aside"; empty: nobody rang
};
struct RecallView {
    LotId lot;
    QString number, itemName, state;
    std::vector<RecallStopRow> stops; // with us, where some is now
    QString passed; // "None of it is left in: storeroom, 3 parcels."; empty where it passed no other place
    std::vector<RecallHomeRow> homes; // by stock there, most first; then those that were added by hand
    QString reason;                   // why the lot is in its state
    // For the reply to the supplier.
    Eaches fromSupplier, quarantined, used, setAside, replaced;
    Eaches gone;     // written off by us, or taken back from homes and not on our books any more
    Eaches stillOut; // in homes, cars and parcels, not set aside
    // What the rows above (without `replaced`) lack to what came: counts that found fewer; below nought,
    // more.
    Eaches notFound() const { return fromSupplier - quarantined - used - setAside - gone - stillOut; }
    int places = 0;              // homes as people count them: patients, whatever lines they have
    int reached = 0;             // of those; all their lines have an answer
    int mayHaveIt = 0;           // of those; some may still stand there: what the attention list counts
    QString reachedText() const; // "3 of 8 homes reached (38 %)"
};
// `movements`: all of the lot (Desk::movementsOfLot).
RecallView recallView(const Agency &agency, LotId lot, std::span<const StockMovement> movements);
// Lots a notice may mean: case, blanks and hyphens do not matter, and it may shorten the number.
std::vector<LotId> lotsNamed(const Agency &agency, const QString &number);

// Where a lot stands by the ledger: read before anything is decided about it.
struct LotPlaces {
    Eaches storeroom, quarantine, cars, onTheWay, homes;
    int carsWithIt = 0, homesWithIt = 0; // homes as people count them: patients
};
LotPlaces lotPlaces(const SnapshotIndex &agency, LotId lot);
// "In the storeroom 31, in quarantine 0, in 7 cars 14, on the way 3, in 8 homes at most 75."
QString words(const LotPlaces &places);
// Of a notice, before it is followed: which lot it means by the number asked for, what it is and where it
// stands.
QString noticeText(const SnapshotIndex &agency, const Lot &lot, const QString &asked);

// The row of a home by its records alone: to ring one the record never sent the lot to.
RecallHomeRow recallHomeRow(const SnapshotIndex &agency, CatheterId catheter);
// Refused for want of a reason only: the home says what the record does not have.
bool asksWhyBeyond(const Problem &problem);

// What was typed beside an answer. Nothing stays nothing, which the desk does not take for "set aside"; none
// of it set aside means that none is left.
void hearSetAside(RecallOutcome &outcome, std::optional<std::int64_t> typed);

} // namespace kitround::desk
