#include "core/supply/CostOpinion.h"

#include <algorithm>
#include <cmath>

namespace kitround::supply {
namespace {

constexpr std::int64_t kLookDays = 28;
constexpr double kDaysAYear = 365;
constexpr double kLeastDemand = 1;         // eaches in those days: below it there is nothing to say
constexpr double kLargestExactPerDay = 60; // beyond it the power approximation is as good and quick

ShelfCosts dailyCosts(const AgencySettings &settings, const SupplierItem &offer) {
    const double each =
        static_cast<double>(offer.perCase.count()) / static_cast<double>(offer.pack.eachesPerCase.count());
    ShelfCosts costs;
    costs.perOrder = static_cast<double>(settings[SettingKey::OrderCostMinor]);
    costs.holding =
        each * static_cast<double>(settings[SettingKey::HoldingPermilleAYear]) / 1000.0 / kDaysAYear;
    costs.missing = static_cast<double>(settings[SettingKey::CourierCostMinor]);
    return costs;
}

forecast::Pmf demandOf(const Shipments &shipments, double days) {
    return sumOf({compoundPoisson(shipments.rate * days, shipments.size)}).distribution;
}

// What an order has to bring by each week so that nothing runs short.
std::vector<double> missingByWeek(std::span<const double> left) {
    std::vector<double> missing;
    double covered = 0;
    for (const double amount : left) {
        const double more = std::max(0.0, -amount - covered);
        missing.push_back(more);
        covered += more;
    }
    return missing;
}

MinMax watched(const ItemDemand &demand, const Terms &terms, const ShelfCosts &costs) {
    const double perDay = demand.mean / kLookDays;
    const Shipments shipments = shipmentsOf(perDay, demand.variance / kLookDays);
    const auto highest = static_cast<std::int64_t>(std::ceil(perDay * kOverstockDays));
    if (perDay > kLargestExactPerDay) {
        const double days = terms.lead.meanDays + 1;
        const double variance = days * demand.variance / kLookDays +
                                perDay * perDay * terms.lead.spreadDays * terms.lead.spreadDays;
        const NormalDemand untilNext{perDay * days, std::sqrt(variance)};
        const PowerMinMax found = powerMinMax(perDay, untilNext, costs);
        // Where a piece missing costs a thousand times its keeping the approximation goes astray; no order
        // need come sooner than where the shelf that costs least without orders stands.
        const double cheapest = untilNext.quantile(costs.missing / (costs.holding + costs.missing));
        const std::int64_t least = std::llround(std::min(found.least, cheapest));
        const std::int64_t most = least + std::llround(found.most - found.least);
        return {least, std::max(least + 1, std::min(highest, most))};
    }
    std::vector<forecast::Pmf> untilNext;
    for (std::size_t lead = 0; lead < terms.leadChances.size(); ++lead)
        untilNext.push_back(demandOf(shipments, static_cast<double>(lead) + 1));
    return LookedAtShelf{demandOf(shipments, 1), forecast::Pmf::mixture(untilNext, terms.leadChances), costs}
        .best(highest);
}

} // namespace

Shipments shipmentsOf(double mean, double variance) {
    Shipments shipments;
    if (mean <= 0)
        return shipments;
    const double ratio = std::max(1.0, variance / mean); // E[X^2] / E[X] of the sizes
    const double low = std::floor(ratio), high = low + 1;
    // w low^2 + (1 - w) high^2 = ratio (w low + (1 - w) high)
    const double gainHigh = high * (high - ratio), lossLow = low * (ratio - low);
    const double w = gainHigh / (gainHigh + lossLow);
    std::vector<double> chances(static_cast<std::size_t>(high) + 1, 0.0);
    chances[static_cast<std::size_t>(low)] = w;
    chances[static_cast<std::size_t>(high)] = 1 - w;
    shipments.size = forecast::Pmf(std::move(chances));
    shipments.rate = mean / shipments.size.mean();
    return shipments;
}

std::optional<CostOpinion> costOpinion(const AgencySettings &settings, const StoreroomModel &model,
                                       ItemId item, const Terms &terms, const SupplierItem *offer,
                                       std::span<const double> left) {
    if (!offer)
        return std::nullopt;
    const ShelfCosts costs = dailyCosts(settings, *offer);
    const ItemDemand demand = model.demand(item, Days::of(kLookDays));
    if (demand.mean < kLeastDemand || costs.holding <= 0 || costs.missing <= 0 || costs.perOrder <= 0)
        return std::nullopt;
    CostOpinion opinion;
    opinion.watched = watched(demand, terms, costs);
    const std::vector<double> missing = missingByWeek(left);
    opinion.orders =
        cheapestOrders(missing, std::vector<double>(missing.size(), costs.perOrder), costs.holding * 7);
    opinion.perDay = demand.mean / kLookDays;
    opinion.leadDays = terms.lead.meanDays;
    return opinion;
}

} // namespace kitround::supply
