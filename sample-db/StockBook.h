#pragma once
// The running sums of a scenario's movements, so that only what stands somewhere is ever taken from it.
#include "sample-db/Scenario.h"

#include <map>
#include <set>
#include <tuple>

namespace kitround::sample {

class StockBook {
public:
    explicit StockBook(Scenario &scenario) : s_(scenario) {}

    // Adds the movement to the scenario, with its id.
    void post(const StockMovement &movement);
    Eaches at(const Place &place, ItemId item, std::optional<LotId> lot) const;
    Eaches atPlace(const Place &place, ItemId item) const; // all lots, and what has none
    // What stands there by lot, first expiring first; what has no lot is left out.
    std::vector<std::pair<LotId, Eaches>> lotsAt(const Place &place, ItemId item) const;
    // From the storeroom: not expired, not withdrawn, none of a lot that is set aside from the start.
    std::vector<std::pair<LotId, Eaches>> firstExpiring(ItemId item, Eaches need, Date on,
                                                        const std::set<LotId> &withdrawn) const;

private:
    using Key = std::tuple<Place, ItemId, std::int64_t>; // lot, 0 for none
    const Lot &lotOf(LotId id) const { return s_.lots[static_cast<std::size_t>(id.value()) - 1]; }

    Scenario &s_;
    std::map<Key, std::int64_t> sums_;
};

} // namespace kitround::sample
