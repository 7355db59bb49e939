#pragma once
// One home's true life, day by day: what its patient drained, opened and lost, when it was away, when it
// left. Days are numbered from the as-of day (negative: the past).
#include "core/records/Drains.h"
#include "core/records/People.h"
#include "tests/bench/world/Draws.h"
#include "tests/bench/world/World.h"

#include <optional>
#include <vector>

namespace kitround::bench {

struct OrderVersion {
    int from = 0;
    DrainPattern pattern;
};
struct TrueSession {
    int day = 0;
    int millilitres = 0;
    int kits = 1, kitsLost = 0;
    int extras = 0, extrasLost = 0;
};
struct Stay { // away in hospital, no drains: [from, to)
    int from = 0;
    int to = 0;
};
struct MissedDrain {
    int day = 0;
};
struct HomeLife {
    CavitySite site = CavitySite::Chest;
    bool hasLargeKit = false;
    int bottleMl = 500;
    int mostMl = 1000;
    int start = -60;
    std::optional<int> exit; // first day not in service any more
    std::vector<OrderVersion> orders;
    std::vector<TrueSession> sessions;
    std::vector<MissedDrain> missed;
    std::vector<Stay> stays;
};
// What the homes of one agency have in common.
struct AgencyTraits {
    double exitFactor = 1;
    double adherenceShift = 0; // on the logit scale
    double volumeFactor = 1;
};
// From `start` to the day before `end`.
HomeLife liveHome(WorldKind world, const AgencyTraits &agency, int start, int end, Date today, Draws &draws);

} // namespace kitround::bench
