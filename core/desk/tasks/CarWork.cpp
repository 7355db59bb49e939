// The nurses' cars: topping up, par, and hand-over from what a car carries.
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/HomeLine.h"
#include "core/desk/tasks/Movements.h"
#include "core/supply/CarStock.h"
#include "core/supply/Lots.h"

#include <algorithm>

namespace kitround::desk {

StockMovement moved(LocalTime at, const Place &from, const Place &to, ItemId item, std::optional<LotId> lot,
                    Eaches quantity, MovementReason reason) {
    StockMovement m;
    m.at = at;
    m.from = from;
    m.to = to;
    m.item = item;
    m.lot = lot;
    m.quantity = quantity;
    m.reason = reason;
    return m;
}

Problem tooFew(const SnapshotIndex &index, ItemId item, Eaches wanted, Eaches missing) {
    const Item *known = index.item(item);
    return problem(ProblemCode::Infeasible, "quantity",
                   {"too_few", known ? known->code : std::string(), std::to_string(wanted.count()),
                    std::to_string((wanted - missing).count())});
}

Result<void> Desk::topUpCar(NurseId nurse, ItemId itemId, Eaches quantity) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<void> {
        const SnapshotIndex &index = agency.index();
        const Item *item = index.item(itemId);
        if (!index.nurse(nurse))
            return unknown("nurse", "nurse_id", nurse);
        if (!item)
            return unknown("item", "item_id", itemId);
        if (quantity.count() <= 0)
            return problem(ProblemCode::OutOfRange, "quantity", {std::to_string(quantity.count()), "1", ""});
        const LocalTime now = inner_->now();
        const supply::PickResult found = supply::pickFirstExpiring(index, Place::storeroom(), itemId,
                                                                   quantity, now.date, item->leastLifeToHome);
        if (found.missing.count() > 0)
            return tooFew(index, itemId, quantity, found.missing);
        for (const supply::Pick &pick : found.picks)
            if (Result<StockMovement> done =
                    unit.post(moved(now, Place::storeroom(), Place::car(nurse), itemId, pick.lot,
                                    pick.quantity, MovementReason::Issue));
                !done)
                return done.error();
        return {};
    });
}

Result<Delivery> Desk::passParcel(DeliveryId id, NurseId to) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        const SnapshotIndex &index = agency.index();
        const Delivery *before = index.delivery(id);
        const Nurse *nurse = index.nurse(to);
        if (!before)
            return unknown("delivery", "delivery_id", id);
        if (!nurse)
            return unknown("nurse", "carried_by_nurse_id", to);
        const std::optional<NurseId> holder = supply::carHolding(*before);
        if (!holder)
            return notInState(*before);
        if (*holder == to)
            return problem(ProblemCode::NotAllowed, "carried_by_nurse_id", {"already"});
        if (!nurse->isActive)
            return problem(ProblemCode::NotAllowed, "carried_by_nurse_id", {"nurse_inactive", nurse->code});
        for (const DeliveryLine &line : before->lines) {
            StockMovement movement = moved(inner_->now(), Place::car(*holder), Place::car(to), line.item,
                                           line.lot, line.quantity, MovementReason::Handover);
            movement.delivery = id;
            if (Result<StockMovement> done = unit.post(movement); !done)
                return done.error();
        }
        Delivery passed = *before;
        passed.carriedBy = to;
        return unit.save(passed);
    });
}

Result<void> Desk::handOver(NurseId nurse, CatheterId catheterId, ItemId itemId, Eaches quantity,
                            LocalTime at) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<void> {
        const SnapshotIndex &index = agency.index();
        const Catheter *catheter = index.catheter(catheterId);
        const Item *item = index.item(itemId);
        if (!index.nurse(nurse))
            return unknown("nurse", "nurse_id", nurse);
        if (!catheter)
            return unknown("catheter", "catheter_id", catheterId);
        if (!item)
            return unknown("item", "item_id", itemId);
        if (quantity.count() <= 0)
            return problem(ProblemCode::OutOfRange, "quantity", {std::to_string(quantity.count()), "1", ""});
        if (at > inner_->now())
            return problem(ProblemCode::NotAllowed, "at", {"not_yet", toIso(at), toIso(inner_->now())});
        if (const Patient *patient = index.patient(catheter->patient))
            if (Problems bars = barred(index, *patient, *catheter, itemId); !bars.empty())
                return joined(std::move(bars));
        if (Result<void> ok = checkSubstitution(index, catheterId, itemId, at.date); !ok)
            return ok.error();
        // What is packed for a home is in the same car, but not free.
        const Eaches free =
            index.balance(Place::car(nurse), itemId) - supply::packedInCar(index, nurse, itemId);
        const supply::PickResult found = supply::pickFirstExpiring(index, Place::car(nurse), itemId, quantity,
                                                                   at.date, item->leastLifeToHome);
        const Eaches missing = std::max(found.missing, quantity - free);
        if (missing.count() > 0)
            return tooFew(index, itemId, quantity, missing);
        std::vector<StockMovement> handed;
        for (const supply::Pick &pick : found.picks)
            handed.push_back(moved(at, Place::car(nurse), Place::home(catheterId), itemId, pick.lot,
                                   pick.quantity, MovementReason::Handover));
        return postToHomes(unit, agency, handed);
    });
}

Result<CarPar> Desk::save(const CarPar &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<CarPar> {
        const Nurse *nurse = agency.index().nurse(record.nurse);
        if (!nurse)
            return unknown("nurse", "nurse_id", record.nurse);
        if (!nurse->isActive && record.par.count() > 0)
            return problem(ProblemCode::NotAllowed, "nurse_id", {"nurse_inactive", nurse->code});
        return unit.save(record);
    });
}

Result<CarRefill> Desk::refillCar(NurseId nurse) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<CarRefill> {
        const SnapshotIndex &index = agency.index();
        if (!index.nurse(nurse))
            return unknown("nurse", "nurse_id", nurse);
        const LocalTime now = inner_->now();
        const supply::CarPlan plan = supply::planToPar(index, nurse);
        CarRefill done;
        for (const supply::CarMove &move : plan.back) {
            if (Result<StockMovement> posted =
                    unit.post(moved(now, Place::car(nurse), Place::storeroom(), move.item, move.lot,
                                    move.quantity, MovementReason::Return));
                !posted)
                return posted.error();
            done.takenBack += move.quantity;
        }
        for (const supply::CarMove &move : plan.in) {
            if (Result<StockMovement> posted =
                    unit.post(moved(now, Place::storeroom(), Place::car(nurse), move.item, move.lot,
                                    move.quantity, MovementReason::Issue));
                !posted)
                return posted.error();
            done.putIn += move.quantity;
        }
        for (const supply::CarPlan::Short &item : plan.shortOf)
            done.flags.push_back(tooFew(index, item.item, item.needed, item.needed - item.given));
        return done;
    });
}

Result<StockMovement> Desk::takeFromCar(NurseId nurse, LotId id) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<StockMovement> {
        const SnapshotIndex &index = agency.index();
        const Lot *lot = index.lot(id);
        if (!index.nurse(nurse))
            return unknown("nurse", "nurse_id", nurse);
        if (!lot)
            return unknown("lot", "lot_id", id);
        if (lot->state == LotState::Usable)
            return problem(ProblemCode::NotAllowed, "lot_id", {"lot_in_use", lot->number});
        const Eaches there = supply::looseInCar(index, nurse, *lot);
        if (there.count() <= 0)
            return problem(ProblemCode::NotAllowed, "lot_id", {"lot_not_in_car", lot->number});
        return unit.post(moved(inner_->now(), Place::car(nurse), Place::quarantine(), lot->item, id, there,
                               MovementReason::Quarantine));
    });
}

} // namespace kitround::desk
