#pragma once
// A year of refills and of the storeroom behind them under one policy. A refill asked for on a weekday
// arrives on the day the policy names, at the earliest the next weekday; what the storeroom does not have is
// not sent.
#include "core/base/Result.h"
#include "tests/bench/year/YearHomes.h"

#include <string>

namespace kitround::bench {

struct YearOutcome {
    std::string name;
    int homes = 0;         // in service at some time of the year
    int dryHomes = 0;      // of them, those where a drain found no kit or no bottle, once or more
    int dryDrains = 0;     // such drains
    std::int64_t sent = 0; // eaches
    std::int64_t lost = 0; // eaches left over, or on their way, when a home left: sterile, not given again
    double daysHeld = 0;   // kits at home in days of the plan, mean over homes and days
    int orders = 0;        // deliveries
    double cost = 0; // currency units: eaches sent or expired on the shelf, courier runs, purchase orders,
                     // at the prices named in the source
    int storeroomEmptyDays = 0;        // summed over the items in use
    std::int64_t storeroomExpired = 0; // eaches thrown away there
    int storeroomOrders = 0;           // to the supplier
    double storeroomDays = 0;          // what stands there, in days of what it gives
    double wasteShare() const { return sent > 0 ? static_cast<double>(lost) / static_cast<double>(sent) : 0; }
};

// The tool's: forecast and refill list each weekday; who is to be called today is counted and sent what the
// list then says. The storeroom orders by the reorder list every Monday.
struct RefillWish {                  // the agency's settings
    std::int64_t targetPermille = 0; // chance of running out before the next delivery
    std::int64_t cycleDays = 0;      // aimed at from one delivery to the next
};
Result<YearOutcome> forecastRefills(const Year &year, const std::string &name, const RefillWish &wish);
// Thirty days of the plan, every thirty days; no count. Here and below the storeroom orders every Monday by
// Storeroom::orderByHabit, and owes the homes what it does not have: sent once it is there.
YearOutcome fixedRefills(const Year &year);
// Every two weeks a count, and up to three weeks of the plan and three sessions (assumed).
YearOutcome parLevels(const Year &year);

} // namespace kitround::bench
