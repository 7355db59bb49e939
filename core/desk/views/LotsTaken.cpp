#include "core/desk/views/LotsTaken.h"

#include "core/desk/views/Cells.h"
#include "core/desk/views/ReceiveScan.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/Lots.h"

#include <algorithm>

namespace kitround::desk {
namespace {

Problem labelFault(ProblemCode code, std::vector<std::string> args) {
    Problem p;
    p.code = code;
    p.field = "scan";
    p.args = std::move(args);
    return p;
}

} // namespace

Date lotsGoodOn(const Delivery &delivery, Date today) {
    return delivery.deliveredAt ? delivery.deliveredAt->date : std::max(today, delivery.promisedFor);
}

std::vector<LotOffer> lotOffers(const Agency &agency, const Delivery &delivery, ItemId itemId) {
    const Item *item = agency.index().item(itemId);
    std::vector<LotOffer> offers;
    for (const supply::Pick &there :
         supply::givable(agency.index(), Place::storeroom(), itemId, lotsGoodOn(delivery, agency.today()),
                         item ? item->leastLifeToHome : Days{})) {
        const Lot *lot = agency.index().lot(there.lot);
        if (!lot)
            continue; // a parcel is only put right to a lot with a number
        const QString number = fromStd(lot->number);
        QString text = Text::tr("%1, %2 on the shelf").arg(number, numberText(there.quantity.count()));
        if (lot->expiresOn)
            text += Text::tr(", last day of use %1").arg(dayText(*lot->expiresOn, Date()));
        if (there.isShortDated)
            text += Text::tr(", short-dated");
        offers.push_back({lot->id, number, text});
    }
    return offers;
}

Result<LotId> scannedLot(const Agency &agency, const Delivery &delivery, const std::string &label) {
    const auto numbered = [&](const std::string &number) -> const Lot * {
        for (const DeliveryLine &line : delivery.lines)
            if (const Lot *lot = lotNumbered(agency.snapshot(), line.item, number))
                return lot;
        return nullptr;
    };
    if (const Lot *lot = numbered(label))
        return lot->id;
    const Result<ScanReading> reading = readScan(agency, label);
    if (!reading)
        return reading.error();
    const auto isInIt = [&](ItemId item) {
        return std::ranges::find(delivery.lines, item, &DeliveryLine::item) != delivery.lines.end();
    };
    const bool namesArticle = !reading->gtin.empty();
    if (namesArticle && (!reading->item || !isInIt(*reading->item)))
        return labelFault(
            ProblemCode::Conflict,
            {"not_in_delivery", reading->item ? nameOf(agency.index(), *reading->item) : reading->gtin});
    if (reading->lotNumber.empty())
        return labelFault(ProblemCode::Conflict, {"label_without_lot"});
    const Lot *lot = namesArticle ? lotNumbered(agency.snapshot(), *reading->item, reading->lotNumber)
                                  : numbered(reading->lotNumber);
    return lot ? Result<LotId>(lot->id) : labelFault(ProblemCode::UnknownRecord, {"lot", reading->lotNumber});
}

} // namespace kitround::desk
