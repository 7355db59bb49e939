#include "core/supply/CarStock.h"

#include "core/supply/Ledger.h"
#include "core/supply/Lots.h"

#include <algorithm>
#include <map>

namespace kitround::supply {
namespace {

// Lots of the car that are short-dated, less what is packed; what is out of use has its own step.
std::vector<CarMove> shortDatedIn(const SnapshotIndex &agency, NurseId nurse) {
    std::vector<CarMove> found;
    for (const StockBalance &row : agency.balancesAt(Place::car(nurse))) {
        const Item *item = agency.item(row.item);
        const Lot *lot = row.lot ? agency.lot(*row.lot) : nullptr;
        if (!item || !lot || lot->state != LotState::Usable ||
            !isShortDated(*lot, agency.snapshot().asOf, item->leastLifeToHome))
            continue;
        const Eaches free = row.quantity - packedInCar(agency, nurse, row.item, row.lot);
        if (free.count() > 0)
            found.push_back({row.item, row.lot, free});
    }
    return found;
}

} // namespace

std::optional<NurseId> carHolding(const Delivery &delivery) {
    const bool isPacked =
        delivery.status == DeliveryStatus::Picked || delivery.status == DeliveryStatus::InTransit;
    return isPacked && delivery.way == DeliveryWay::WithVisit ? delivery.carriedBy : std::nullopt;
}

bool hasLeftStoreroom(const Delivery &delivery) {
    return delivery.status == DeliveryStatus::InTransit || carHolding(delivery).has_value();
}

Eaches packedInCar(const SnapshotIndex &agency, NurseId nurse, ItemId item, std::optional<LotId> lot) {
    Eaches packed;
    for (const Delivery &delivery : agency.snapshot().deliveries)
        if (carHolding(delivery) == nurse)
            for (const DeliveryLine &line : delivery.lines)
                if (line.item == item && (!lot || line.lot == lot))
                    packed += line.quantity;
    return packed;
}

Eaches looseInCar(const SnapshotIndex &agency, NurseId nurse, ItemId item, std::optional<LotId> lot) {
    Eaches free;
    for (const StockBalance &row : agency.balancesAt(Place::car(nurse)))
        if (row.item == item && row.lot == lot)
            free += row.quantity;
    for (const Delivery &delivery : agency.snapshot().deliveries)
        if (carHolding(delivery) == nurse)
            for (const DeliveryLine &line : delivery.lines)
                if (line.item == item && line.lot == lot)
                    free -= line.quantity;
    return std::max(free, Eaches{});
}

Eaches looseInCar(const SnapshotIndex &agency, NurseId nurse, const Lot &lot) {
    return looseInCar(agency, nurse, lot.item, lot.id);
}

Eaches CarLine::lacking() const {
    return par ? std::max(*par - (inCar - shortDated - outOfUse), Eaches{}) : Eaches{};
}

std::vector<CarLine> carLines(const SnapshotIndex &agency) {
    std::map<std::pair<NurseId, ItemId>, CarLine> lines;
    const auto lineOf = [&](NurseId nurse, ItemId item) -> CarLine & {
        CarLine &line = lines[{nurse, item}];
        line.nurse = nurse;
        line.item = item;
        return line;
    };
    for (const CarPar &par : agency.snapshot().carPars)
        if (par.par.count() > 0)
            lineOf(par.nurse, par.item).par = par.par;
    for (const Nurse &nurse : agency.snapshot().nurses) {
        for (const StockBalance &row : agency.balancesAt(Place::car(nurse.id))) {
            CarLine &line = lineOf(nurse.id, row.item);
            line.inCar += row.quantity;
            const Lot *lot = row.lot ? agency.lot(*row.lot) : nullptr;
            if (lot && lot->expiresOn && row.quantity.count() > 0 &&
                (!line.firstExpiry || *lot->expiresOn < *line.firstExpiry))
                line.firstExpiry = lot->expiresOn;
            if (lot && lot->state != LotState::Usable)
                line.outOfUse += looseInCar(agency, nurse.id, *lot);
        }
        for (const CarMove &move : shortDatedIn(agency, nurse.id))
            lineOf(nurse.id, move.item).shortDated += move.quantity;
    }
    std::vector<CarLine> found;
    for (auto &[key, line] : lines) {
        line.packed = packedInCar(agency, line.nurse, line.item);
        line.inCar -= line.packed;
        found.push_back(line);
    }
    return found;
}

CarPlan planToPar(const SnapshotIndex &agency, NurseId nurse) {
    CarPlan plan;
    plan.back = shortDatedIn(agency, nurse);
    for (const CarLine &line : carLines(agency)) {
        const Item *item = agency.item(line.item);
        const Eaches needed = line.lacking();
        if (line.nurse != nurse || !item || needed.count() <= 0)
            continue;
        const Eaches free = std::max(positionOf(agency, line.item).free(), Eaches{});
        Eaches given;
        const PickResult found =
            pickFirstExpiring(agency, Place::storeroom(), line.item, std::min(needed, free),
                              agency.snapshot().asOf, item->leastLifeToHome);
        for (const Pick &pick : found.picks)
            if (!pick.isShortDated) {
                plan.in.push_back(
                    {line.item, pick.lot.isSet() ? std::optional(pick.lot) : std::nullopt, pick.quantity});
                given += pick.quantity;
            }
        if (given < needed)
            plan.shortOf.push_back({line.item, needed, given});
    }
    return plan;
}

} // namespace kitround::supply
