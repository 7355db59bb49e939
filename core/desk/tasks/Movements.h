#pragma once
// What every step that moves stock says alike. Private to core/desk.
#include "core/desk/tasks/DeskInner.h"

#include <span>

namespace kitround::desk {

StockMovement moved(LocalTime at, const Place &from, const Place &to, ItemId item, std::optional<LotId> lot,
                    Eaches quantity, MovementReason reason);
// The lot on file under that number, or a new one with what its label says; `made`: the new ones of this
// step so far, of which two lines may name the same.
Result<Lot> lotOnRecord(store::UnitOfWork &unit, const Agency &agency, std::span<const Lot> made, ItemId item,
                        const std::string &number, std::optional<Date> expiresOn);
// Infeasible at "quantity", args {"too_few", item code, wanted, what can be given out}.
Problem tooFew(const SnapshotIndex &index, ItemId item, Eaches wanted, Eaches missing);
// Whether what stands in for an ordered item may go to this home on the day. Problems at "item_id":
// NotAllowed, args {"order_forbids_substitute", item code}, or {"no_substitution", item code, ordered item's
// code}.
Result<void> checkSubstitution(const SnapshotIndex &index, CatheterId catheter, ItemId item, Date on);

} // namespace kitround::desk
