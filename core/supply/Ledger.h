#pragma once
// Stock as a sum of movements; and the movements each step of the trade posts. Pure: the store keeps them.
#include "core/base/Result.h"
#include "core/records/Snapshot.h"

#include <span>
#include <vector>

namespace kitround::supply {

// Balances by place, item and lot of all inside places; zero rows left out; sorted.
std::vector<StockBalance> balancesOf(std::span<const StockMovement> movements);
// Total of an item in the agency's own places that are not homes or quarantine.
struct Position {
    Eaches storeroom, cars, transit, homes, quarantine;
    Eaches promised;  // to homes, not picked yet: not free
    Eaches onOrder;   // sent to suppliers, not received
    Eaches free() const { return storeroom - promised; }
};
Position positionOf(const SnapshotIndex &agency, ItemId item);

// The variance movement that makes a place's ledger equal to a count; nothing where it already is.
std::optional<StockMovement> movementForCount(const Place &place, ItemId item, Eaches ledger, Eaches counted,
                                              LocalTime at);
// What a drain entry took from the home line (used to Used, lost to Wasted).
std::vector<StockMovement> movementsForEntry(const DrainEntry &entry);
// The contrary movements that undo these.
std::vector<StockMovement> undoing(std::span<const StockMovement> movements, LocalTime at);

} // namespace kitround::supply
