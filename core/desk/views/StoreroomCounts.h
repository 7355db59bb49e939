#pragma once
// Counting the storeroom: what is due, and an item's lots counted in one go with what a count must say.
#include "core/desk/Desk.h"
#include "core/supply/CycleCounts.h"

namespace kitround::desk {

// The last day anything of each item was counted in the storeroom, from the ledger and the record of changes;
// items never counted are left out.
Result<std::map<ItemId, Date>> lastStoreroomCounts(Desk &desk);

struct LotCount {
    std::optional<LotId> lot; // none: stock whose lot nobody wrote down
    Eaches ledger;            // in the storeroom, when the count began
    Eaches counted;
};
struct ItemCount {
    ItemId item;
    std::vector<LotCount> lots;
    std::string why;
    std::string secondPerson;
    bool isCountedAgain = false; // a number that looks like the wrong unit was checked
};
// All that is missing: Missing at "why" with a difference; at "second_person" with one worth more than the
// rules' limit (Conflict second_is_user for the user's own name); Conflict looks_like_cases at "counted", row
// = the lot's place from 1, until it is said that it was counted again.
Problems countProblems(const Agency &agency, const ItemCount &count, const std::string &userName,
                       const supply::CountRules &rules = {});
// Posts each lot's variance with the reason and the second person. What was stored before a problem stays: a
// count that agrees posts nothing.
Result<void> storeCount(Desk &desk, const ItemCount &count, const std::string &userName,
                        const supply::CountRules &rules = {});

} // namespace kitround::desk
