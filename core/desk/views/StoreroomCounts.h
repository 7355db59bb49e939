#pragma once
// When the storeroom was counted last.
#include "core/desk/Desk.h"
#include "core/supply/CycleCounts.h"

#include <map>

namespace kitround::desk {

// The last day each item was counted in the storeroom, from the ledger and the record of changes; items never
// counted are left out. A count of some of its lots only leaves the item due.
inline constexpr const char *kCountedWhole = "counted:";
inline constexpr const char *kCountedInPart = "counted in part:";
Result<std::map<ItemId, Date>> lastStoreroomCounts(Desk &desk);

} // namespace kitround::desk
