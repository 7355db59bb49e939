#include "core/supply/Ledger.h"

#include "core/supply/Lots.h"

#include <algorithm>
#include <tuple>

namespace kitround::supply {
namespace {

using BalanceKey = std::tuple<Place, ItemId, std::optional<LotId>>;

void addShelf(Position &position, const SnapshotIndex &agency, const StockBalance &row) {
    const bool usable = !row.lot || isUsable(agency, *row.lot, agency.snapshot().asOf);
    (usable ? position.storeroom : position.unusable) += row.quantity;
}

void addBalance(Position &position, const SnapshotIndex &agency, const StockBalance &row) {
    switch (row.place.kind) {
    case PlaceKind::Storeroom:
        addShelf(position, agency, row);
        break;
    case PlaceKind::Quarantine:
        position.quarantine += row.quantity;
        break;
    case PlaceKind::Car:
        position.cars += row.quantity;
        break;
    case PlaceKind::Transit:
        position.transit += row.quantity;
        break;
    case PlaceKind::Home:
        position.homes += row.quantity;
        break;
    case PlaceKind::Supplier:
    case PlaceKind::Used:
    case PlaceKind::Wasted:
    case PlaceKind::Returned:
    case PlaceKind::Variance:
        break; // the outside world is nobody's stock
    }
}

StockMovement move(const DrainEntry &entry, const BottleUse &use, Eaches quantity, Place to,
                   MovementReason why) {
    StockMovement m;
    m.at = entry.at;
    m.item = use.item;
    m.lot = use.lot;
    m.quantity = quantity;
    m.from = Place::home(entry.catheter);
    m.to = to;
    m.reason = why;
    return m;
}

} // namespace

std::vector<StockBalance> balancesOf(std::span<const StockMovement> movements) {
    std::map<BalanceKey, Eaches> sums;
    for (const StockMovement &m : movements) {
        if (isInside(m.from.kind))
            sums[{m.from, m.item, m.lot}] -= m.quantity;
        if (isInside(m.to.kind))
            sums[{m.to, m.item, m.lot}] += m.quantity;
    }
    std::vector<StockBalance> rows;
    for (const auto &[key, quantity] : sums)
        if (!quantity.isZero())
            rows.push_back({std::get<0>(key), std::get<1>(key), std::get<2>(key), quantity});
    return rows;
}

std::map<ItemId, Position> positionsOf(const SnapshotIndex &agency) {
    std::map<ItemId, Position> all;
    for (const StockBalance &row : agency.snapshot().balances)
        addBalance(all[row.item], agency, row);
    for (const Delivery &delivery : agency.snapshot().deliveries)
        if (delivery.status == DeliveryStatus::Promised)
            for (const DeliveryLine &line : delivery.lines)
                all[line.item].promised += line.quantity;
    for (const PurchaseOrder &order : agency.snapshot().purchaseOrders)
        if (order.status == PurchaseStatus::Sent || order.status == PurchaseStatus::PartlyReceived)
            for (const PurchaseLine &line : order.lines)
                all[line.item].onOrder += std::max(Eaches{}, toEaches(line.cases, line.pack) - line.received);
    return all;
}

Position positionOf(const SnapshotIndex &agency, ItemId item) {
    const auto all = positionsOf(agency);
    const auto found = all.find(item);
    return found == all.end() ? Position{} : found->second;
}

std::optional<StockMovement> movementForCount(const Place &place, ItemId item, Eaches ledger, Eaches counted,
                                              LocalTime at) {
    if (ledger == counted)
        return std::nullopt;
    const bool found = counted > ledger;
    StockMovement m;
    m.at = at;
    m.item = item;
    m.quantity = found ? counted - ledger : ledger - counted;
    m.from = found ? Place::variance() : place;
    m.to = found ? place : Place::variance();
    m.reason = MovementReason::Count;
    return m;
}

std::vector<StockMovement> movementsForEntry(const DrainEntry &entry) {
    std::vector<StockMovement> movements;
    for (const BottleUse &use : entry.supplies) {
        if (use.used.count() > 0)
            movements.push_back(move(entry, use, use.used, Place::used(entry.id), MovementReason::Use));
        if (use.lost.count() > 0)
            // Named by its entry, so that undoing the entry finds it.
            movements.push_back(
                move(entry, use, use.lost, {PlaceKind::Wasted, entry.id.value()}, MovementReason::Waste));
    }
    return movements;
}

std::vector<StockMovement> undoing(std::span<const StockMovement> movements, LocalTime at) {
    std::vector<StockMovement> contrary(movements.rbegin(), movements.rend());
    for (StockMovement &m : contrary) {
        std::swap(m.from, m.to);
        m.undoes = m.id;
        m.id = {};
        m.at = at;
        m.reason = MovementReason::Correction;
        m.note.clear();
    }
    return contrary;
}

} // namespace kitround::supply
