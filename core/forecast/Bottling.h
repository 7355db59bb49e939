#pragma once
// How the volume of a session becomes opened units: one kit and, beyond its bottle, extra bottles.
#include "core/records/Snapshot.h"

#include <optional>

namespace kitround::forecast {

struct Bottling { // of one order
    ItemId kit;
    std::optional<ItemId> extra;
    std::optional<Millilitres> kitVolume;
    std::optional<Millilitres> extraVolume;
    std::optional<Millilitres> most; // prescribed, a session
};
Bottling bottlingOf(const SnapshotIndex &agency, const DrainOrder &order);

struct SessionUnits {
    std::int64_t kits = 1;
    std::int64_t extras = 0;
};
// Where the order names no extra bottle, further kits stand in. An unknown bottle size: one kit.
SessionUnits unitsOf(const Bottling &bottling, Millilitres volume);

// Bottles a session of `volume` opens: max(1, ceil(volume / size)); a dry tap still opens one (common
// practice). Volume is capped at the prescribed maximum first where there is one.
Bottles bottlesForSession(Millilitres volume, Millilitres bottleSize,
                          std::optional<Millilitres> mostPerSession);

} // namespace kitround::forecast
