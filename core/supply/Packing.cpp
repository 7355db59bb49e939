#include "core/supply/Packing.h"

#include <algorithm>
#include <tuple>

namespace kitround::supply {
namespace {

std::vector<ItemId> itemsOf(const Delivery &delivery) {
    std::vector<ItemId> items;
    for (const DeliveryLine &line : delivery.lines)
        if (std::ranges::find(items, line.item) == items.end())
            items.push_back(line.item);
    return items;
}

// Picks shared out among the lines of their item, in the order of both.
void packLine(PackedParcel &parcel, std::size_t index, Eaches wanted, std::vector<Pick> &picks) {
    for (Pick &from : picks) {
        const Eaches taken = std::min(wanted, from.quantity);
        if (taken.isZero())
            continue;
        parcel.lines.push_back({index, {from.lot, taken, from.isShortDated}});
        from.quantity -= taken;
        wanted -= taken;
    }
    parcel.missing[index] = wanted;
}

} // namespace

Shelf::Shelf(const SnapshotIndex &agency, const Place &place) : agency_(agency) {
    for (const StockBalance &row : agency.balancesAt(place))
        there_[row.item][row.lot.value_or(LotId{})] += row.quantity;
}

PickResult Shelf::take(ItemId item, Eaches need, Date on, Days leastLife) {
    std::map<LotId, Eaches> &there = there_[item];
    PickResult result = firstOf(givable(agency_, there, on, leastLife), need);
    for (const Pick &pick : result.picks)
        there[pick.lot] -= pick.quantity;
    return result;
}

const std::map<LotId, Eaches> &Shelf::left(ItemId item) const {
    static const std::map<LotId, Eaches> kNothing;
    const auto found = there_.find(item);
    return found == there_.end() ? kNothing : found->second;
}

PackedParcel packParcel(Shelf &shelf, const Delivery &delivery, Date today) {
    PackedParcel parcel;
    parcel.missing.resize(delivery.lines.size());
    for (ItemId id : itemsOf(delivery)) {
        const Item *item = shelf.agency().item(id);
        Eaches need;
        for (const DeliveryLine &line : delivery.lines)
            need += line.item == id ? line.quantity : Eaches{};
        PickResult found =
            shelf.take(id, need, arrivalOf(delivery, today), item ? item->leastLifeToHome : Days{});
        for (std::size_t i = 0; i < delivery.lines.size(); ++i)
            if (delivery.lines[i].item == id)
                packLine(parcel, i, delivery.lines[i].quantity, found.picks);
    }
    return parcel;
}

std::vector<const Delivery *> parcelsToPack(const Snapshot &agency) {
    std::vector<const Delivery *> open;
    for (const Delivery &delivery : agency.deliveries)
        if (delivery.status == DeliveryStatus::Promised || delivery.status == DeliveryStatus::Picked)
            open.push_back(&delivery);
    std::ranges::stable_sort(open, {}, [](const Delivery *d) { return std::tuple(d->promisedFor, d->id); });
    return open;
}

} // namespace kitround::supply
