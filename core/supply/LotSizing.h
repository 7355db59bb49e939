#pragma once
// When to order how much where demand is known: over the coming periods each with its own demand, and at an
// even pace with demand that may wait, with goods that come in bit by bit, or with prices that fall by the
// piece. Money as a fraction of minor units.
//
// Source where not said otherwise: Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed., 2019,
// ch. 3.
#include "core/supply/OrderPolicies.h"

#include <cstdint>
#include <span>
#include <vector>

namespace kitround::supply {

// Orders that cover a row of periods at least cost: an order comes at the start of its period, what is left
// at a period's end costs `holding` each. Wagner and Whitin, Management Science 5, 1958: an order covers
// whole periods, so that theta(t) = min over s > t of K(t) + h sum (i - t) d(i) + theta(s). O(n^2).
// `perOrder` by period. Of orders that cost alike the later is made, and none where nothing is asked for.
struct OrderPlan {
    double cost = 0;
    std::vector<double> orders; // by period
};
OrderPlan cheapestOrders(std::span<const double> demand, std::span<const double> perOrder, double holding);

// Economic order with backorders: Q = sqrt(2 K rate (h + p) / (h p)), of which the share x = h / (h + p)
// waits; cost sqrt(2 K rate h p / (h + p)) a unit of time.
struct BackorderedSize {
    double size = 0;
    double waiting = 0; // share of it
    double cost = 0;
};
BackorderedSize backorderedSize(double rate, const ShelfCosts &costs);

// Goods come in at a pace of `inflow` > rate while the order lasts: the holding cost counts 1 - rate /
// inflow.
struct SizeAndCost {
    double size = 0;
    double cost = 0; // a unit of time
};
SizeAndCost graduallyReceivedSize(double rate, double inflow, const ShelfCosts &costs);

// Prices that fall by the piece: those from `from` on cost `price` each, those before what they cost
// (incremental discount). First range from 0. Holding cost is a share of the average price paid.
struct PriceRange {
    double from = 0;
    double price = 0;
};
struct RangedSize {
    double size = 0;
    std::size_t range = 0; // whose price its last piece has
    double cost = 0;       // a unit of time, the goods in it
};
RangedSize incrementalSize(double rate, double perOrder, double holdingShare,
                           std::span<const PriceRange> ranges);

} // namespace kitround::supply
