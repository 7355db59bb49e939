#pragma once
// A shelf that is looked at once a period: with `least` or fewer it is filled up to `most`, (s, S). Whole
// pieces, unmet demand waits. A look at what costs alone would say, beside the rule the agency orders by
// (Reorders.h).
#include "core/forecast/Pmf.h"
#include "core/supply/OrderPolicies.h"

#include <cstdint>
#include <limits>

namespace kitround::supply {

struct MinMax {
    std::int64_t least = 0; // order when the position is this or less
    std::int64_t most = 0;
};
// `period`: demand of one period. `untilNext`: from an order until the one a period later could be here; the
// same as `period` where an order comes at once. Costs a period.
struct LookedAtShelf {
    forecast::Pmf period;
    forecast::Pmf untilNext;
    ShelfCosts costs;

    // c(s, S) = (K + sum over j < S - s of m(j) G(S - j)) / sum over j < S - s of m(j); G(y) = h E[(y - D)+]
    // + p E[(D - y)+]; m(j), the visits to S - j in a cycle, = sum over l of p(l) m(j - l), with p(0) < 1
    // (Zheng and Federgruen, Operations Research 39, 1991, eqs 1 to 4).
    double cost(MinMax at) const;
    // The cheapest pair, by their algorithm (sec. 2): bounded by the cost itself, no search over pairs. No S
    // above `highest`, unless no lower one meets the demand at least cost of its own. O((S - s)^2).
    MinMax best(std::int64_t highest = std::numeric_limits<std::int64_t>::max()) const;
};

// The power approximation for normal demand (Ehrhardt and Mosier, Management Science 30, 1984, in the form of
// Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed., 2019, sec. 4.4: without the cap for orders
// of less than one and a half periods): S - s = 1.30 mean^0.494 (K / h)^0.506 (1 + var / mean^2)^0.116, z =
// sqrt((S
// - s) h / (p spread)), s = 0.973 mean of untilNext + spread (0.183 / z + 1.063 - 2.192 z). Mean above 0.
struct PowerMinMax {
    double least = 0;
    double most = 0;
};
PowerMinMax powerMinMax(double periodMean, const NormalDemand &untilNext, const ShelfCosts &costs);

} // namespace kitround::supply
