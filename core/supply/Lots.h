#pragma once
// First expiring, first out; ties by lot id (order of receipt). Expired, recalled and quarantined lots are never
// given; lots with less life than the item asks for homes are given last and marked.
#include "core/base/Result.h"
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::supply {

struct Pick {
    LotId lot;
    Eaches quantity;
    bool isShortDated = false;
    friend bool operator==(const Pick &, const Pick &) = default;
};
struct PickResult {
    std::vector<Pick> picks;
    Eaches missing; // could not be met
};
PickResult pickFirstExpiring(const SnapshotIndex &agency, const Place &from, ItemId item, Eaches need, Date on,
                             Days leastLife);

struct ExpiringLot {
    LotId lot;
    ItemId item;
    Place place;
    Eaches quantity;
    Date expiresOn;
};
// Everything that expires within `within` days of the snapshot's date, in every place, soonest first.
std::vector<ExpiringLot> expiringLots(const SnapshotIndex &agency, Days within);

} // namespace kitround::supply
