#include "core/desk/views/ClosedHomes.h"

#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/CycleCounts.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace kitround::desk {
namespace {

QString whyClosed(const Agency &agency, const Patient &patient, const Catheter &catheter) {
    const auto on = [&](const std::optional<Instant> &at) {
        return at ? dayText(localTimeOf(agency, *at).date, agency.today()) : Text::tr("day not known");
    };
    if (isExit(patient.status))
        return Text::tr("%1, %2").arg(words(patient.status), on(patient.exitedAt));
    return Text::tr("catheter removed, %1").arg(on(catheter.removedAt));
}

ClosedHomeRow rowOf(const Agency &agency, const Catheter &catheter, ItemId item, Eaches quantity) {
    ClosedHomeRow row;
    row.catheter = catheter.id;
    row.patient = catheter.patient;
    row.item = item;
    row.place = catheterText(catheter);
    if (const Patient *patient = agency.index().patient(catheter.patient)) {
        row.who = personName(*patient);
        row.why = whyClosed(agency, *patient, catheter);
    }
    const Item *record = agency.index().item(item);
    row.itemName = record ? fromStd(record->name) : Text::tr("an unknown item");
    row.onBooks = quantity;
    row.value = stockValue(agency, item, std::max(quantity, Eaches{}));
    return row;
}

bool isClosed(const Agency &agency, const Catheter &catheter) {
    const Patient *patient = agency.index().patient(catheter.patient);
    return patient && (isExit(patient->status) || catheter.removedAt);
}

} // namespace

Money stockValue(const Agency &agency, ItemId item, Eaches quantity) {
    return Money::of(
        std::llround(supply::minorPerEach(agency.index(), item) * static_cast<double>(quantity.count())));
}

Money writtenOff(const Agency &agency, ItemId item, Eaches quantity, Disposition disposition) {
    const bool isLoss = disposition != Disposition::KeptByHome && disposition != Disposition::SupplierCredit;
    return isLoss ? stockValue(agency, item, std::max(quantity, Eaches{})) : Money{};
}

std::vector<LotId> lotsAtHome(const SnapshotIndex &agency, CatheterId catheter, ItemId item) {
    std::vector<LotId> lots;
    for (const StockBalance &row : agency.balancesAt(Place::home(catheter)))
        if (row.item == item && row.lot && row.quantity.count() > 0)
            lots.push_back(*row.lot);
    std::ranges::sort(lots);
    return lots;
}

std::vector<ClosedHomeRow> closedHomeRows(const Agency &agency) {
    std::vector<ClosedHomeRow> rows;
    for (const Catheter &catheter : agency.snapshot().catheters) {
        if (!isClosed(agency, catheter))
            continue;
        std::map<ItemId, Eaches> sums; // over lots
        for (const StockBalance &b : agency.index().balancesAt(Place::home(catheter.id)))
            sums[b.item] += b.quantity;
        for (const auto &[item, quantity] : sums)
            if (!quantity.isZero()) {
                rows.push_back(rowOf(agency, catheter, item, quantity));
                rows.back().where = Text::tr("at home");
                rows.back().recall = recalledText(agency.index(), catheter.id, item);
            }
    }
    for (const Delivery &delivery : agency.snapshot().deliveries) {
        if (delivery.status != DeliveryStatus::Picked && delivery.status != DeliveryStatus::InTransit)
            continue;
        for (const DeliveryLine &line : delivery.lines)
            if (const Catheter *catheter = agency.index().catheter(line.catheter);
                catheter && isClosed(agency, *catheter)) {
                rows.push_back(rowOf(agency, *catheter, line.item, line.quantity));
                rows.back().where = Text::tr("parcel, %1").arg(words(delivery.status));
                rows.back().parcel = delivery.id;
            }
    }
    std::ranges::stable_sort(rows, {}, [](const ClosedHomeRow &r) {
        return std::tuple(r.who, r.place, r.parcel.has_value(), r.itemName);
    });
    return rows;
}

} // namespace kitround::desk
