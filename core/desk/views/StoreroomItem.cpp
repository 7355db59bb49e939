#include "core/desk/views/StoreroomItem.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/OpenOrders.h"
#include "core/supply/Storeroom.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {
namespace {

Eaches *cellOf(LotRow &row, PlaceKind kind) {
    switch (kind) {
    case PlaceKind::Storeroom:
        return &row.storeroom;
    case PlaceKind::Quarantine:
        return &row.quarantine;
    case PlaceKind::Car:
        return &row.cars;
    case PlaceKind::Transit:
        return &row.transit;
    case PlaceKind::Home:
        return &row.homes;
    default:
        return nullptr;
    }
}

LotRow newRow(const Agency &agency, const Item *item, std::optional<LotId> lot) {
    LotRow row;
    row.lot = lot;
    const Lot *record = lot ? agency.index().lot(*lot) : nullptr;
    row.number = record ? fromStd(record->number) : Text::tr("lot not written down");
    if (!record)
        return row;
    row.lotState = record->state;
    row.expiresOn = record->expiresOn;
    row.isExpired = record->expiresOn && *record->expiresOn < agency.today();
    row.isShortDated = record->expiresOn && !row.isExpired && item &&
                       *record->expiresOn < agency.today() + item->leastLifeToHome;
    row.state = words(record->state);
    if (row.isExpired)
        row.state = Text::tr("expired");
    else if (row.isShortDated && record->state == LotState::Usable)
        row.state = Text::tr("short-dated: given last");
    return row;
}

} // namespace

std::vector<LotRow> lotRows(const Agency &agency, ItemId itemId) {
    const Item *item = agency.index().item(itemId);
    std::map<std::optional<LotId>, LotRow> byLot;
    for (const StockBalance &balance : agency.snapshot().balances) {
        if (balance.item != itemId)
            continue;
        const auto at = byLot.try_emplace(balance.lot, newRow(agency, item, balance.lot)).first;
        if (Eaches *cell = cellOf(at->second, balance.place.kind))
            *cell += balance.quantity;
    }
    std::vector<LotRow> rows;
    for (auto &[lot, row] : byLot)
        rows.push_back(std::move(row));
    const auto key = [](const LotRow &r) {
        return std::tuple(r.expiresOn ? r.expiresOn->dayNumber() : std::int64_t{1} << 30, r.number, r.lot);
    };
    std::ranges::stable_sort(rows, [&](const LotRow &a, const LotRow &b) { return key(a) < key(b); });
    return rows;
}

std::vector<OpenOrderRow> openOrderRows(const Agency &agency, ItemId item) {
    std::vector<OpenOrderRow> rows;
    for (const supply::OpenLine &line : supply::openLines(agency.index())) {
        if (line.item != item)
            continue;
        const PurchaseOrder *order = agency.index().purchaseOrder(line.order);
        const Supplier *supplier = agency.index().supplier(line.supplier);
        rows.push_back({line.order, order ? fromStd(order->number) : QString(),
                        supplier ? fromStd(supplier->name) : QString(), line.quantity, line.expectedOn,
                        line.isBackordered});
    }
    return rows;
}

std::map<ItemId, std::vector<double>> weeklyDemand(const StockPicture &picture) {
    const supply::StoreroomModel model(picture.agency->index(), picture.homes);
    std::map<ItemId, std::vector<double>> weeks;
    for (const ItemId item : model.items())
        weeks.emplace(item, model.meanByWeek(item));
    return weeks;
}

std::vector<StoreroomWeek> storeroomWeeks(const Agency &agency, Eaches free,
                                          const std::vector<double> &demand,
                                          const std::vector<OpenOrderRow> &open) {
    std::vector<StoreroomWeek> weeks;
    double left = static_cast<double>(free.count());
    Date from = agency.today();
    for (const double mean : demand) {
        StoreroomWeek week;
        week.from = from;
        week.demand = mean;
        for (const OpenOrderRow &order : open)
            if (DateRange{from, from.plusDays(7)}.contains(order.expectedOn))
                week.arriving += order.quantity;
        left += static_cast<double>(week.arriving.count()) - mean;
        week.left = left;
        weeks.push_back(week);
        from = from.plusDays(7);
    }
    return weeks;
}

} // namespace kitround::desk
