#include "core/supply/ServiceLevels.h"

#include "core/supply/ItemReview.h"

namespace kitround::supply {

LevelEffect ServiceOutlook::at(std::int64_t permille) const {
    LevelEffect effect;
    effect.servicePermille = permille;
    effect.orderUpTo = Eaches::of(demand.quantile(static_cast<double>(permille) / 1000.0));
    effect.cases =
        casesToOrder({position, effect.orderUpTo - Eaches::of(1), effect.orderUpTo, pack, leastLine});
    if (offer)
        effect.money = priceFor(*offer, effect.cases) * effect.cases.count();
    effect.chanceShort = demand.above((position + toEaches(effect.cases, pack)).count());
    return effect;
}

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
        all.push_back(std::move(outlook));
    }
    return all;
}

} // namespace kitround::supply
