// Stock taken out of use: written off, given back, or brought back from a car.
#include "core/desk/tasks/DeskInner.h"
#include "core/supply/CarStock.h"

#include <algorithm>

namespace kitround::desk {
namespace {

// What stands there and is nobody's parcel.
Eaches freeAt(const SnapshotIndex &index, const StockRemoval &removal) {
    if (removal.from.kind == PlaceKind::Car)
        return supply::looseInCar(index, NurseId(removal.from.ref), removal.item, removal.lot);
    Eaches there;
    for (const StockBalance &row : index.balancesAt(removal.from))
        if (row.item == removal.item && row.lot == removal.lot)
            there += row.quantity;
    return there;
}

Problems removalProblems(const Agency &agency, const StockRemoval &removal) {
    const SnapshotIndex &index = agency.index();
    const Item *item = index.item(removal.item);
    if (!item)
        return {unknown("item", "item_id", removal.item)};
    const PlaceKind from = removal.from.kind;
    if (from == PlaceKind::Home)
        return {problem(ProblemCode::NotAllowed, "from_place", {"home_stock_stays"})};
    const bool mayLeave =
        from == PlaceKind::Car || (removal.way != RemovalWay::ToStoreroom &&
                                   (from == PlaceKind::Storeroom || from == PlaceKind::Quarantine));
    if (!mayLeave)
        return {problem(ProblemCode::NotAllowed, "from_place", {"not_from_there"})};
    Problems wrong;
    const Eaches there = freeAt(index, removal);
    if (removal.quantity.count() < 1)
        wrong.push_back(problem(ProblemCode::OutOfRange, "quantity",
                                {std::to_string(removal.quantity.count()), "1", ""}));
    else if (removal.quantity > there)
        wrong.push_back(problem(ProblemCode::Infeasible, "quantity",
                                {"too_few", item->code, std::to_string(removal.quantity.count()),
                                 std::to_string(std::max<std::int64_t>(0, there.count()))}));
    if (removal.way == RemovalWay::ToSupplier && !index.supplier(removal.supplier))
        wrong.push_back(problem(ProblemCode::Missing, "supplier_id"));
    if (removal.why.empty())
        wrong.push_back(problem(ProblemCode::Missing, "why"));
    return wrong;
}

} // namespace

Result<StockMovement> Desk::takeOut(const StockRemoval &removal) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<StockMovement> {
        if (Problems wrong = removalProblems(agency, removal); !wrong.empty())
            return joined(std::move(wrong));
        StockMovement movement;
        movement.at = inner_->now();
        movement.item = removal.item;
        movement.lot = removal.lot;
        movement.quantity = removal.quantity;
        movement.from = removal.from;
        movement.note = removal.why;
        switch (removal.way) {
        case RemovalWay::WriteOff:
            movement.to = Place::wasted();
            movement.reason = MovementReason::Waste;
            break;
        case RemovalWay::ToSupplier:
            movement.to = Place::supplier(removal.supplier);
            movement.reason = MovementReason::Return;
            break;
        case RemovalWay::ToStoreroom: {
            // Of a lot out of use nothing comes back to the shelf.
            const Lot *lot = removal.lot ? agency.index().lot(*removal.lot) : nullptr;
            const bool isOutOfUse = lot && lot->state != LotState::Usable;
            movement.to = isOutOfUse ? Place::quarantine() : Place::storeroom();
            movement.reason = isOutOfUse ? MovementReason::Quarantine : MovementReason::Return;
            break;
        }
        }
        return unit.post(movement);
    });
}

} // namespace kitround::desk
