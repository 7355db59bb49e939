#pragma once
// What suppliers still owe, and when it should come.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::supply {

struct OpenLine {
    PurchaseOrderId order;
    SupplierId supplier;
    ItemId item;
    Eaches quantity; // not received yet, > 0
    Date expectedOn; // a backorder's promised date first, then the order's, then the supplier's promised
                     // lead; an order that is late already is expected tomorrow at the earliest
    bool isBackordered = false;
};
// Lines of orders sent and not fully received, by expected day, then order and item.
std::vector<OpenLine> openLines(const SnapshotIndex &agency);
// Sum of one item expected before the day.
Eaches arrivingBefore(const SnapshotIndex &agency, ItemId item, Date day);

} // namespace kitround::supply
