#pragma once
// Shares out the storeroom among the next deliveries, first asked first served: what is free now and what
// open orders bring before the day. Later versions may weigh harm; this one relies on the order of asking.
#include "core/records/Snapshot.h"
#include "core/supply/Ledger.h"
#include "core/supply/Refills.h"

#include <map>
#include <span>

namespace kitround::supply {

class StoreroomShare {
public:
    explicit StoreroomShare(const SnapshotIndex &agency);

    // Cuts the lines to what is there and adds substitutes' lines. Deliveries far enough away to be ordered
    // for are left alone.
    void serve(RefillProposal &proposal);
    // What a proposal that was served already has of it.
    void takeServed(const RefillProposal &served);

    // A delivery that nothing ordered today could serve.
    bool isSoon(Date on) const;
    // Not taken yet: free now, and what open orders bring before the day.
    Eaches available(ItemId item, Date on) const;
    // Not taken yet: on the shelf with life enough for a home, and what open orders bring before the day.
    Eaches longDated(ItemId item, Date on) const;

private:
    Eaches take(ItemId item, Eaches wanted, Date on);
    Eaches taken(ItemId item) const;
    std::optional<RefillLine> recordedSubstitute(const RefillLine &line, const RefillProposal &proposal,
                                                 bool soon);
    std::optional<RefillLine> substituteFor(const RefillLine &line, Eaches missing,
                                            const RefillProposal &proposal);

    const SnapshotIndex &agency_;
    std::map<ItemId, Position> positions_;
    std::map<ItemId, Eaches> taken_;
    std::map<ItemId, Eaches> longDated_;
};
// What is left when the turn of `proposal` comes, one of those that were `served` in this order.
StoreroomShare shareBefore(const SnapshotIndex &agency, std::span<const RefillProposal> served,
                           const RefillProposal &proposal);

} // namespace kitround::supply
