#include "core/supply/Economics.h"

#include "core/base/Require.h"

#include <algorithm>
#include <cmath>

namespace kitround::supply {
namespace {

double eachesIn(const SupplierItem &offer, Cases cases) {
    return static_cast<double>(toEaches(cases, offer.pack).count());
}

double priceEach(const SupplierItem &offer, Cases cases) {
    return static_cast<double>(priceFor(offer, cases).count()) /
           static_cast<double>(offer.pack.eachesPerCase.count());
}

} // namespace

double yearlyCost(const SupplierItem &offer, Cases cases, const OrderCosts &costs) {
    const double size = eachesIn(offer, cases), price = priceEach(offer, cases);
    return costs.perOrder * costs.eachesPerYear / size + costs.holdingPerYear * price * size / 2 +
           price * costs.eachesPerYear;
}

std::optional<Cases> economicOrder(const SupplierItem &offer, const OrderCosts &costs) {
    const Cases least = std::max(offer.leastLine, Cases::of(1));
    if (costs.eachesPerYear <= 0 || costs.holdingPerYear <= 0 || priceEach(offer, least) <= 0)
        return std::nullopt;
    std::vector<Cases> candidates{least};
    std::vector<Cases> starts{least};
    for (const PriceBreak &step : offer.breaks)
        starts.push_back(std::max(step.from, least));
    for (const Cases start : starts) {
        candidates.push_back(start);
        const double price = priceEach(offer, start);
        if (price <= 0)
            continue;
        const double best =
            std::sqrt(2 * costs.perOrder * costs.eachesPerYear / (costs.holdingPerYear * price)) /
            static_cast<double>(offer.pack.eachesPerCase.count());
        // Each cost is asked at the price of the size itself: what falls outside the price's range loses.
        candidates.push_back(std::max(least, Cases::of(static_cast<std::int64_t>(std::floor(best)))));
        candidates.push_back(std::max(least, Cases::of(static_cast<std::int64_t>(std::ceil(best)))));
    }
    if (costs.mostCases > 0) {
        const Cases most = std::max(least, Cases::of(costs.mostCases));
        for (Cases &candidate : candidates)
            candidate = std::min(candidate, most);
    }
    return *std::ranges::min_element(candidates, {},
                                     [&](Cases cases) { return yearlyCost(offer, cases, costs); });
}

double criticalRatio(const PieceCosts &costs) {
    KITROUND_REQUIRE(costs.missing + costs.leftOver > 0);
    return costs.missing / (costs.missing + costs.leftOver);
}

double cycleCost(const forecast::Pmf &demand, std::int64_t level, const PieceCosts &costs) {
    const double shortage = demand.shortage(level);
    return costs.missing * shortage +
           costs.leftOver * (static_cast<double>(level) - demand.mean() + shortage);
}

double fillRate(const forecast::Pmf &untilArrival, const forecast::Pmf &untilNext, std::int64_t level) {
    const double asked = untilNext.mean() - untilArrival.mean();
    if (asked <= 0)
        return 1;
    return std::clamp(1 - (untilNext.shortage(level) - untilArrival.shortage(level)) / asked, 0.0, 1.0);
}

} // namespace kitround::supply
