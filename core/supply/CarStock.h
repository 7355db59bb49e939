#pragma once
// What the nurses' cars carry beside the parcels packed for homes: against par, and how long it lasts.
#include "core/records/Snapshot.h"

#include <optional>
#include <vector>

namespace kitround::supply {

// Whose car a packed parcel lies in until it is handed over at the home; none while it is not packed, or goes
// another way.
std::optional<NurseId> carHolding(const Delivery &delivery);
// A parcel that nobody in the storeroom can look at: with a carrier, or in a nurse's car.
bool hasLeftStoreroom(const Delivery &delivery);
// Packed for a home and in the nurse's car: there, but not free. Without a lot: over all lots.
Eaches packedInCar(const SnapshotIndex &agency, NurseId nurse, ItemId item,
                   std::optional<LotId> lot = std::nullopt);

// Of that lot in the nurse's car and not packed for a home; never below nought. Unlike packedInCar, without a
// lot it is the stock whose lot nobody wrote down, not that of all lots.
Eaches looseInCar(const SnapshotIndex &agency, NurseId nurse, ItemId item, std::optional<LotId> lot);
Eaches looseInCar(const SnapshotIndex &agency, NurseId nurse, const Lot &lot);

struct CarLine {
    NurseId nurse;
    ItemId item;
    std::optional<Eaches> par; // none: nobody set one
    Eaches inCar;              // free: without what is packed
    Eaches packed;
    Eaches shortDated; // of inCar: expired, or less life left than homes get
    Eaches outOfUse;   // of inCar: of a lot recalled or under quarantine, until it is taken out
    std::optional<Date> firstExpiry;
    Eaches lacking() const; // to par, with what is short-dated and out of use gone back
};
// Every nurse and item with a par or with stock in the car; by nurse, then item.
std::vector<CarLine> carLines(const SnapshotIndex &agency);

struct CarMove {
    ItemId item;
    std::optional<LotId> lot; // none: stock whose lot nobody wrote down
    Eaches quantity;
};
struct CarPlan {
    std::vector<CarMove> back; // car to storeroom
    std::vector<CarMove> in;   // storeroom to car, first expiring first
    struct Short {
        ItemId item;
        Eaches needed, given;
    };
    std::vector<Short> shortOf;
};
// Brings one car to par. What is short-dated goes back first; nothing short-dated and nothing promised to a
// home comes in. A recalled or quarantined lot is not moved here: its own step does that.
CarPlan planToPar(const SnapshotIndex &agency, NurseId nurse);

} // namespace kitround::supply
