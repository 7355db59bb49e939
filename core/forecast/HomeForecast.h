#pragma once
// The predictive distribution of use at one home, item by item, and when it runs out. Exact convolution of
// sessions done (SessionCounts: Beta-binomial, or the recursion over points of the belief where holds or
// as-needed orders ask for it) x units a session at each level the home's mean may have x waste, with the
// chance to leave service laid over it (ExitOutlook). What is left at home: the ledger, less what the silent
// days since the last entry used and what the days before them used unwritten (UnrecordedUse). Deterministic.
//
// Not in it: holds that have not begun, weekdays (whole weeks do not feel them).
#include "core/base/LargePages.h"
#include "core/base/Progress.h"
#include "core/base/Result.h"
#include "core/forecast/AgencyFigures.h"
#include "core/forecast/UseModel.h"

#include <stop_token>
#include <vector>

namespace kitround::forecast {

struct WeekUse {
    Date from; // 7 days from here, counted from the as-of date
    std::int32_t p10 = 0, p50 = 0, p90 = 0;
    double mean = 0;
};
// Cumulated use up to and with a day: what the fan chart draws.
struct DayUse {
    std::uint16_t p05 = 0, p25 = 0, p50 = 0, p75 = 0, p95 = 0; // small: an agency holds a million of them
    // P(some day up to this one asked for more than was at hand), deliveries in transit counted from their
    // promised day; never falls. 0 where the stock is not known: look at `knowledge` first.
    double chanceDry = 0;
};
// The trade's rule, for checking by hand: sessions x units, with its own run-out day.
struct PlainRule {
    BlockVector<std::int32_t> cumulated; // by day, same length as days
    std::optional<Date> lastCoveredDrain;
    std::optional<Date> supplyEnds; // last covered drain + interval - 1 (our definition)

    std::size_t weeks() const { return cumulated.size() / 7; }
    std::int64_t inWeek(std::size_t w) const { // precondition: w < weeks()
        return cumulated[7 * w + 6] - (w == 0 ? 0 : cumulated[7 * w - 1]);
    }
};

enum class StockKnowledge : std::uint8_t { Counted, DeliveredOnly, Unknown };

struct ItemForecast {
    CatheterId catheter;
    PatientId patient;
    ItemId item;
    StockKnowledge knowledge = StockKnowledge::Unknown;
    std::optional<LocalTime> countedAt;
    Eaches onHand; // ledger balance of the home line, negative where the record is wrong (taken as none left)
    Eaches recalled;            // of onHand, at most: of a recalled lot, not to be used; not counted as stock
    Eaches expired;             // of onHand, besides: past its last day today; not counted as stock
    Eaches unloggedP50;         // use since the count that nobody wrote down, median
    Eaches inTransit;           // picked or on the way; late parcels are expected tomorrow
    Eaches promised;            // agreed, not shipped yet; not counted as stock
    BlockVector<WeekUse> weeks; // 12
    BlockVector<DayUse> days;   // 84, the first is the as-of day: see dayOf
    std::vector<Pmf> cumulated; // by day (index 0: use during as-of day), for supply's computations
    PlainRule plain;
    // Run-out: first day whose use cannot be met. p10 is the early one. Nothing beyond the horizon.
    std::optional<Date> runOutP10, runOutP50, runOutP90;
    double daysOfSupply = 0; // mean days until run-out, at most the horizon; 0 where the stock is not known
    bool isOnHold = false;
    UseModel model; // of its items this one alone, with its levels where `cumulated` is kept
    Date asOf;

    Eaches usable() const { return onHand - recalled - expired; } // negative like onHand
    Date dayOf(std::size_t d) const { return asOf.plusDays(static_cast<std::int64_t>(d)); }
};

struct ForecastOptions {
    Days horizon = Days::of(84);
    bool keepCumulated = true; // false saves memory where only the summary is shown
};

// All items of one catheter: the order's kit and extra bottle, then those of orders that start within the
// horizon. Empty where there is no order, or the catheter is out of service.
std::vector<ItemForecast> forecastHome(const SnapshotIndex &agency, const Catheter &catheter,
                                       const ForecastOptions &options, const AgencyFigures &figures);
// The same; learns the agency's figures first.
std::vector<ItemForecast> forecastHome(const SnapshotIndex &agency, const Catheter &catheter,
                                       const ForecastOptions &options);
// Every catheter in service, by catheter id then item. Problem Cancelled when stopped.
Result<std::vector<ItemForecast>> forecastAll(const SnapshotIndex &agency, const ForecastOptions &options,
                                              const AgencyFigures &figures, std::stop_token stop,
                                              const ProgressSink &progress);
// The same; learns the agency's figures first.
Result<std::vector<ItemForecast>> forecastAll(const SnapshotIndex &agency, const ForecastOptions &options,
                                              std::stop_token stop, const ProgressSink &progress);

} // namespace kitround::forecast
