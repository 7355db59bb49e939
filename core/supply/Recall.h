#pragma once
// Where a lot went: receipt, storeroom, cars, parcels, homes, and the drains it was used in. Patients on hold
// and discharged are not left out.
#include "core/records/Snapshot.h"

#include <span>
#include <string>
#include <vector>

namespace kitround::supply {

struct LotStop {
    Place place;
    Eaches received; // ever
    Eaches there;    // now, by the ledger
};
struct RecallHome {
    PatientId patient;
    CatheterId catheter;
    Eaches received; // ever; corrections taken off
    Eaches there;    // by the ledger; a count without lots makes this an upper estimate
    Eaches used;     // opened in drains that name the lot, drained into or lost
    Eaches onTheWay; // in parcels that have left us for it
    std::vector<DrainEntryId> drains;
    bool isOnHold = false;
    bool hasLeft = false;
};
// Gone with somebody who is not ours: nobody of the agency can take it back any more, only the home can.
bool leftWithCarrier(const Delivery &delivery);
struct LotTrace {
    LotId lot;
    std::vector<LotStop> stops;    // inside places other than homes; parcels under way too
    std::vector<RecallHome> homes; // by stock there, most first, then patient and catheter
};
// `movements`: all movements of the lot, in order of time; those of other lots are passed over. Drains come
// from the movements and, where the log in the snapshot names the lot but no movement does, from the log: a
// home is listed on either sign, and one to which a parcel with the lot is under way. One to which the lot
// was written down by mistake, and put right, is not.
LotTrace traceLot(const SnapshotIndex &agency, LotId lot, std::span<const StockMovement> movements);
// Lots whose number matches what a notice says, ignoring case, blanks and hyphens; a prefix of at least four
// characters matches too (a notice may shorten it). An item that is not set means any. By lot id; nothing for
// an empty number.
std::vector<LotId> lotsMatching(const Snapshot &agency, ItemId item, std::string_view number);

} // namespace kitround::supply
