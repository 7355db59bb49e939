#pragma once
// What it takes to stand in for one size of bottle with another: by volume, session by session, never by the
// mean (a mean volume hides bottles).
#include "core/records/Snapshot.h"

#include <span>

namespace kitround::supply {

struct SubstitutionNeed {
    Bottles bottles;      // of the substitute
    Eaches dressingPacks; // one a session: the sterile kit items are not doubled
    int connections = 0;  // one a bottle: each is a chance of contamination, and more work at home
    friend bool operator==(const SubstitutionNeed &, const SubstitutionNeed &) = default;
};
// For `sessions` sessions like the logged `volumes`; bottles a session are max(1, ceil(volume / size)), at
// most `per`. Without a log every session takes `per`. Rounded up over all sessions.
SubstitutionNeed substitutionNeed(Sessions sessions, std::span<const Millilitres> volumes,
                                  Millilitres substituteSize, Eaches per);
// Known volumes of a catheter's done drains, newest last.
std::vector<Millilitres> loggedVolumes(const SnapshotIndex &agency, CatheterId catheter);

// How many of it stand in for one of what is ordered; 1 where the item names no such way.
Eaches standInPer(const SnapshotIndex &agency, ItemId ordered, ItemId standIn);

// How an item stands to a home's order on a day. NotOne: it is ordered itself, or stands in for nothing
// ordered (no order, another item).
enum class SubstitutionState : std::uint8_t { NotOne, Recorded, NotRecorded, OrderForbids };
struct StandsIn {
    SubstitutionState state = SubstitutionState::NotOne;
    ItemId ordered; // what it stands in for; not set for NotOne
};
StandsIn standsInFor(const SnapshotIndex &agency, CatheterId catheter, ItemId item, Date on);

} // namespace kitround::supply
