#pragma once
// A shelf that is watched without a pause: order `size` as soon as the position falls to `point`, (r, Q).
// Exact cost, the best point for a size, the best pair, and the short ways of the textbooks to a pair. Unmet
// demand waits. A look at what costs alone would say, beside the rule the agency orders by (Reorders.h).
//
// Source of all formulas: Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed., 2019, ch. 5, where
// not said otherwise; the exact cost is Hadley and Whitin, Analysis of Inventory Systems, 1963, ch. 4.
#include "core/forecast/Pmf.h"
#include "core/supply/NormalLoss.h"

#include <cstdint>

namespace kitround::supply {

// Money as a fraction of minor units; of time: the same unit as the rate of demand.
struct ShelfCosts {
    double perOrder = 0;
    double holding = 0; // a piece, a unit of time
    double missing = 0; // a piece, a unit of time (per piece short where a function says so)
};
struct PointAndSize {
    double point = 0;
    double size = 0;
};

// Demand: `rate` a unit of time on average, `untilArrival` while an order is under way. Costs above 0.
class WatchedShelf {
public:
    WatchedShelf(double rate, NormalDemand untilArrival, ShelfCosts costs)
        : rate_(rate), demand_(untilArrival), costs_(costs) {}

    // g(r, Q) = (K rate + integral over r..r+Q of h E[(y - D)+] + p E[(D - y)+] dy) / Q, with the integral by
    // the second loss: h Q (r + Q/2 - mean) + (h + p) (n2(r) - n2(r + Q)).
    double cost(PointAndSize at) const;
    // g is least for the size where the cost at r equals that at r + Q.
    double bestPoint(double size) const;
    // The least of g: where the cost of the marginal piece equals g itself.
    PointAndSize best() const;

    // Q of the economic order with backorders, sqrt(2 K rate (h + p) / (h p)), and its best point.
    PointAndSize byBackorderedSize() const;
    // Q of the economic order, sqrt(2 K rate / h), and the point that holds in p / (h + p) of the cycles.
    PointAndSize bySafetyStock() const;
    // n2(r + Q) taken for nothing: n(r) = h Q / (h + p), Q = sqrt(2 (K rate + (h + p) n2(r)) / h).
    PointAndSize byLoss() const;
    // `missing` per piece short, once: 1 - F(r) = h Q / (p rate), Q = sqrt(2 rate (K + p n(r)) / h).
    PointAndSize byExpectedStock() const;
    // What that approximation itself counts: h (r - mean + Q/2) + K rate / Q + p rate n(r) / Q.
    double expectedStockCost(PointAndSize at) const;

private:
    double costOfLevel(double y) const; // h E[(y - D)+] + p E[(D - y)+]

    double rate_;
    NormalDemand demand_;
    ShelfCosts costs_;
};

// The same in whole pieces, one asked for at a time (Poisson or the like): after an order the position stands
// equally often on each of point + 1 ... point + size.
struct WholePointAndSize {
    std::int64_t point = 0;
    std::int64_t size = 0;
    double cost = 0;
};
double cost(double rate, const forecast::Pmf &untilArrival, const ShelfCosts &costs, std::int64_t point,
            std::int64_t size);
// The cheapest pair: levels are taken up one by one, cheapest first, while each costs less than the average
// so far (Federgruen and Zheng, Operations Research 40, 1992).
WholePointAndSize bestPointAndSize(double rate, const forecast::Pmf &untilArrival, const ShelfCosts &costs);

// Share of the demand that is there when asked for: 1 - (n(r) - n(r + Q)) / Q (Axsater, Inventory Control,
// 3rd ed., 2015, sec. 5.3).
double fillRate(const NormalDemand &untilArrival, PointAndSize at);
// The point that gives that share, n(r + Q) taken for nothing (Silver, Pyke and Thomas 2017, sec. 6.7).
double pointForFillRate(const NormalDemand &untilArrival, double size, double share);

} // namespace kitround::supply
