#pragma once
// A year of refills under one policy. The storeroom is never short here; a refill asked for on a weekday
// arrives on the day the policy names, at the earliest the next weekday.
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
    double cost = 0;       // currency units: eaches sent and courier runs, at the prices named in the source
    double wasteShare() const { return sent > 0 ? static_cast<double>(lost) / static_cast<double>(sent) : 0; }
};

// The tool's: forecast and refill list each weekday; who is to be called today is counted and sent what the
// list then says. `target`: the agency's setting, chance of running out before the next possible delivery.
Result<YearOutcome> forecastRefills(const Year &year, const std::string &name, std::int64_t targetPermille);
// Thirty days of the plan, every thirty days; no count.
YearOutcome fixedRefills(const Year &year);
// Every two weeks a count, and up to three weeks of the plan and three sessions (assumed).
YearOutcome parLevels(const Year &year);

} // namespace kitround::bench
