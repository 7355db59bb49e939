#include "core/supply/OrderPolicies.h"

#include "core/base/Require.h"

#include <boost/math/tools/roots.hpp>

#include <algorithm>
#include <cmath>

namespace kitround::supply {
namespace {

// Where an increasing function passes 0; looked for around `near`, `step` at first.
template <class F>
double rootOfRising(F f, double near, double step) {
    double low = near - step, high = near + step;
    while (f(low) > 0)
        low -= step *= 2;
    while (f(high) < 0)
        high += step *= 2;
    std::uintmax_t steps = 200;
    const auto [from, to] =
        boost::math::tools::toms748_solve(f, low, high, boost::math::tools::eps_tolerance<double>(48), steps);
    return (from + to) / 2;
}

// Two equations, each giving one of point and size from the other, until both stand still.
template <class Point, class Size>
PointAndSize settled(double size, Point pointOf, Size sizeOf) {
    PointAndSize at{pointOf(size), size};
    for (int i = 0; i < 1000; ++i) {
        const PointAndSize before = at;
        at.size = sizeOf(at.point);
        at.point = pointOf(at.size);
        if (std::abs(at.size - before.size) + std::abs(at.point - before.point) < 1e-12 * (1 + at.size))
            break;
    }
    return at;
}

} // namespace

double WatchedShelf::costOfLevel(double y) const {
    return costs_.holding * (y - demand_.mean) + (costs_.holding + costs_.missing) * demand_.loss(y);
}

double WatchedShelf::cost(PointAndSize at) const {
    const double end = at.point + at.size;
    return (costs_.perOrder * rate_ + costs_.holding * at.size * (at.point + at.size / 2 - demand_.mean) +
            (costs_.holding + costs_.missing) * (demand_.secondLoss(at.point) - demand_.secondLoss(end))) /
           at.size;
}

double WatchedShelf::bestPoint(double size) const {
    return rootOfRising([&](double r) { return costOfLevel(r + size) - costOfLevel(r); },
                        demand_.mean - size / 2, demand_.spread);
}

PointAndSize WatchedShelf::best() const {
    const double start = byBackorderedSize().size;
    // Below 0 a size means nothing; a small one always costs more than its marginal piece.
    const auto margin = [&](double logSize) {
        const double size = std::exp(logSize), point = bestPoint(size);
        return costOfLevel(point + size) - cost({point, size});
    };
    const double size = std::exp(rootOfRising(margin, std::log(start), 0.1));
    return {bestPoint(size), size};
}

PointAndSize WatchedShelf::byBackorderedSize() const {
    const double size = std::sqrt(2 * costs_.perOrder * rate_ * (costs_.holding + costs_.missing) /
                                  (costs_.holding * costs_.missing));
    return {bestPoint(size), size};
}

PointAndSize WatchedShelf::bySafetyStock() const {
    return {demand_.quantile(costs_.missing / (costs_.holding + costs_.missing)),
            std::sqrt(2 * costs_.perOrder * rate_ / costs_.holding)};
}

PointAndSize WatchedShelf::byLoss() const {
    const double both = costs_.holding + costs_.missing;
    return settled(
        bySafetyStock().size, [&](double size) { return demand_.levelMissing(costs_.holding * size / both); },
        [&](double point) {
            return std::sqrt(2 * (costs_.perOrder * rate_ + both * demand_.secondLoss(point)) /
                             costs_.holding);
        });
}

PointAndSize WatchedShelf::byExpectedStock() const {
    return settled(
        bySafetyStock().size,
        [&](double size) { return demand_.quantile(1 - costs_.holding * size / (costs_.missing * rate_)); },
        [&](double point) {
            return std::sqrt(2 * rate_ * (costs_.perOrder + costs_.missing * demand_.loss(point)) /
                             costs_.holding);
        });
}

double WatchedShelf::expectedStockCost(PointAndSize at) const {
    return costs_.holding * (at.point - demand_.mean + at.size / 2) + costs_.perOrder * rate_ / at.size +
           costs_.missing * rate_ * demand_.loss(at.point) / at.size;
}

namespace {

double costOfWholeLevel(const forecast::Pmf &demand, const ShelfCosts &costs, std::int64_t y) {
    return costs.holding * (static_cast<double>(y) - demand.mean()) +
           (costs.holding + costs.missing) * demand.shortage(y);
}

} // namespace

double cost(double rate, const forecast::Pmf &untilArrival, const ShelfCosts &costs, std::int64_t point,
            std::int64_t size) {
    KITROUND_REQUIRE(size > 0);
    double sum = costs.perOrder * rate;
    for (std::int64_t y = point + 1; y <= point + size; ++y)
        sum += costOfWholeLevel(untilArrival, costs, y);
    return sum / static_cast<double>(size);
}

WholePointAndSize bestPointAndSize(double rate, const forecast::Pmf &untilArrival, const ShelfCosts &costs) {
    KITROUND_REQUIRE(costs.holding > 0 && costs.missing > 0);
    const auto at = [&](std::int64_t y) { return costOfWholeLevel(untilArrival, costs, y); };
    const std::int64_t cheapest = untilArrival.quantile(costs.missing / (costs.holding + costs.missing));
    WholePointAndSize best{cheapest - 1, 1, costs.perOrder * rate + at(cheapest)};
    double sum = best.cost;
    for (;;) {
        const double below = at(best.point), above = at(best.point + best.size + 1);
        const double next = std::min(below, above);
        if (next >= best.cost)
            return best;
        sum += next;
        best.point -= below <= above ? 1 : 0;
        ++best.size;
        best.cost = sum / static_cast<double>(best.size);
    }
}

double fillRate(const NormalDemand &untilArrival, PointAndSize at) {
    return 1 - (untilArrival.loss(at.point) - untilArrival.loss(at.point + at.size)) / at.size;
}

double pointForFillRate(const NormalDemand &untilArrival, double size, double share) {
    KITROUND_REQUIRE(share > 0 && share < 1);
    return untilArrival.levelMissing(size * (1 - share));
}

} // namespace kitround::supply
