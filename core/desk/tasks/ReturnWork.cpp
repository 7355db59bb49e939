// Stock that is not needed in a home any more. It leaves the books; it never goes back to the shelf.
#include "core/desk/tasks/HomeLine.h"
#include "core/desk/tasks/Movements.h"
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
        return problem(ProblemCode::OutOfRange, "at", {toIso(record.at), "", toIso(now)});
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

} // namespace

Result<HomeReturn> Desk::returnFromHome(const HomeReturn &record, Eaches counted) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<HomeReturn> {
        if (Result<void> ok = checkReturn(agency, record, counted, inner_->now()); !ok)
            return ok.error();
        const Place home = Place::home(record.catheter);
        const auto movements = inner_->file->movementsAt(home, record.item);
        if (!movements)
            return movements.error();
        const Eaches ledger = ledgerAt(*movements, home, record.at);
        if (const auto variance = supply::movementForCount(home, record.item, ledger, counted, record.at)) {
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
