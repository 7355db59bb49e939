#pragma once
// Several items from one supplier, ordered together: every order costs its work once and a little more an
// item, each item joins every order, every second, every third, ... Demand at an even pace, no shortage.
#include <cstdint>
#include <span>
#include <vector>

namespace kitround::supply {

// Of one item; rate and holding in the same unit of time.
struct JointItem {
    double perLine = 0; // cost of the line in an order
    double holding = 0;
    double rate = 0;
};
struct JointPlan {
    std::vector<std::int64_t> every; // by item: joins each so-many-th order
    double cycle = 0;                // time from order to order
    double cost = 0;                 // a unit of time
};
// Best cycle and cost for given multiples m: T = sqrt(2 (K + sum k/m) / sum m h rate), cost (K + sum k/m) / T
// + T/2 sum m h rate.
JointPlan jointPlan(double perOrder, std::span<const JointItem> items, std::vector<std::int64_t> every);
// Silver's simple method (Management Science 22, 1976): the item with the least k / (h rate) joins every
// order, the others every sqrt(k / (h rate) x h1 rate1 / (K + k1))-th, rounded to the nearest whole number
// above 0.
JointPlan silverPlan(double perOrder, std::span<const JointItem> items);
// The cheapest with every multiple out of `choices`, by looking at all; choices^items must be small.
JointPlan cheapestJointPlan(double perOrder, std::span<const JointItem> items,
                            std::span<const std::int64_t> choices);

// One item ordered every base x 2^k: the cheapest k, k >= leastExponent, and what it costs more than the best
// time of all. At most 0.5 (sqrt 2 + 1 / sqrt 2) = 1.06 times (Roundy, Management Science 31, 1985).
struct DoublingCycle {
    double freeCycle = 0; // sqrt(2 K / (h rate))
    int exponent = 0;
    double costRatio = 1;
};
DoublingCycle doublingCycle(double perOrder, double holding, double rate, double base, int leastExponent);

} // namespace kitround::supply
