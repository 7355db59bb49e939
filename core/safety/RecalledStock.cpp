#include "core/safety/RecalledStock.h"

#include <algorithm>
#include <map>
#include <optional>
#include <span>

namespace kitround::safety {
namespace {

// A later try that reached nobody takes nothing back. `until`: what was said by then; `newest`: of those
// looked at before.
const RecallOutcome *newestAnswer(std::span<const RecallOutcome> outcomes, LotId lot, CatheterId home,
                                  std::optional<LocalTime> until = std::nullopt,
                                  const RecallOutcome *newest = nullptr) {
    for (const RecallOutcome &outcome : outcomes)
        if (outcome.lot == lot && outcome.catheter == home && isReached(outcome.answer) &&
            (!until || outcome.at <= *until) && (!newest || outcome.at >= newest->at))
            newest = &outcome;
    return newest;
}

void hear(RecalledAtHome &recalled, const SnapshotIndex &agency, CatheterId home) {
    const RecallOutcome *answer = newestAnswer(agency.snapshot().recallOutcomes, recalled.lot, home);
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
    const std::span<const RecallOutcome> known = agency.snapshot().recallOutcomes;
    if (known.empty() && told.empty()) // nearly always
        return {};
    Eaches sum;
    for (const Lot &lot : agency.snapshot().lots) {
        if (lot.item != item || lot.state != LotState::Recalled)
            continue;
        const RecallOutcome *answer =
            newestAnswer(told, lot.id, home, at, newestAnswer(known, lot.id, home, at));
        if (answer && answer->answer == RecallAnswer::SetAside &&
            !isCountedBetween(agency, home, item, answer->at, at))
            sum += answer->setAside;
    }
    return sum;
}

} // namespace kitround::safety
