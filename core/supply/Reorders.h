#pragma once
// The storeroom's reorder list: periodic review, order up to the level that meets the service level over review
// plus lead time; net of stock free, on order and outdates; whole packs; lines topped up to a supplier's minimum
// with what next needs it. Each line carries the numbers that explain it.
#include "core/supply/LeadTimes.h"
#include "core/supply/Storeroom.h"

#include <vector>

namespace kitround::supply {

enum class ReorderCause : std::uint8_t { BelowLevel, TopUpToMinimum, BackorderCover };
enum class ReorderFlag : std::uint8_t { Backordered, PastCutOff, NoSupplier, ShortBeforeArrival, Overstock };

struct ReorderLine {
    ItemId item;
    SupplierId supplier;
    ReorderCause cause = ReorderCause::BelowLevel;
    // why
    Eaches storeroom;     // on the shelf, usable
    Eaches promised;
    Eaches onOrder;
    Eaches expiring;      // expected to outdate before the order would be used
    Eaches position;      // storeroom - promised + onOrder - expiring
    double demandMean = 0; // over review + lead time
    Days coverDays;        // review + lead time
    std::int64_t servicePermille = 0;
    Eaches orderUpTo;
    Eaches exactNeed;
    double chanceShortBefore = 0; // before an order placed now arrives
    // what
    Cases cases;
    PackSize pack;
    Money perCase;
    Money lineTotal;
    Date expectedOn;
    std::vector<ReorderFlag> flags;
};
struct SupplierReorder {
    SupplierId supplier;
    Date orderOn;           // next order day before its cut-off
    Money total;
    Money leastOrder;
    bool meetsMinimum = true;
    LeadTime leadTime;
    std::vector<ReorderLine> lines;
};
// Suppliers by name; only those with lines. Items that need stock but have no supplier come under SupplierId 0.
std::vector<SupplierReorder> reorderList(const SnapshotIndex &agency,
                                         std::span<const forecast::ItemForecast> forecasts);

} // namespace kitround::supply
