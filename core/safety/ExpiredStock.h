#pragma once
// What of a home's stock is past its last day of use. Which lot a home opens is seldom written down, so the
// oldest are taken to be used first: where the lots on record are more than the ledger's total, the oldest
// are gone.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::safety {

struct LotAtHome {
    LotId lot;
    Eaches left;
    Date expiresOn; // last day of use
    friend bool operator==(const LotAtHome &, const LotAtHome &) = default;
};
// Lots with a last day on record of which something is left there, soonest first.
std::vector<LotAtHome> datedLotsAtHome(const SnapshotIndex &agency, CatheterId home, ItemId item);
// Those past their last day on the snapshot's date. A recalled lot is left out: RecalledStock has it, and
// both together are never more than the ledger shows.
std::vector<LotAtHome> expiredLotsAtHome(const SnapshotIndex &agency, CatheterId home, ItemId item);
// The same, added up: not to be used, not to be counted on.
Eaches expiredAtHome(const SnapshotIndex &agency, CatheterId home, ItemId item);

} // namespace kitround::safety
