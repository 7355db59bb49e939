#pragma once
// The stock line of one home: posting to it without disturbing a count that came later. A count says what
// stood there at its moment, whatever was or was not written down before; so a movement entered late is
// balanced at the first count after it. Private to core/desk.
#include "core/desk/tasks/DeskInner.h"

namespace kitround::desk {

// A movement of a home's own stock that is dated into a closed month goes to the first moment of the open
// one, with its day in the note: a drain that happened is never refused for the books. Anything that moves
// the agency's stock is refused by the store. Posts each movement, and for a home whose item was counted at
// or after the movement's time, the variance that keeps that count true.
Result<void> postToHomes(store::UnitOfWork &unit, const Agency &agency,
                         const std::vector<StockMovement> &movements);
// Those of `movements` that nothing has undone and that undo nothing themselves.
std::vector<StockMovement> stillStanding(const std::vector<StockMovement> &movements);
// The ledger of a place and item at a moment, that minute included.
Eaches ledgerAt(const std::vector<StockMovement> &movements, const Place &place, LocalTime at);

} // namespace kitround::desk
