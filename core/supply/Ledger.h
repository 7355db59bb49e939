#pragma once
// Stock as a sum of movements; and the movements each step of the trade posts. Pure: the store keeps them.
#include "core/base/Result.h"
#include "core/records/Snapshot.h"

#include <map>
#include <span>
#include <vector>

namespace kitround::supply {

// Balances by place, item and lot of all inside places; zero rows left out; sorted (no lot before any lot).
std::vector<StockBalance> balancesOf(std::span<const StockMovement> movements);
// Where an item stands. `storeroom` is what may be given out: lots that are expired, recalled or under
// quarantine but still on the shelf are in `unusable`. Nothing is counted twice.
struct Position {
    Eaches storeroom, unusable, cars, transit, homes, quarantine;
    Eaches promised; // to homes, not picked yet: not free
    Eaches onOrder;  // sent to suppliers, not received
    Eaches free() const { return storeroom - promised; }
    friend bool operator==(const Position &, const Position &) = default;
};
Position positionOf(const SnapshotIndex &agency, ItemId item);
// The same for every item that stands, is promised or is on order anywhere; one pass.
std::map<ItemId, Position> positionsOf(const SnapshotIndex &agency);

// The variance movement that makes a place's ledger equal to a count; nothing where it already is.
std::optional<StockMovement> movementForCount(const Place &place, ItemId item, Eaches ledger, Eaches counted,
                                              LocalTime at);
// What a drain entry took from the home line (used to Used, lost to Wasted, each place named by the
// entry), in the order it was written down.
std::vector<StockMovement> movementsForEntry(const DrainEntry &entry);
// The contrary movements that undo these, last first.
std::vector<StockMovement> undoing(std::span<const StockMovement> movements, LocalTime at);

} // namespace kitround::supply
