#pragma once
// What of a recalled lot may still stand in a home. Which lot a home opens is seldom written down, so it is
// known as "at most" only, until the home has been asked.
#include "core/records/Snapshot.h"

#include <span>
#include <vector>

namespace kitround::safety {

struct RecalledAtHome {
    LotId lot;
    ItemId item;
    Eaches atMost;           // may still stand there, by the ledger or as the home said
    Eaches notUsable;        // of what the ledger shows for the item: not to be counted on
    bool isSetAside = false; // the home said so; then `atMost` is what it set aside
};
// By lot. Of a home that was reached the newest answer stands: nothing left is not listed; what was set aside
// is, and a count made then or later is of the others alone. Without an answer, or where the home would not
// set it aside, all that the ledger has of the lot may be there.
std::vector<RecalledAtHome> recalledAtHome(const SnapshotIndex &agency, CatheterId home);
// The same of one item, added up; never more than the ledger shows for it.
Eaches notUsableAtHome(const SnapshotIndex &agency, CatheterId home, ItemId item);
// What the home had set aside by that moment and no count has left out since: the ledger still has it, and a
// count then is of the others alone. `told`: answers of the same call that are not on record yet.
Eaches setAsideUncounted(const SnapshotIndex &agency, CatheterId home, ItemId item, LocalTime at,
                         std::span<const RecallOutcome> told = {});

} // namespace kitround::safety
