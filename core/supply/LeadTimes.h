#pragma once
// Lead times learned from receipts: days from order to first receipt of a line.
#include "core/records/Snapshot.h"

namespace kitround::supply {

struct LeadTime {
    double meanDays = 0;
    double spreadDays = 0;  // one standard deviation
    std::int64_t n = 0;     // orders observed
    bool isLearned = false; // else the supplier's promise
};
LeadTime leadTimeOf(const SnapshotIndex &agency, const Supplier &supplier);
// Reorder point d L + z sqrt(L s_d^2 + d^2 s_L^2) (e.g. Silver, Pyke and Peterson, from memory): shown beside
// the distribution as the figure a clerk can check.
double textbookReorderPoint(double perDay, double perDaySpread, double leadDays, double leadSpread, double z);
double textbookSafetyStock(double perDay, double perDaySpread, double leadDays, double leadSpread, double z);

} // namespace kitround::supply
