#pragma once
// What an order and a level of stock cost: the size of order that is cheapest, and the service level at which
// one piece more costs as much to keep as it saves. Beside the chosen policy (Reorders.h), never instead of
// it.
#include "core/forecast/Pmf.h"
#include "core/supply/OrderTerms.h"

#include <cstdint>
#include <optional>

namespace kitround::supply {

// Money as a fraction of minor units.
struct OrderCosts {
    double eachesPerYear = 0;
    double perOrder = 0;        // minor units, whatever the order's size
    double holdingPerYear = 0;  // as a share of the price
    std::int64_t mostCases = 0; // what may be kept; 0: no bound
};
// A year of buying by orders of `cases`: K d / Q + i c Q / 2 + c d, with the price c at that number (price
// breaks count for all units). Harris 1913; Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed.,
// 2019, ch. 3.
double yearlyCost(const SupplierItem &offer, Cases cases, const OrderCosts &costs);
// The whole number of cases that is cheapest a year: of each price's own best size, kept to where the price
// holds, and of the breaks. At least the least line; nothing without use, holding cost or price.
std::optional<Cases> economicOrder(const SupplierItem &offer, const OrderCosts &costs);

// Costs of one piece over one cycle: missing when asked for, and left over.
struct PieceCosts {
    double missing = 0;
    double leftOver = 0;
};
// The share of cycles in which the cheapest level is enough: missing / (missing + leftOver) (newsvendor;
// Snyder and Shen, sec. 4.3). Precondition: not both 0.
double criticalRatio(const PieceCosts &costs);
// Expected cost of a cycle that starts with `level` pieces.
double cycleCost(const forecast::Pmf &demand, std::int64_t level, const PieceCosts &costs);

// Of what is asked for in the review period, the share that is there: 1 - (B(end) - B(start)) / mean demand
// of the review, B the expected shortage at the arrival of an order and at that of the next one; unmet demand
// waits (Hadley and Whitin, Analysis of Inventory Systems, 1963). 1 where nothing is asked for.
double fillRate(const forecast::Pmf &untilArrival, const forecast::Pmf &untilNext, std::int64_t level);

} // namespace kitround::supply
