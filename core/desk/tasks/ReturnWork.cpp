// Stock that is not needed in a home any more. It leaves the books; it never goes back to the shelf.
#include "core/desk/tasks/HomeLine.h"
#include "core/desk/tasks/Movements.h"
#include "core/desk/views/ClosedHomes.h"
#include "core/supply/Ledger.h"

#include <algorithm>

namespace kitround::desk {
namespace {

Result<void> checkReturn(const Agency &agency, const HomeReturn &record, Eaches counted, LocalTime now) {
    if (!agency.index().catheter(record.catheter))
        return unknown("catheter", "catheter_id", record.catheter);
    if (!agency.index().item(record.item))
        return unknown("item", "item_id", record.item);
    if (record.at > now)
        return problem(ProblemCode::NotAllowed, "at", {"not_yet", toIso(record.at), toIso(now)});
    if (counted.isNegative())
        return problem(ProblemCode::Negative, "counted", {std::to_string(counted.count())});
    if (record.quantity > counted)
        return problem(ProblemCode::OutOfRange, "quantity",
                       {std::to_string(record.quantity.count()), "0", std::to_string(counted.count())});
    for (const HomeCount *other : agency.index().countsOf(record.catheter))
        if (other->item == record.item && other->at == record.at)
            return problem(ProblemCode::Duplicate, "at", {toIso(record.at)});
    return {};
}

Place placeFor(Disposition disposition) {
    return disposition == Disposition::Destroyed ? Place::wasted() : Place::returned();
}

// The lots the ledger knows there, then stock without one.
std::vector<StockMovement> leaving(const Agency &agency, const HomeReturn &record) {
    const Place home = Place::home(record.catheter);
    std::vector<StockMovement> out;
    Eaches left = record.quantity;
    const auto take = [&](std::optional<LotId> lot, Eaches most) {
        const Eaches taken = std::min(left, most);
        if (taken.count() <= 0)
            return;
        out.push_back(moved(record.at, home, placeFor(record.disposition), record.item, lot, taken,
                            record.disposition == Disposition::Destroyed ? MovementReason::Waste
                                                                         : MovementReason::Return));
        left -= taken;
    };
    for (const StockBalance &row : agency.index().balancesAt(home))
        if (row.item == record.item && row.lot && (!record.lot || row.lot == record.lot))
            take(row.lot, row.quantity);
    take(record.lot, left);
    return out;
}

// Where the ledger has one lot there and nothing beside it, what is found or missing is of that lot too.
std::optional<LotId> onlyLotAt(const SnapshotIndex &agency, CatheterId catheter, ItemId item) {
    Eaches others;
    for (const StockBalance &row : agency.balancesAt(Place::home(catheter)))
        if (row.item == item && !row.lot)
            others += row.quantity;
    const std::vector<LotId> lots = lotsAtHome(agency, catheter, item);
    return lots.size() == 1 && others.isZero() ? std::optional(lots.front()) : std::nullopt;
}

} // namespace

Result<HomeReturn> Desk::returnFromHome(const HomeReturn &asEntered, Eaches counted) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<HomeReturn> {
        const std::optional<LotId> only = onlyLotAt(agency.index(), asEntered.catheter, asEntered.item);
        HomeReturn record = asEntered;
        if (!record.lot)
            record.lot = only;
        if (const Lot *lot = record.lot ? agency.index().lot(*record.lot) : nullptr;
            record.lot && (!lot || lot->item != record.item))
            return unknown("lot", "lot_id", *record.lot);
        if (Result<void> ok = checkReturn(agency, record, counted, inner_->now()); !ok)
            return ok.error();
        const Place home = Place::home(record.catheter);
        const auto movements = inner_->file->movementsAt(home, record.item);
        if (!movements)
            return movements.error();
        const Eaches ledger = ledgerAt(*movements, home, record.at);
        if (auto variance = supply::movementForCount(home, record.item, ledger, counted, record.at)) {
            if (record.lot == only)
                variance->lot = only;
            HomeCount count;
            count.catheter = record.catheter;
            count.item = record.item;
            count.at = record.at;
            count.counted = counted;
            count.source = EntrySource::Nurse;
            count.note = record.note;
            if (Result<HomeCount> saved = unit.save(count); !saved)
                return saved.error();
            if (Result<void> done = postToHomes(unit, agency, {*variance}); !done)
                return done.error();
        }
        if (counted.isZero())
            return record;
        Result<HomeReturn> saved = unit.save(record);
        if (!saved)
            return saved;
        if (Result<void> done = postToHomes(unit, agency, leaving(agency, record)); !done)
            return done.error();
        return saved;
    });
}

} // namespace kitround::desk
