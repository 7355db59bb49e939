#include "core/safety/ExpiredStock.h"

#include "core/safety/RecalledStock.h"

#include <algorithm>
#include <tuple>

namespace kitround::safety {
namespace {

bool isPastItsDay(const Lot *lot, Date today) {
    return lot && lot->state != LotState::Recalled && lot->expiresOn && *lot->expiresOn < today;
}

} // namespace

std::vector<LotAtHome> datedLotsAtHome(const SnapshotIndex &agency, CatheterId home, ItemId item) {
    std::vector<LotAtHome> lots;
    Eaches shown, onRecord; // by the ledger; by its lots
    for (const StockBalance &balance : agency.balancesAt(Place::home(home))) {
        if (balance.item != item)
            continue;
        shown += balance.quantity;
        if (!balance.lot || balance.quantity.count() <= 0)
            continue;
        onRecord += balance.quantity;
        if (const Lot *lot = agency.lot(*balance.lot); lot && lot->expiresOn)
            lots.push_back({lot->id, balance.quantity, *lot->expiresOn});
    }
    std::ranges::sort(lots, {}, [](const LotAtHome &l) { return std::tuple(l.expiresOn, l.lot); });
    Eaches gone = std::max(onRecord - std::max(shown, Eaches{}), Eaches{});
    for (LotAtHome &lot : lots) {
        const Eaches taken = std::min(gone, lot.left);
        lot.left -= taken;
        gone -= taken;
    }
    std::erase_if(lots, [](const LotAtHome &lot) { return lot.left.isZero(); });
    return lots;
}

std::vector<LotAtHome> expiredLotsAtHome(const SnapshotIndex &agency, CatheterId home, ItemId item) {
    const Date today = agency.snapshot().asOf;
    const auto isExpired = [&](const StockBalance &balance) {
        return balance.item == item && balance.lot && balance.quantity.count() > 0 &&
               isPastItsDay(agency.lot(*balance.lot), today);
    };
    if (std::ranges::none_of(agency.balancesAt(Place::home(home)), isExpired)) // nearly every home
        return {};
    std::vector<LotAtHome> lots = datedLotsAtHome(agency, home, item);
    std::erase_if(lots, [&](const LotAtHome &l) { return !isPastItsDay(agency.lot(l.lot), today); });
    Eaches room = agency.balance(Place::home(home), item) - notUsableAtHome(agency, home, item);
    for (LotAtHome &lot : lots) {
        lot.left = std::min(lot.left, std::max(room, Eaches{}));
        room -= lot.left;
    }
    std::erase_if(lots, [](const LotAtHome &lot) { return lot.left.isZero(); });
    return lots;
}

Eaches expiredAtHome(const SnapshotIndex &agency, CatheterId home, ItemId item) {
    Eaches sum;
    for (const LotAtHome &lot : expiredLotsAtHome(agency, home, item))
        sum += lot.left;
    return sum;
}

} // namespace kitround::safety
