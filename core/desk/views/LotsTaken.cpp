#include "core/desk/views/LotsTaken.h"

#include "core/desk/views/Cells.h"
#include "core/desk/views/ReceiveScan.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/Lots.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace kitround::desk {
namespace {

Problem lotFault(const char *field, ProblemCode code, std::vector<std::string> args) {
    Problem p;
    p.code = code;
    p.field = field;
    p.args = std::move(args);
    return p;
}

Problem labelFault(ProblemCode code, std::vector<std::string> args) {
    return lotFault("scan", code, std::move(args));
}

// No lot of the items asked about has the number: whether another item's has.
Problem notOnFile(const Snapshot &agency, const char *field, const std::string &number) {
    const auto other = std::ranges::find_if(
        agency.lots, [&](const Lot &lot) { return isSameLotNumber(lot.number, number); });
    return other == agency.lots.end()
               ? lotFault(field, ProblemCode::UnknownRecord, {"lot", number})
               : lotFault(field, ProblemCode::Conflict, {"lot_of_other_item", other->number});
}

// What speaks against a scanned box whose lot is on file.
std::optional<Problem> boxFault(const Agency &agency, const Delivery &delivery, const Lot &lot,
                                std::optional<Date> onLabel) {
    Lot box = lot;
    box.expiresOn = lot.expiresOn ? lot.expiresOn : onLabel;
    if (auto unfit = lotOutOfUse(agency, delivery, box); unfit && !hasLeft(delivery)) {
        unfit->field = "scan";
        return unfit;
    }
    if (onLabel && lot.expiresOn && *onLabel != *lot.expiresOn)
        return labelFault(ProblemCode::Conflict,
                          {"label_other_expiry", lot.number, onLabel->toIso(), lot.expiresOn->toIso()});
    return std::nullopt;
}

} // namespace

std::vector<LotOffer> lotOffers(const Agency &agency, const Delivery &delivery, ItemId itemId) {
    const Item *item = agency.index().item(itemId);
    std::vector<LotOffer> offers;
    for (const supply::Pick &there : supply::givable(agency.index(), Place::storeroom(), itemId,
                                                     supply::arrivalOf(delivery, agency.today()),
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

std::optional<Problem> lotOutOfUse(const SnapshotIndex &index, const Lot &lot, Date on) {
    const bool isOver = lot.expiresOn && *lot.expiresOn < on;
    if (supply::isUsable(index, lot.id, on) && !isOver)
        return std::nullopt;
    if (lot.state == LotState::Recalled)
        return lotFault("lot_number", ProblemCode::NotAllowed, {"lot_recalled", lot.number});
    if (lot.state == LotState::Quarantined)
        return lotFault("lot_number", ProblemCode::NotAllowed, {"lot_quarantined", lot.number});
    return lotFault("lot_number", ProblemCode::NotAllowed,
                    {"lot_expired", lot.number, lot.expiresOn.value_or(Date()).toIso()});
}

std::optional<Problem> lotOutOfUse(const Agency &agency, const Delivery &delivery, const Lot &lot) {
    return lotOutOfUse(agency.index(), lot, supply::arrivalOf(delivery, agency.today()));
}

bool hasLeft(const Delivery &delivery) {
    return delivery.status == DeliveryStatus::InTransit || delivery.status == DeliveryStatus::Delivered;
}

bool putsBoxAside(const Problem &problem) {
    constexpr std::array<std::string_view, 4> kOfTheBox = {"label_other_expiry", "lot_recalled",
                                                           "lot_quarantined", "lot_expired"};
    return !problem.args.empty() && std::ranges::find(kOfTheBox, problem.args[0]) != kOfTheBox.end();
}

Result<LotId> numberedLot(const Snapshot &agency, ItemId item, const std::string &number) {
    if (const Lot *lot = lotNumbered(agency, item, number))
        return lot->id;
    return notOnFile(agency, "lot_number", number);
}

Result<LotId> scannedLot(const Agency &agency, const Delivery &delivery, const std::string &label) {
    const auto numbered = [&](const std::string &number) -> const Lot * {
        for (const DeliveryLine &line : delivery.lines)
            if (const Lot *lot = lotNumbered(agency.snapshot(), line.item, number))
                return lot;
        return nullptr;
    };
    const auto taken = [&](const Lot &lot, std::optional<Date> onLabel) -> Result<LotId> {
        if (auto fault = boxFault(agency, delivery, lot, onLabel))
            return *std::move(fault);
        return lot.id;
    };
    if (const Lot *lot = numbered(label))
        return taken(*lot, std::nullopt);
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
    return lot ? taken(*lot, reading->expiresOn)
               : Result<LotId>(notOnFile(agency.snapshot(), "scan", reading->lotNumber));
}

} // namespace kitround::desk
