#include "core/supply/Substitutes.h"

#include "core/base/Require.h"
#include "core/forecast/UseModel.h"

#include <algorithm>

namespace kitround::supply {

SubstitutionNeed substitutionNeed(Sessions sessions, std::span<const Millilitres> volumes,
                                  Millilitres substituteSize, Eaches per) {
    KITROUND_REQUIRE(substituteSize.count() > 0 && per.count() > 0);
    const std::int64_t n = std::max<std::int64_t>(sessions.count(), 0);
    std::int64_t bottles = n * per.count();
    if (!volumes.empty()) {
        std::int64_t opened = 0;
        for (const Millilitres volume : volumes)
            opened += std::min(forecast::bottlesForSession(volume, substituteSize, std::nullopt).count(),
                               per.count());
        const auto logged = static_cast<std::int64_t>(volumes.size());
        bottles = (n * opened + logged - 1) / logged;
    }
    return {Bottles::of(bottles), Eaches::of(n), static_cast<int>(bottles)};
}

std::vector<Millilitres> loggedVolumes(const SnapshotIndex &agency, CatheterId catheter) {
    std::vector<Millilitres> volumes;
    for (const DrainEntry &entry : agency.entriesOf(catheter))
        if (entry.outcome == DrainOutcome::Drained && entry.volume)
            volumes.push_back(*entry.volume);
    return volumes;
}

Eaches standInPer(const SnapshotIndex &agency, ItemId ordered, ItemId standIn) {
    if (const Item *item = agency.item(ordered))
        if (const auto way = std::ranges::find(item->substitutes, standIn, &Substitute::item);
            way != item->substitutes.end())
            return way->per;
    return Eaches::of(1);
}

StandsIn standsInFor(const SnapshotIndex &agency, CatheterId catheter, ItemId item, Date on) {
    const DrainOrder *order = agency.orderInForce(catheter, on);
    if (!order || order->uses(item))
        return {};
    for (const std::optional<ItemId> ordered : {std::optional(order->kit), order->extraBottle}) {
        const Item *record = ordered ? agency.item(*ordered) : nullptr;
        if (!record ||
            std::ranges::find(record->substitutes, item, &Substitute::item) == record->substitutes.end())
            continue;
        if (!order->allowsSubstitute)
            return {SubstitutionState::OrderForbids, *ordered};
        const Substitution *s = agency.substitutionInForce(catheter, *ordered, on);
        return {s && s->standIn == item ? SubstitutionState::Recorded : SubstitutionState::NotRecorded,
                *ordered};
    }
    return {};
}

} // namespace kitround::supply
