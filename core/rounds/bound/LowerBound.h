#pragma once
// A cost that no plan of the problem can come below, so that one can say how far a plan may be from the best
// at most. Lagrangian relaxation: each visit has a price, each duty takes the round that pays best
// (RoundPricing), and the prices move by the subgradient until visits come about once each (Held and Karp,
// Mathematical Programming 1, 1971; for time windows Kohl and Madsen, Operations Research 45, 1997). Every
// set of prices gives a true bound; the best one seen is told. Of spacing and couriers
// only what no choice can avoid counts (CertainCosts); overtime and evenness are taken as free.
#include "core/rounds/problem/CostModel.h"

#include <optional>
#include <stop_token>

namespace kitround::rounds {

struct BoundOptions {
    int rounds = 300;   // of prices, at most
    double seconds = 5; // at most; 0 = no limit
};
// Weighted minutes, as the plan's cost; `planCost` (of any plan) sets the steps and is never exceeded.
// Nothing where the problem's clock is finer than minutes or a visit has no length. Precondition:
// checkProblem(problem).
std::optional<double> lowerBound(const WeekProblem &problem, double planCost, const BoundOptions &options,
                                 std::stop_token stop);

} // namespace kitround::rounds
