#pragma once
// How good has the forecast been: the agency as it was known on past days, forecast anew, against what its
// log says came, beside simple forecasts from the same log. Rolling origin.
#include "core/forecast/backtest/Comparison.h"

#include <stop_token>
#include <vector>

namespace kitround::forecast {

struct BacktestOptions {
    int origins = 6;    // past days to forecast from
    int weeksApart = 2; // between them; the latest lies so far before the as-of date
};
struct Backtest {
    std::vector<Date> origins; // latest first; those with at least four weeks of log before them
    Comparison comparison;     // score().cases is 0 where there is nothing to compare
};

// What was on record on the morning of a past day: later entries, counts, deliveries, orders, holds and exits
// are taken out; an end that was set later is open again. Stock is left out: use is what is compared.
Snapshot asKnownOn(const Snapshot &now, Date origin);

// A home's horizon counts where its log reaches the horizon's last week, or it had left by then.
// Problem Cancelled when stopped.
Result<Backtest> backtest(const SnapshotIndex &agency, const BacktestOptions &options, std::stop_token stop,
                          const ProgressSink &progress);

} // namespace kitround::forecast
