#pragma once
// What suppliers did, not what they promise: lead time, how much came at once and in time, and prices.
#include "core/records/Snapshot.h"

#include <optional>
#include <vector>

namespace kitround::supply {

struct SupplierPerformance {
    SupplierId supplier;
    // Of the orders' receipts themselves, however few: never the promise.
    std::optional<double> leadMean;
    double leadSpread = 0; // one standard deviation
    std::int64_t leads = 0;
    Days promised;           // the supplier's word
    std::int64_t orders = 0; // with at least one receipt
    // Of the eaches ordered on those orders, the share in the order's first receipt; none without orders.
    std::optional<double> fillRate;
    // Of those orders with an expected day, the share complete by it.
    std::optional<double> onTime;
    std::int64_t withDay = 0;
    Money paid;   // all lines of those orders at the price ordered
    Money listed; // the same at today's list price, price breaks counted
};
// By supplier id; suppliers without a receipt are there with n = 0. Damaged eaches have come.
std::vector<SupplierPerformance> supplierPerformance(const SnapshotIndex &agency);

} // namespace kitround::supply
