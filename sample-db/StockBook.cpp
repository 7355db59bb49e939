#include "sample-db/StockBook.h"

#include <algorithm>

namespace kitround::sample {

void StockBook::post(const StockMovement &movement) {
    const StockMovement &m = added(s_.movements, movement);
    const std::int64_t lot = m.lot ? m.lot->value() : 0;
    if (isInside(m.from.kind))
        sums_[{m.from, m.item, lot}] -= m.quantity.count();
    if (isInside(m.to.kind))
        sums_[{m.to, m.item, lot}] += m.quantity.count();
}

Eaches StockBook::at(const Place &place, ItemId item, std::optional<LotId> lot) const {
    const auto found = sums_.find({place, item, lot ? lot->value() : 0});
    return found == sums_.end() ? Eaches{} : Eaches::of(found->second);
}

Eaches StockBook::atPlace(const Place &place, ItemId item) const {
    std::int64_t sum = 0;
    for (auto at = sums_.lower_bound({place, item, 0});
         at != sums_.end() && std::get<0>(at->first) == place && std::get<1>(at->first) == item; ++at)
        sum += at->second;
    return Eaches::of(sum);
}

std::vector<std::pair<LotId, Eaches>> StockBook::lotsAt(const Place &place, ItemId item) const {
    std::vector<std::pair<LotId, Eaches>> lots;
    for (auto at = sums_.lower_bound({place, item, 1});
         at != sums_.end() && std::get<0>(at->first) == place && std::get<1>(at->first) == item; ++at)
        if (at->second > 0)
            lots.push_back({LotId(std::get<2>(at->first)), Eaches::of(at->second)});
    std::ranges::stable_sort(lots, {}, [&](const auto &lot) {
        return lotOf(lot.first).expiresOn.value_or(Date::of(2199, 12, 31));
    });
    return lots;
}

std::vector<std::pair<LotId, Eaches>> StockBook::firstExpiring(ItemId item, Eaches need, Date on,
                                                               const std::set<LotId> &withdrawn) const {
    std::vector<std::pair<LotId, Eaches>> picks;
    const Days least = s_.items[static_cast<std::size_t>(item.value()) - 1].leastLifeToHome;
    for (const auto &[lot, there] : lotsAt(Place::storeroom(), item)) {
        const Lot &record = lotOf(lot);
        const bool isTooOld = record.expiresOn && *record.expiresOn < on + least;
        if (need.count() <= 0 || withdrawn.contains(lot) || isTooOld)
            continue;
        const Eaches take = std::min(need, there);
        picks.push_back({lot, take});
        need -= take;
    }
    return picks;
}

} // namespace kitround::sample
