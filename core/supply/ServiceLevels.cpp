#include "core/supply/ServiceLevels.h"

#include "core/supply/ItemReview.h"

#include <algorithm>
#include <cmath>

namespace kitround::supply {

LevelEffect ServiceOutlook::at(std::int64_t permille) const {
    LevelEffect effect;
    effect.servicePermille = permille;
    effect.orderUpTo = Eaches::of(demand.quantile(static_cast<double>(permille) / 1000.0));
    effect.cases =
        casesToOrder({position, effect.orderUpTo - Eaches::of(1), effect.orderUpTo, pack, leastLine});
    if (offer)
        effect.money = priceFor(*offer, effect.cases) * effect.cases.count();
    const std::int64_t there = (position + toEaches(effect.cases, pack)).count();
    effect.chanceShort = demand.above(there);
    effect.asked = std::max(0.0, demand.mean() - demandToArrival.mean());
    effect.fillRate = fillRate(demandToArrival, demand, there);
    effect.cycleCost = cycleCost(demand, there, pieceCosts);
    return effect;
}

std::optional<std::int64_t> ServiceOutlook::cheapestPermille() const {
    if (pieceCosts.missing <= 0 || pieceCosts.leftOver <= 0)
        return std::nullopt;
    return std::clamp<std::int64_t>(std::llround(1000 * criticalRatio(pieceCosts)), 1, 999);
}

namespace {

PieceCosts pieceCostsOf(const SupplierItem *offer, const AgencySettings &settings) {
    PieceCosts costs;
    costs.missing = static_cast<double>(settings[SettingKey::CourierCostMinor]);
    if (offer) {
        const double each = static_cast<double>(offer->perCase.count()) /
                            static_cast<double>(offer->pack.eachesPerCase.count());
        costs.leftOver = each * static_cast<double>(settings[SettingKey::HoldingPermilleAYear]) / 1000.0 *
                         static_cast<double>(settings[SettingKey::ReviewDays]) / 365.0;
    }
    return costs;
}

} // namespace

std::vector<ServiceOutlook> serviceOutlooks(const SnapshotIndex &agency,
                                            std::span<const forecast::ItemForecast> forecasts) {
    const StoreroomModel model(agency, forecasts);
    const std::map<ItemId, Position> positions = positionsOf(agency);
    TermsBook terms(agency);
    std::vector<ServiceOutlook> all;
    for (const Item &item : agency.snapshot().items) {
        if (!item.isActive)
            continue;
        const auto offers = offersFor(agency, item.id);
        const auto stands = positions.find(item.id);
        const Position position = stands == positions.end() ? Position{} : stands->second;
        ServiceOutlook outlook;
        outlook.item = item.id;
        outlook.stockClass = item.stockClass;
        outlook.hasOwnLevel = item.serviceLevelPermille.has_value();
        outlook.offer = offers.empty() ? nullptr : offers.front();
        outlook.leastLine = outlook.offer ? outlook.offer->leastLine : Cases::of(1);
        ItemReview review(agency, model, item, position,
                          terms.of(outlook.offer ? outlook.offer->supplier : SupplierId{}), outlook.offer);
        const ReorderLine line = review.plan().line;
        outlook.servicePermille = line.servicePermille;
        outlook.position = line.position;
        outlook.pack = line.pack;
        outlook.demand = review.demandToCover();
        outlook.demandToArrival = review.demandToArrival();
        outlook.pieceCosts = pieceCostsOf(outlook.offer, agency.snapshot().settings);
        all.push_back(std::move(outlook));
    }
    return all;
}

} // namespace kitround::supply
