#pragma once
// Shares out the storeroom among the next deliveries, first asked first served: what is free now and what
// open orders bring before the day. Later versions may weigh harm; this one relies on the order of asking.
#include "core/records/Snapshot.h"
#include "core/supply/Packing.h"
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
    // Not taken yet: good on that day and in no parcel promised, and what open orders bring before it.
    Eaches available(ItemId item, Date on) const;
    // The same, with life enough for a home on that day.
    Eaches longDated(ItemId item, Date on) const;

private:
    // As many as are there, in whole `per`.
    Eaches take(ItemId item, Eaches wanted, Date on, Eaches per = Eaches::of(1));
    Eaches taken(ItemId item) const;
    template <class May>
    Eaches unclaimed(ItemId item, Date on, May mayBeSent) const;
    bool mayStandIn(CatheterId catheter, const Item &standIn, const RefillProposal &proposal) const;
    std::optional<RefillLine> recordedSubstitute(const RefillLine &line, const RefillProposal &proposal,
                                                 bool soon);
    std::optional<RefillLine> substituteFor(const RefillLine &line, Eaches missing,
                                            const RefillProposal &proposal);

    const SnapshotIndex &agency_;
    Shelf shelf_;                   // without what the parcels promised already are packed from
    std::map<ItemId, Eaches> owed_; // what the shelf lacks for those
    std::map<ItemId, Eaches> taken_;
};
// What is left when the turn of `proposal` comes, one of those that were `served` in this order.
StoreroomShare shareBefore(const SnapshotIndex &agency, std::span<const RefillProposal> served,
                           const RefillProposal &proposal);

} // namespace kitround::supply
