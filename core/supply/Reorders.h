#pragma once
// The storeroom's reorder list: periodic review, order up to the level that meets the service level over
// review plus lead time; net of stock free, on order and outdates; whole packs; lines topped up to a
// supplier's minimum with what next needs it. Each line carries the numbers that explain it.
//
// Level: the smallest S with P(demand over wait + review + lead <= S) >= service, where wait is the time to
// the supplier's next order day and the lead time is its whole distribution (a mixture over days, not z
// sigma: wrong for small counts). Ordered whenever the position is below S. A later order could not arrive
// before the end of that time, so that this is the time the order must last for.
#include "core/supply/LeadTimes.h"
#include "core/supply/Storeroom.h"

#include <optional>
#include <vector>

namespace kitround::supply {

inline constexpr double kOverstockDays = 90; // of use (assumed)

enum class ReorderCause : std::uint8_t { BelowLevel, TopUpToMinimum, BackorderCover };
enum class ReorderFlag : std::uint8_t { Backordered, PastCutOff, NoSupplier, ShortBeforeArrival, Overstock };

struct ReorderLine {
    ItemId item;
    SupplierId supplier;
    ReorderCause cause = ReorderCause::BelowLevel;
    // why
    Eaches storeroom; // on the shelf, usable
    Eaches promised;
    Eaches onOrder;           // expected within coverDays
    Eaches onOrderLater;      // expected after: does not count
    Eaches expiring;          // expected to outdate before the order would be used
    Eaches position;          // storeroom - promised + onOrder - expiring
    double demandMean = 0;    // over coverDays
    double fromReferrals = 0; // of it: people nobody knows yet
    double meanPerDay = 0;    // over the next four weeks
    Days coverDays;           // wait for the order day + review + mean lead time
    std::int64_t servicePermille = 0;
    Eaches orderUpTo;
    Eaches exactNeed;                     // orderUpTo - position, at least 0
    double chanceShortBefore = 0;         // before an order placed now arrives
    std::optional<Date> backorderedUntil; // of the preferred offer or of what is on order, with
                                          // BackorderCover or Backordered
    double daysAfter = 0;                 // days the position lasts with the order, at meanPerDay
    // what
    Cases cases;
    Cases toppedUp;                // of these, only to reach the minimum
    std::optional<Cases> economic; // the cheapest size by order and holding cost (Economics.h), to look at
    PackSize pack;
    Money perCase;
    Money lineTotal;
    Date expectedOn;
    std::vector<ReorderFlag> flags; // in the order of the enumeration
};
struct SupplierReorder {
    SupplierId supplier;
    Date orderOn; // next order day before its cut-off
    Money total;
    Money leastOrder;
    bool meetsMinimum = true;
    LeadTime leadTime;
    std::vector<ReorderLine> lines; // by item
};
// Suppliers by name; only those with lines. Items that need stock but have no supplier come under SupplierId
// 0, last. Top-up: one pack at a time to the item that runs out first, none beyond 60 days of its use; where
// that does not reach the minimum nothing is added and meetsMinimum is false. Overstock: with the order, more
// than 90 days of use, or more than the item's shelf life (both assumed). PastCutOff: today was an order day,
// but its cut-off has passed.
std::vector<SupplierReorder> reorderList(const SnapshotIndex &agency,
                                         std::span<const forecast::ItemForecast> forecasts);

// The level by itself: smallest k with sum_i weights[i] P(demand[i] <= k) >= service. Weights sum to 1.
std::int64_t orderUpToLevel(std::span<const forecast::Pmf> demand, std::span<const double> weights,
                            double service);
std::int64_t servicePermilleOf(const Item &item, const AgencySettings &settings);

} // namespace kitround::supply
