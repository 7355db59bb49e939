#pragma once
// What the nurses' cars carry beside the parcels packed for homes: against par, and how long it lasts.
#include "core/records/Snapshot.h"

#include <optional>
#include <vector>

namespace kitround::supply {

// Packed for a home and in the nurse's car: there, but not free. Without a lot: over all lots.
Eaches packedInCar(const SnapshotIndex &agency, NurseId nurse, ItemId item,
                   std::optional<LotId> lot = std::nullopt);

struct CarLine {
    NurseId nurse;
    ItemId item;
    std::optional<Eaches> par; // none: nobody set one
    Eaches inCar;              // free: without what is packed
    Eaches packed;
    Eaches shortDated; // of inCar: expired, or less life left than homes get
    std::optional<Date> firstExpiry;
    Eaches lacking() const; // to par, with what is short-dated gone back
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
