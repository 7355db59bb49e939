#include "core/desk/tasks/Deliveries.h"

#include "core/desk/tasks/HomeLine.h"
#include "core/desk/tasks/Movements.h"
#include "core/supply/CarStock.h"
#include "core/supply/ItemFit.h"
#include "core/supply/Ledger.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const char *nameOf(Material material) {
    switch (material) {
    case Material::Latex:
        return "latex";
    case Material::Adhesive:
        return "adhesive";
    case Material::Chlorhexidine:
        return "chlorhexidine";
    case Material::Iodine:
        return "iodine";
    }
    return "";
}

std::string codeOf(DeliveryStatus status) {
    switch (status) {
    case DeliveryStatus::Promised:
        return "promised";
    case DeliveryStatus::Picked:
        return "picked";
    case DeliveryStatus::InTransit:
        return "in_transit";
    case DeliveryStatus::Delivered:
        return "delivered";
    case DeliveryStatus::Cancelled:
        return "cancelled";
    }
    return "";
}

// A version in force keeps the day of the stop (the morning's drain was under it); one not begun is emptied.
std::optional<Date> endedBy(Date start, std::optional<Date> end, Date lastDay) {
    const Date newEnd = std::max(start, lastDay + Days::of(1));
    if (end && *end <= newEnd)
        return std::nullopt;
    return newEnd;
}

// Where unpacking puts what had this lot.
Place shelfOf(const SnapshotIndex &index, const DeliveryLine &line) {
    const Lot *lot = line.lot ? index.lot(*line.lot) : nullptr;
    return !lot || lot->state == LotState::Usable ? Place::storeroom() : Place::quarantine();
}

// Nobody knows how it was kept: it goes on from where it stands, and not under the reason by which a lot's
// release would bring it back to the shelf.
Result<void> takeOff(store::UnitOfWork &unit, const Delivery &delivery, const Cancelling &how) {
    if (how.where == CameBack::InCar)
        return {}; // it lies there already, and is nobody's parcel any more
    const bool isLost = how.where == CameBack::Lost;
    for (const DeliveryLine &line : delivery.lines) {
        StockMovement movement =
            moved(how.now, placeOf(delivery), isLost ? Place::wasted() : Place::quarantine(), line.item,
                  line.lot, line.quantity, isLost ? MovementReason::Waste : MovementReason::Return);
        movement.delivery = delivery.id;
        movement.note = how.why;
        if (Result<StockMovement> done = unit.post(movement); !done)
            return done.error();
    }
    return {};
}

// The same of lines that are back on the shelf by the books.
Result<void> takeOffShelf(store::UnitOfWork &unit, const SnapshotIndex &index,
                          const std::vector<DeliveryLine> &lines, const Cancelling &how) {
    const bool isLost = how.where == CameBack::Lost;
    for (const DeliveryLine &line : lines) {
        const Place from = shelfOf(index, line);
        const Place to = isLost ? Place::wasted() : Place::quarantine();
        if (from == to)
            continue; // its lot went out of use: it came back there
        StockMovement movement = moved(how.now, from, to, line.item, line.lot, line.quantity,
                                       isLost ? MovementReason::Waste : MovementReason::Return);
        movement.note = how.why;
        if (Result<StockMovement> done = unit.post(movement); !done)
            return done.error();
    }
    return {};
}

class Stopping {
public:
    Stopping(store::UnitOfWork &unit, store::AgencyFile &file, const Agency &agency, const StopCare &stop)
        : unit_(unit), file_(file), index_(agency.index()), stop_(stop) {}

    Result<ExitEffect> run() {
        if (Result<void> done = endDrainOrders(); !done)
            return done.error();
        if (Result<void> done = stopDeliveries(); !done)
            return done.error();
        if (isWhole()) {
            if (Result<void> done = endVisitOrders(); !done)
                return done.error();
            if (Result<void> done = cancelVisits(); !done)
                return done.error();
        }
        for (const Catheter *catheter : index_.cathetersOf(stop_.patient))
            if (inScope(catheter->id))
                for (const StockBalance &balance : index_.balancesAt(Place::home(catheter->id)))
                    effect_.leftAtHome += balance.quantity;
        return effect_;
    }

private:
    bool inScope(CatheterId id) const { return !stop_.onlyCatheter || *stop_.onlyCatheter == id; }
    bool isWhole() const {
        return std::ranges::none_of(index_.cathetersOf(stop_.patient),
                                    [&](const Catheter *c) { return !c->removedAt && !inScope(c->id); });
    }

    Result<void> endDrainOrders() {
        for (const Catheter *catheter : index_.cathetersOf(stop_.patient)) {
            if (!inScope(catheter->id))
                continue;
            for (const DrainOrder *order : index_.ordersOf(catheter->id)) {
                const auto end = endedBy(order->start, order->end, stop_.at.date);
                if (!end)
                    continue;
                DrainOrder ended = *order;
                ended.end = end;
                if (Result<DrainOrder> saved = unit_.save(ended); !saved)
                    return saved.error();
                ++effect_.ordersEnded;
            }
        }
        return {};
    }

    Result<void> endVisitOrders() {
        for (const VisitOrder *order : index_.visitOrdersOf(stop_.patient)) {
            const auto end = endedBy(order->start, order->end, stop_.at.date);
            if (!end)
                continue;
            VisitOrder ended = *order;
            ended.end = end;
            if (Result<VisitOrder> saved = unit_.save(ended); !saved)
                return saved.error();
            ++effect_.ordersEnded;
        }
        return {};
    }

    // A visit that began before the stop was made, or is still to be closed; it is not touched.
    bool isStillAhead(const Visit &visit) const {
        if (visit.status != VisitStatus::Due && visit.status != VisitStatus::Drafted &&
            visit.status != VisitStatus::Published)
            return false;
        if (!visit.on)
            return true;
        return LocalTime{*visit.on, visit.startAt.value_or(Minutes::of(24 * 60))} >= stop_.at;
    }
    Result<void> cancelVisits() {
        for (const Visit *visit : index_.visitsOf(stop_.patient)) {
            if (!isStillAhead(*visit) || (stop_.keepDischargeVisit && visit->kind == VisitKind::Discharge))
                continue;
            Visit cancelled = *visit;
            cancelled.status = VisitStatus::Cancelled;
            if (Result<Visit> saved = unit_.save(cancelled); !saved)
                return saved.error();
            ++effect_.visitsCancelled;
        }
        return {};
    }

    Result<void> stopDeliveries() {
        for (const Delivery *delivery : index_.deliveriesOf(stop_.patient))
            if (Result<void> done = stopDelivery(*delivery); !done)
                return done;
        return {};
    }
    Result<void> stopDelivery(const Delivery &delivery) {
        const auto touched = [&](const DeliveryLine &line) { return inScope(line.catheter); };
        if (!isWhole() && std::ranges::none_of(delivery.lines, touched))
            return {};
        if (delivery.status == DeliveryStatus::InTransit) {
            effect_.inTransit.push_back(delivery.id);
            return {};
        }
        if (delivery.status != DeliveryStatus::Promised && delivery.status != DeliveryStatus::Picked)
            return {};
        const bool goesWhole = isWhole() || std::ranges::all_of(delivery.lines, touched);
        const bool isInCar = supply::carHolding(delivery).has_value();
        std::vector<DeliveryLine> leaving = delivery.lines;
        if (!goesWhole)
            std::erase_if(leaving, [&](const DeliveryLine &line) { return !touched(line); });
        const bool isFree = !isInCar || stop_.carParcels == CameBack::NeverLeft;
        for (const DeliveryLine &line : leaving)
            (isFree ? effect_.freed : effect_.fromCars) += line.quantity;
        const Cancelling how{stop_.why, stop_.now, isInCar ? stop_.carParcels : CameBack::NeverLeft};
        if (goesWhole) {
            ++effect_.deliveriesCancelled;
            Result<Delivery> done = cancel(unit_, file_, index_, delivery, how);
            return done ? Result<void>() : done.error();
        }
        if (isInCar) {
            Result<Delivery> done = takeOutOfParcel(unit_, file_, index_, delivery, leaving, how);
            return done ? Result<void>() : done.error();
        }
        Delivery kept = delivery;
        if (kept.status == DeliveryStatus::Picked) {
            Result<Delivery> unpacked = putBack(unit_, file_, index_, kept, stop_.now);
            if (!unpacked)
                return unpacked.error();
            kept = *unpacked;
        }
        std::erase_if(kept.lines, touched);
        Result<Delivery> saved = unit_.save(kept);
        return saved ? Result<void>() : saved.error();
    }

    store::UnitOfWork &unit_;
    store::AgencyFile &file_;
    const SnapshotIndex &index_;
    const StopCare &stop_;
    ExitEffect effect_;
};

} // namespace

Problems barred(const SnapshotIndex &agency, const Patient &patient, const Catheter &catheter,
                ItemId itemId) {
    const Item *item = agency.item(itemId);
    if (!item)
        return {unknown("item", "item_id", itemId)};
    const std::optional<supply::Bar> bar = supply::barOf(agency, *item, patient, catheter);
    if (!bar)
        return {};
    if (bar->kind == supply::BarKind::Connector)
        return {
            problem(ProblemCode::Conflict, "item_id", {"connector", item->connector, catheter.connector})};
    return {problem(ProblemCode::Conflict, "item_id",
                    {"allergy", bar->material ? nameOf(*bar->material) : "", item->code})};
}

Problem notInState(const Delivery &delivery) {
    return problem(ProblemCode::NotAllowed, "status", {codeOf(delivery.status)});
}

Place placeOf(const Delivery &delivery) {
    if (delivery.way == DeliveryWay::WithVisit && delivery.carriedBy)
        return Place::car(*delivery.carriedBy);
    return Place::transit(delivery.id);
}

Result<void> freeDeliveries(store::UnitOfWork &unit, const Agency &agency, const Visit &visit) {
    if (!visit.id.isSet())
        return {};
    for (const Delivery *delivery : agency.index().deliveriesOf(visit.patient)) {
        if (delivery->status != DeliveryStatus::Promised || delivery->visit != visit.id)
            continue;
        Delivery freed = *delivery;
        freed.visit.reset();
        freed.carriedBy.reset();
        if (Result<Delivery> saved = unit.save(freed); !saved)
            return saved.error();
    }
    return {};
}

Result<void> keepOffShelf(store::UnitOfWork &unit, const SnapshotIndex &index, ItemId item, LotId lot,
                          Eaches back, LocalTime now, const std::string &note) {
    const Lot *record = index.lot(lot);
    if (!record || record->state == LotState::Usable || back.isZero())
        return {};
    Place from = Place::storeroom(), to = Place::quarantine();
    if (back.isNegative())
        std::swap(from, to);
    StockMovement movement =
        moved(now, from, to, item, lot, back.isNegative() ? -back : back, MovementReason::Quarantine);
    movement.note = note;
    Result<StockMovement> done = unit.post(movement);
    return done ? Result<void>() : done.error();
}

Result<Delivery> putBack(store::UnitOfWork &unit, store::AgencyFile &file, const SnapshotIndex &index,
                         Delivery delivery, LocalTime now) {
    Result<std::vector<StockMovement>> movements = file.movementsOfDelivery(delivery.id);
    if (!movements)
        return movements.error();
    for (const StockMovement &contrary : supply::undoing(stillStanding(*movements), now)) {
        if (Result<StockMovement> done = unit.post(contrary); !done)
            return done.error();
        if (contrary.to != Place::storeroom() || !contrary.lot)
            continue;
        if (Result<void> done =
                keepOffShelf(unit, index, contrary.item, *contrary.lot, contrary.quantity, now);
            !done)
            return done.error();
    }
    std::vector<DeliveryLine> lines;
    for (DeliveryLine line : delivery.lines) {
        line.lot.reset();
        const auto same = std::ranges::find_if(
            lines, [&](const DeliveryLine &l) { return l.catheter == line.catheter && l.item == line.item; });
        if (same == lines.end())
            lines.push_back(line);
        else
            same->quantity += line.quantity;
    }
    delivery.lines = std::move(lines);
    delivery.status = DeliveryStatus::Promised;
    delivery.shippedAt.reset();
    return delivery;
}

Result<void> stillInCar(store::UnitOfWork &unit, const SnapshotIndex &index,
                        const std::vector<DeliveryLine> &lines, NurseId nurse, LocalTime now,
                        std::optional<DeliveryId> parcel) {
    for (const DeliveryLine &line : lines) {
        const Place from = shelfOf(index, line);
        StockMovement movement =
            moved(now, from, Place::car(nurse), line.item, line.lot, line.quantity,
                  from == Place::storeroom() ? MovementReason::Issue : MovementReason::Quarantine);
        movement.delivery = parcel;
        if (Result<StockMovement> done = unit.post(movement); !done)
            return done.error();
    }
    return {};
}

Result<Delivery> takeOutOfParcel(store::UnitOfWork &unit, store::AgencyFile &file, const SnapshotIndex &index,
                                 const Delivery &delivery, const std::vector<DeliveryLine> &leaving,
                                 const Cancelling &how) {
    const std::optional<NurseId> nurse = supply::carHolding(delivery);
    if (!nurse)
        return problem(ProblemCode::NotAllowed, "status", {"not_in_car"});
    if (Result<Delivery> unpacked = putBack(unit, file, index, delivery, how.now); !unpacked)
        return unpacked;
    Delivery kept = delivery; // packed as it was, with its lots
    std::erase_if(kept.lines, [&](const DeliveryLine &line) {
        return std::ranges::find(leaving, line) != leaving.end();
    });
    if (Result<void> done = stillInCar(unit, index, kept.lines, *nurse, how.now, kept.id); !done)
        return done.error();
    if (how.where == CameBack::InCar) {
        if (Result<void> done = stillInCar(unit, index, leaving, *nurse, how.now); !done)
            return done.error();
    } else if (how.where != CameBack::NeverLeft) {
        if (Result<void> done = takeOffShelf(unit, index, leaving, how); !done)
            return done.error();
    }
    return unit.save(kept);
}

Result<Delivery> cancel(store::UnitOfWork &unit, store::AgencyFile &file, const SnapshotIndex &index,
                        const Delivery &delivery, const Cancelling &how) {
    if (supply::hasLeftStoreroom(delivery) && how.where != CameBack::NeverLeft) {
        if (Result<void> done = takeOff(unit, delivery, how); !done)
            return done.error();
    } else if (Result<Delivery> unpacked = putBack(unit, file, index, delivery, how.now); !unpacked) {
        return unpacked;
    }
    // The record keeps what was packed; only the stock goes back.
    Delivery cancelled = delivery;
    cancelled.status = DeliveryStatus::Cancelled;
    cancelled.cancelReason = how.why;
    return unit.save(cancelled);
}

Result<ExitEffect> stopCare(store::UnitOfWork &unit, store::AgencyFile &file, const Agency &agency,
                            const StopCare &stop) {
    return Stopping(unit, file, agency, stop).run();
}

} // namespace kitround::desk
