#include "core/safety/RecalledStock.h"

#include <algorithm>
#include <map>

namespace kitround::safety {
namespace {

// A later try that reached nobody takes nothing back.
const RecallOutcome *newestAnswer(const Snapshot &agency, LotId lot, CatheterId home) {
    const RecallOutcome *newest = nullptr;
    for (const RecallOutcome &outcome : agency.recallOutcomes)
        if (outcome.lot == lot && outcome.catheter == home && isReached(outcome.answer) &&
            (!newest || outcome.at >= newest->at))
            newest = &outcome;
    return newest;
}

void hear(RecalledAtHome &recalled, const SnapshotIndex &agency, CatheterId home) {
    const RecallOutcome *answer = newestAnswer(agency.snapshot(), recalled.lot, home);
    if (!answer)
        return;
    if (answer->answer == RecallAnswer::NoneLeft) {
        recalled.atMost = {};
    } else if (answer->answer == RecallAnswer::SetAside) {
        recalled.isSetAside = true;
        recalled.atMost = answer->setAside;
        const HomeCount *count = agency.lastCount(home, recalled.item);
        if (count && count->at >= answer->at) {
            recalled.notUsable = {};
            return;
        }
    }
    recalled.notUsable = recalled.atMost;
}

bool isCountedBetween(const SnapshotIndex &agency, CatheterId home, ItemId item, LocalTime from,
                      LocalTime before) {
    return std::ranges::any_of(agency.countsOf(home), [&](const HomeCount *count) {
        return count->item == item && count->at >= from && count->at < before;
    });
}

} // namespace

std::vector<RecalledAtHome> recalledAtHome(const SnapshotIndex &agency, CatheterId home) {
    const auto balances = agency.balancesAt(Place::home(home));
    const auto isRecalled = [&](const StockBalance &balance) {
        const Lot *lot = balance.lot ? agency.lot(*balance.lot) : nullptr;
        return lot && lot->state == LotState::Recalled;
    };
    if (std::ranges::none_of(balances, isRecalled)) // nearly every home, nearly always
        return {};
    std::map<LotId, RecalledAtHome> byLot;
    std::map<ItemId, Eaches> shown; // by the ledger, all lots
    for (const StockBalance &balance : balances) {
        shown[balance.item] += balance.quantity;
        if (!isRecalled(balance))
            continue;
        RecalledAtHome &recalled = byLot[*balance.lot];
        recalled.lot = *balance.lot;
        recalled.item = balance.item;
        recalled.atMost += balance.quantity;
    }
    std::vector<RecalledAtHome> found;
    for (auto &[lot, recalled] : byLot) {
        if (recalled.atMost.count() <= 0)
            continue;
        recalled.notUsable = recalled.atMost;
        hear(recalled, agency, home);
        Eaches &left = shown[recalled.item];
        recalled.notUsable = std::min(recalled.notUsable, std::max(left, Eaches{}));
        left -= recalled.notUsable;
        if (recalled.atMost.count() > 0)
            found.push_back(recalled);
    }
    return found;
}

Eaches notUsableAtHome(const SnapshotIndex &agency, CatheterId home, ItemId item) {
    Eaches sum;
    for (const RecalledAtHome &recalled : recalledAtHome(agency, home))
        if (recalled.item == item)
            sum += recalled.notUsable;
    return sum;
}

Eaches setAsideUncounted(const SnapshotIndex &agency, CatheterId home, ItemId item, LocalTime at,
                         std::span<const RecallOutcome> told) {
    std::map<LotId, const RecallOutcome *> newest;
    for (const std::span<const RecallOutcome> outcomes :
         {std::span<const RecallOutcome>(agency.snapshot().recallOutcomes), told})
        for (const RecallOutcome &outcome : outcomes) {
            const Lot *lot = agency.lot(outcome.lot);
            if (outcome.catheter != home || !isReached(outcome.answer) || outcome.at > at || !lot ||
                lot->item != item || lot->state != LotState::Recalled)
                continue;
            const RecallOutcome *&last = newest[outcome.lot];
            if (!last || outcome.at >= last->at)
                last = &outcome;
        }
    Eaches sum;
    for (const auto &[lot, answer] : newest)
        if (answer->answer == RecallAnswer::SetAside && !isCountedBetween(agency, home, item, answer->at, at))
            sum += answer->setAside;
    return sum;
}

} // namespace kitround::safety
