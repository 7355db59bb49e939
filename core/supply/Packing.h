#pragma once
// Which lots a parcel is packed from: the one rule for packing it, for the list by which it is packed, and
// for what the shelf has left for others. A lot has to be good on the day it arrives.
#include "core/supply/Lots.h"

#include <map>

namespace kitround::supply {

// A place from which is taken, one thing after the other: what was taken is not found again.
class Shelf {
public:
    Shelf(const SnapshotIndex &agency, const Place &place);

    PickResult take(ItemId item, Eaches need, Date on, Days leastLife);
    // Left, by lot; not set: stock without a lot on record.
    const std::map<LotId, Eaches> &left(ItemId item) const;
    const SnapshotIndex &agency() const { return agency_; }

private:
    const SnapshotIndex &agency_;
    std::map<ItemId, std::map<LotId, Eaches>> there_;
};

struct PackedLine {
    std::size_t line = 0; // of the delivery's
    Pick pick;
};
struct PackedParcel {
    std::vector<PackedLine> lines; // by item, so that two catheters never share an each
    std::vector<Eaches> missing;   // a line of the delivery
};
PackedParcel packParcel(Shelf &shelf, const Delivery &delivery, Date today);

// Promised and picked parcels as they are packed: earliest promise first.
std::vector<const Delivery *> parcelsToPack(const Snapshot &agency);

} // namespace kitround::supply
