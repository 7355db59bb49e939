#pragma once
// Demand on the storeroom: dependent on the homes' refills and their uncertainty, plus new referrals' starter
// sets (compound Poisson), by item, over a lead time and a review period.
#include "core/forecast/HomeForecast.h"
#include "core/supply/Refills.h"

#include <vector>

namespace kitround::supply {

struct ItemDemand {
    ItemId item;
    double mean = 0;
    double variance = 0;
    double meanPerDay = 0;
    forecast::Pmf total; // demand on the storeroom from the as-of date over `days`
    Days days;
    std::vector<double> meanByWeek; // 12
};
// Demand over the next `days` of one item: what homes will be sent, given what they hold.
ItemDemand storeroomDemand(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts,
                           ItemId item, Days days);

} // namespace kitround::supply
