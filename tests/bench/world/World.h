#pragma once
// Agencies whose truth is known: every drain of every home over 120 days of the past and 84 of the future, by
// a process that shares no code with core/forecast, and what such an agency would have written down. Each
// world departs from what the forecast assumes in the way it is named. All rates are invented, unless a
// source is named beside them.
#include "core/records/Snapshot.h"

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace kitround::bench {

enum class WorldKind : std::uint8_t {
    ModelLike,      // constant adherence, independent volumes, the published hazards
    Weekday,        // far fewer drains at the weekend
    Bursts,         // weeks of flare: more fluid, drains beyond the order; and weeks of weakness
    UnderReporting, // drains that nobody writes down, others written down days late
    RegimeChange,   // a procedure in the last weeks cuts the fluid; some orders are thinned
    VolumeTrend,    // fluid that grows or tapers week by week
    Exits,          // twice the hazard, most in the first weeks, homes unlike one another
    HospitalStays,  // one in three homes away for a week or so, some not back yet
};
struct WorldName {
    WorldKind kind;
    const char *name;
};
std::span<const WorldName> worldNames();

inline constexpr int kPastDays = 120;
inline constexpr int kFutureDays = 84;

// Units opened (used and lost) by day, the as-of day first: [0] the order's kit, [1] the extra bottle.
struct HomeFuture {
    CatheterId catheter;
    std::array<std::array<std::uint8_t, kFutureDays>, 2> units{};
};

struct World {
    Snapshot snapshot;               // `patients` homes in service, and those that left in the 120 days
    std::vector<HomeFuture> futures; // of the homes in service, by catheter
};
struct WorldWish {
    WorldKind kind = WorldKind::ModelLike;
    int patients = 1000;
    std::uint64_t seed = 1;
    Date today = Date::of(2026, 11, 19);
    bool withHistory = true; // false: no log of those who left (for timing)
};
World makeWorld(const WorldWish &wish);

} // namespace kitround::bench
