#include "core/supply/LotSizing.h"

#include "core/base/Require.h"

#include <cmath>
#include <limits>
#include <optional>

namespace kitround::supply {

OrderPlan cheapestOrders(std::span<const double> demand, std::span<const double> perOrder, double holding) {
    KITROUND_REQUIRE(demand.size() == perOrder.size());
    const std::size_t n = demand.size();
    // rest[t]: least cost of the periods from t on with nothing left over; next[t]: first period after the
    // order at t, or t where the period needs none.
    std::vector<double> rest(n + 1, 0.0);
    std::vector<std::size_t> next(n, n);
    for (std::size_t t = n; t-- > 0;) {
        rest[t] = demand[t] > 0 ? std::numeric_limits<double>::infinity() : rest[t + 1];
        next[t] = t;
        double cost = perOrder[t];
        for (std::size_t end = t + 1; end <= n; ++end) {
            cost += holding * static_cast<double>(end - 1 - t) * demand[end - 1];
            if (cost + rest[end] < rest[t]) {
                rest[t] = cost + rest[end];
                next[t] = end;
            }
        }
    }
    OrderPlan plan;
    plan.cost = rest[0];
    plan.orders.assign(n, 0.0);
    for (std::size_t t = 0; t < n;) {
        const std::size_t end = next[t];
        for (std::size_t i = t; i < end; ++i)
            plan.orders[t] += demand[i];
        t = end > t ? end : t + 1;
    }
    return plan;
}

BackorderedSize backorderedSize(double rate, const ShelfCosts &costs) {
    const double both = costs.holding + costs.missing;
    return {std::sqrt(2 * costs.perOrder * rate * both / (costs.holding * costs.missing)),
            costs.holding / both,
            std::sqrt(2 * costs.perOrder * rate * costs.holding * costs.missing / both)};
}

SizeAndCost graduallyReceivedSize(double rate, double inflow, const ShelfCosts &costs) {
    KITROUND_REQUIRE(inflow > rate);
    const double holding = costs.holding * (1 - rate / inflow);
    return {std::sqrt(2 * costs.perOrder * rate / holding), std::sqrt(2 * costs.perOrder * rate * holding)};
}

RangedSize incrementalSize(double rate, double perOrder, double holdingShare,
                           std::span<const PriceRange> ranges) {
    KITROUND_REQUIRE(!ranges.empty() && ranges.front().from == 0);
    std::optional<RangedSize> best;
    double extra = 0; // what the pieces before a range cost more than at its own price
    for (std::size_t j = 0; j < ranges.size(); ++j) {
        if (j > 0)
            extra += ranges[j].from * (ranges[j - 1].price - ranges[j].price);
        // Q pieces cost extra + price Q: cost(Q) = price rate + i extra / 2 + (K + extra) rate / Q + i price
        // Q/2.
        const double price = ranges[j].price;
        const double size = std::sqrt(2 * (perOrder + extra) * rate / (holdingShare * price));
        const bool holds = size >= ranges[j].from && (j + 1 == ranges.size() || size < ranges[j + 1].from);
        const double cost = price * rate + holdingShare * extra / 2 +
                            std::sqrt(2 * (perOrder + extra) * rate * holdingShare * price);
        if (holds && (!best || cost < best->cost))
            best = RangedSize{size, j, cost};
    }
    // The cost falls past every break it reaches falling, so that the least lies inside a range.
    KITROUND_REQUIRE(best.has_value());
    return *best;
}

} // namespace kitround::supply
