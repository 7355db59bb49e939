#pragma once
// Lead times as receipts show them, one observation an order: the mean, over its lines, of the days from
// order to each line's first receipt.
#include "core/records/Snapshot.h"

#include <span>
#include <vector>

namespace kitround::supply {

std::vector<double> observedLeadDays(const SnapshotIndex &agency, SupplierId supplier); // by order id
double meanOf(std::span<const double> values);   // precondition: not empty
double spreadOf(std::span<const double> values); // sample standard deviation; 0 for a single value

} // namespace kitround::supply
