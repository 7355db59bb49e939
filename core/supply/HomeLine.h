#pragma once
// One item at one home as supply looks at it: the forecast with its stock, read safely beyond its horizon.
// Used by the refills and by the storeroom's demand, so that both see the same home.
#include "core/forecast/HomeForecast.h"

#include <optional>

namespace kitround::supply {

class HomeLine {
public:
    // Borrows the forecast, which must have kept its cumulated distributions. An unknown stock counts as what
    // is on its way only.
    HomeLine(const forecast::ItemForecast &forecast, Date asOf);

    const forecast::ItemForecast &forecast() const { return *forecast_; }
    bool isKnown() const { return forecast_->knowledge != forecast::StockKnowledge::Unknown; }
    // In the home by the ledger, less what may be of a recalled lot, what is past its last day and what was
    // likely used and not written down, plus in transit and promised.
    std::int64_t stock() const { return stock_; }

    // Use of the first `days` days from the as-of date; 0 days use nothing. Beyond the horizon the last four
    // weeks' mean goes on.
    double meanUse(std::int64_t days) const;
    std::int64_t useQuantile(std::int64_t days, double p) const;
    std::int64_t plainUse(std::int64_t days) const;
    bool hasPlainRule() const;
    double meanPerDay() const;  // over the horizon
    double plainPerDay() const; // over the horizon
    // Chance of running dry within the first `days` days, if nothing more is sent. The forecast's own figure
    // (which knows the spread of what nobody wrote down, and when a parcel arrives) unless something is
    // promised; then, and beyond the horizon, the chance that the use passes the stock.
    double chanceDry(std::int64_t days) const;
    // Delivering on this day still keeps the chance of running dry before it at or below the target. Nothing
    // where the target holds over the whole horizon. `firstDelivery`: days to the first possible delivery.
    // Where goods are on their way that last to a week beyond it, the days until they come are past helping
    // and do not count.
    std::optional<Date> deliverBy(double target, std::int64_t firstDelivery = 0) const;
    // First day up to and with which the chance of running dry reaches this one, what is promised counted.
    // Nothing within the horizon, or where the stock is not known.
    std::optional<Date> runOutFrom(double chance) const;
    // Day before the first drain that the stock does not cover, by the plain rule; for as-needed orders the
    // day before the median use passes the stock. Nothing within the horizon.
    std::optional<Date> supplyEnds() const;
    // Days from the as-of date's day `from` covered by `left` eaches, by the plain rule (or the mean use).
    double daysCovered(std::int64_t from, std::int64_t left) const;
    // Eaches that `sessions` sessions take, to the nearest; without a model one each.
    std::int64_t unitsFor(std::int64_t sessions) const;
    std::int64_t horizon() const { return static_cast<std::int64_t>(forecast_->cumulated.size()); }

private:
    bool usesForecastsChance() const;
    // Chance that the use of `days` days within the horizon passes all that is there or coming.
    double chanceUsedUp(std::int64_t days) const;

    const forecast::ItemForecast *forecast_;
    Date asOf_;
    std::int64_t stock_ = 0;
    std::vector<double> means_; // by day
    double lateRate_ = 0;       // mean a day over the last four weeks of the horizon
};

} // namespace kitround::supply
