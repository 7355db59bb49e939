#pragma once
// What another service level would mean for one item: the level to order up to, what that orders, what it
// costs and how likely the item still runs short. The distribution is worked out once; a level is then a look
// into it, so that a slider can move.
#include "core/supply/Economics.h"
#include "core/supply/Reorders.h"

namespace kitround::supply {

struct LevelEffect {
    std::int64_t servicePermille = 0;
    Eaches orderUpTo;
    Cases cases; // whole packs, at least the least line; not topped up to the supplier's minimum
    Money money;
    // That demand until the order after this one could be here exceeds the position and this order.
    double chanceShort = 0;
    double asked = 0;     // eaches in an average review period
    double fillRate = 1;  // share of it that is there when asked for
    double cycleCost = 0; // minor units a review: keeping what is left over, a courier for what is missing
};
struct ServiceOutlook {
    ItemId item;
    StockClass stockClass = StockClass::A;
    bool hasOwnLevel = false; // the item's own, not its class's
    std::int64_t servicePermille = 0;
    Eaches position; // as ReorderLine::position
    PackSize pack;
    Cases leastLine = Cases::of(1);
    const SupplierItem *offer = nullptr; // of the agency; none: nobody sells it, no money
    forecast::Pmf demand;                // until the order after this one could be here
    forecast::Pmf demandToArrival;       // until this one is
    // A piece missing costs a courier run of its own (the worst case), a piece left over its holding cost.
    PieceCosts pieceCosts;
    // The level that makes these cheapest (newsvendor), in thousandths; none where nothing is known of costs.
    std::optional<std::int64_t> cheapestPermille() const;

    // Precondition: 0 < permille < 1000.
    LevelEffect at(std::int64_t permille) const;
};
// Active items, by id. Borrows the agency.
std::vector<ServiceOutlook> serviceOutlooks(const SnapshotIndex &agency,
                                            std::span<const forecast::ItemForecast> forecasts);

} // namespace kitround::supply
