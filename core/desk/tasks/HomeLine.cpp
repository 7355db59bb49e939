#include "core/desk/tasks/HomeLine.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const HomeCount *firstCountFrom(const SnapshotIndex &agency, CatheterId catheter, ItemId item, LocalTime at) {
    for (const HomeCount *count : agency.countsOf(catheter)) // by time
        if (count->item == item && count->at >= at)
            return count;
    return nullptr;
}

bool isOfHomesAlone(const StockMovement &m) {
    const auto isOurs = [](PlaceKind kind) { return isInside(kind) && kind != PlaceKind::Home; };
    return !isOurs(m.from.kind) && !isOurs(m.to.kind);
}

// As it may be posted: a day of closed books becomes the first open moment.
StockMovement inOpenMonth(const Agency &agency, StockMovement movement) {
    const std::optional<Date> open = firstOpenDay(agency.snapshot().monthCloses);
    if (!open || movement.at.date >= *open || !isOfHomesAlone(movement))
        return movement;
    movement.note += (movement.note.empty() ? "" : "; ") + std::string("happened ") + toIso(movement.at) +
                     ", in a closed month";
    movement.at = {*open, Minutes{}};
    return movement;
}

Result<void> balanceAgainstCount(store::UnitOfWork &unit, const Agency &agency, const StockMovement &posted,
                                 const Place &home, bool isInto) {
    const HomeCount *count = firstCountFrom(agency.index(), CatheterId(home.ref), posted.item, posted.at);
    if (!count)
        return {};
    StockMovement balancing;
    balancing.at = count->at;
    balancing.item = posted.item;
    balancing.lot = posted.lot;
    balancing.quantity = posted.quantity;
    balancing.from = isInto ? home : Place::variance();
    balancing.to = isInto ? Place::variance() : home;
    balancing.reason = MovementReason::Count;
    balancing.note = "entered after the count";
    if (Result<StockMovement> done = unit.post(inOpenMonth(agency, balancing)); !done)
        return done.error();
    return {};
}

} // namespace

Result<void> postToHomes(store::UnitOfWork &unit, const Agency &agency,
                         const std::vector<StockMovement> &movements) {
    for (const StockMovement &movement : movements) {
        if (Result<StockMovement> done = unit.post(inOpenMonth(agency, movement)); !done)
            return done.error();
        if (movement.from.kind == PlaceKind::Home)
            if (Result<void> done = balanceAgainstCount(unit, agency, movement, movement.from, false); !done)
                return done;
        if (movement.to.kind == PlaceKind::Home)
            if (Result<void> done = balanceAgainstCount(unit, agency, movement, movement.to, true); !done)
                return done;
    }
    return {};
}

std::vector<StockMovement> stillStanding(const std::vector<StockMovement> &movements) {
    std::vector<StockMovement> standing;
    for (const StockMovement &movement : movements) {
        const bool isUndone = std::ranges::any_of(
            movements, [&](const StockMovement &other) { return other.undoes == movement.id; });
        if (!movement.undoes && !isUndone)
            standing.push_back(movement);
    }
    return standing;
}

Eaches ledgerAt(const std::vector<StockMovement> &movements, const Place &place, LocalTime at) {
    Eaches sum;
    for (const StockMovement &movement : movements) {
        if (movement.at > at)
            continue;
        if (movement.to == place)
            sum += movement.quantity;
        if (movement.from == place)
            sum -= movement.quantity;
    }
    return sum;
}

} // namespace kitround::desk
