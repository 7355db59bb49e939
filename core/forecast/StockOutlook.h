#pragma once
// What is known of one item's stock at one home: at hand by the ledger, on its way, promised.
#include "core/forecast/HomeForecast.h"

namespace kitround::forecast {

struct StockOutlook {
    std::vector<std::int64_t> onDay; // at hand or arrived, by day of the horizon
    bool arrivesLater = false;       // something arrives after the as-of day
    std::optional<Date> firstDelivered;
};
// What stands in for the item at the home, by a record in force, is counted in eaches of the item.
// What may be of a recalled lot is not at hand, nor what is past its last day of use on the as-of date. What
// expires later stays at hand beyond its day: how much of it is used before is not certain.
// Also fills the stock's fields of `f` (catheter, patient and item are set).
StockOutlook knowStock(const SnapshotIndex &agency, Days horizon, ItemForecast &f);

} // namespace kitround::forecast
