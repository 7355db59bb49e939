#include "core/forecast/Bottling.h"

#include "core/base/Require.h"

#include <algorithm>

namespace kitround::forecast {

Bottles bottlesForSession(Millilitres volume, Millilitres bottleSize,
                          std::optional<Millilitres> mostPerSession) {
    KITROUND_REQUIRE(bottleSize.count() > 0);
    const std::int64_t drained = (mostPerSession ? std::min(volume, *mostPerSession) : volume).count();
    return Bottles::of(std::max<std::int64_t>(1, (drained + bottleSize.count() - 1) / bottleSize.count()));
}

Bottling bottlingOf(const SnapshotIndex &agency, const DrainOrder &order) {
    Bottling b;
    b.kit = order.kit;
    b.most = order.mostPerSession;
    const auto volumeOf = [&](ItemId id) {
        const Item *item = agency.item(id);
        return item && item->bottleVolume && item->bottleVolume->count() > 0 ? item->bottleVolume
                                                                             : std::nullopt;
    };
    b.kitVolume = volumeOf(order.kit);
    if (order.extraBottle && *order.extraBottle != order.kit) {
        b.extra = order.extraBottle;
        b.extraVolume = volumeOf(*order.extraBottle);
    }
    return b;
}

SessionUnits unitsOf(const Bottling &b, Millilitres volume) {
    SessionUnits units;
    if (!b.kitVolume)
        return units;
    if (!b.extra || !b.extraVolume) {
        units.kits = bottlesForSession(volume, *b.kitVolume, b.most).count();
        return units;
    }
    const Millilitres drained = b.most ? std::min(volume, *b.most) : volume;
    if (drained > *b.kitVolume)
        units.extras = bottlesForSession(drained - *b.kitVolume, *b.extraVolume, std::nullopt).count();
    return units;
}

} // namespace kitround::forecast
