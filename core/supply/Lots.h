#pragma once
// First expiring, first out; ties by lot id (order of receipt). Expired, recalled and quarantined lots are
// never given; lots with less life than the item asks for homes are given last and marked, unless somebody
// put the lot first.
#include "core/base/Result.h"
#include "core/records/Snapshot.h"

#include <map>
#include <vector>

namespace kitround::supply {

// May be given out on the day: not quarantined, not recalled, `on` not after the last day of use. A lot the
// snapshot does not know is not usable.
bool isUsable(const SnapshotIndex &agency, LotId lot, Date on);
// Less life left on the day than the item asks for homes; never without a last day of use on record.
bool isShortDated(const Lot &lot, Date on, Days leastLife);

// The day a delivery reached the home, or the first on which it can: its lots have to be good on it, and the
// home has to take it.
Date arrivalOf(const Delivery &delivery, Date today);

struct Pick {
    LotId lot; // not set: stock without a lot on record
    Eaches quantity;
    bool isShortDated = false;
    friend bool operator==(const Pick &, const Pick &) = default;
};
// All that may be given out of a place, lot by lot in the order of giving: lots put first, lots with
// `leastLife` left by expiry, lots without an expiry on record, stock without a lot on record, and
// short-dated lots last.
std::vector<Pick> givable(const SnapshotIndex &agency, const Place &from, ItemId item, Date on,
                          Days leastLife);
// The same of lots of one item, wherever they stand.
std::vector<Pick> givable(const SnapshotIndex &agency, const std::map<LotId, Eaches> &there, Date on,
                          Days leastLife);

struct PickResult {
    std::vector<Pick> picks;
    Eaches missing; // could not be met
};
// As much of what may be given as is needed. Nothing for a need of zero or less.
PickResult firstOf(const std::vector<Pick> &lots, Eaches need);
PickResult pickFirstExpiring(const SnapshotIndex &agency, const Place &from, ItemId item, Eaches need,
                             Date on, Days leastLife);

struct ExpiringLot {
    LotId lot;
    ItemId item;
    Place place;
    Eaches quantity;
    Date expiresOn; // last day of use; before the snapshot's date: expired already
    friend bool operator==(const ExpiringLot &, const ExpiringLot &) = default;
};
// Everything whose last day of use is at most `within` days after the snapshot's date, also what is past it,
// in every place, soonest first.
std::vector<ExpiringLot> expiringLots(const SnapshotIndex &agency, Days within);

} // namespace kitround::supply
