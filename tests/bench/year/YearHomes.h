#pragma once
// A year of an agency's homes as they truly live, and what they write down: the same for every policy.
#include "core/records/Snapshot.h"
#include "tests/bench/world/HomeLife.h"

#include <array>
#include <vector>

namespace kitround::bench {

inline constexpr int kYearDays = 364;

struct YearHome {
    CatheterId catheter;         // patient and catheter share the number
    HomeLife life;               // day 0 is the year's first
    std::array<ItemId, 2> items; // kit, extra bottle
    std::vector<DrainEntry> log; // by day; written down `daysBehind` days later
    int daysBehind = 1;

    bool isInServiceOn(int day) const { return life.start <= day && (!life.exit || day < *life.exit); }
    bool isAwayOn(int day) const;
    const DrainPattern &patternOn(int day) const;
    // Sessions a day that the order plans on a day, as needed at three quarters of the maximum.
    double plannedPerDay(int day) const;
    // Extra bottles a session by the last eight weeks of the log as known on a day; a quarter before there is
    // a log (assumed).
    double extrasPerSession(Date on) const;
};

struct Year {
    Date firstDay;
    std::uint64_t seed = 0;      // of the storeroom's supplier too
    double comingPerDay = 0;     // new homes
    std::vector<YearHome> homes; // also those that come or leave in between
};
// `patients` in service at the start; new ones come as others leave. Every kind of world lives side by side.
Year makeYear(int patients, std::uint64_t seed);

} // namespace kitround::bench
