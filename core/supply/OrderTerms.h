#pragma once
// The terms of one supplier turned into days, packs and money.
#include "core/records/Snapshot.h"
#include "core/supply/LeadTimes.h"

#include <vector>

namespace kitround::supply {

// Next day on which an order goes out: an order day, not closed, today only before the cut-off. An empty set
// of order days means any day.
struct OrderDay {
    Date on;
    bool isPastCutOff = false; // today would have been one
    friend bool operator==(const OrderDay &, const OrderDay &) = default;
};
OrderDay nextOrderDay(const Supplier &supplier, LocalTime now);
// Order day plus the mean lead time, rounded up to a day on which the supplier is open.
Date expectedArrival(const Supplier *supplier, Date orderedOn, double meanLeadDays);
// The same of an order that is sent now: what the reorder list says and what sending writes down. Learned
// lead times are counted from sending, waiting for the supplier's day included; a promise is not. Without a
// supplier from today.
Date arrivalIfSent(const Supplier *supplier, LocalTime now, const LeadTime &lead);

// Whole packs that lift a position at or below the reorder point to the order-up-to level, at least the least
// line: rule (R, s, nQ). Nothing above the reorder point.
struct OrderQuestion {
    Eaches position;
    Eaches reorderPoint; // order when position <= this
    Eaches orderUpTo;
    PackSize pack;
    Cases leastLine;
};
Cases casesToOrder(const OrderQuestion &question);

// Price of a pack at that number of packs, price breaks counted (all units).
Money priceFor(const SupplierItem &offer, Cases cases);

// Offers to buy the item by, best first: not discontinued, supplier active; first those that are not on
// backorder (by the supplier's notice, after the snapshot's date), then preferred, then cheapest each, then
// id.
std::vector<const SupplierItem *> offersFor(const SnapshotIndex &agency, ItemId item);
bool isBackordered(const SupplierItem &offer, Date today);

} // namespace kitround::supply
