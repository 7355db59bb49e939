#pragma once
// What an agency would have on record of a home's true life, up to the as-of morning.
#include "core/records/Snapshot.h"
#include "tests/bench/world/HomeLife.h"

namespace kitround::bench {

// Appends patient, catheter, orders, holds, log, counts, deliveries and the home's ledger balances.
CatheterId addRecords(Snapshot &snapshot, const HomeLife &life, WorldKind world, Draws &draws);
// Sorts as the store sorts.
void finishRecords(Snapshot &snapshot);

} // namespace kitround::bench
