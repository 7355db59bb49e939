#pragma once
// Lead times learned from receipts: days from order to first receipt of a line.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::supply {

struct LeadTime {
    double meanDays = 0;
    double spreadDays = 0;  // one standard deviation
    std::int64_t n = 0;     // orders observed
    bool isLearned = false; // else the supplier's promise
    friend bool operator==(const LeadTime &, const LeadTime &) = default;
};
// One observation an order: the mean, over its lines, of the days to each line's first receipt. Learned once
// OwnFigureLeastN orders are seen; n is shown before that too. Orders still open do not count, so a supplier
// who is late just now looks a little better than it is.
LeadTime leadTimeOf(const SnapshotIndex &agency, const Supplier &supplier);
// For items that nobody sells yet: the settings' lead time.
LeadTime usualLeadTime(const AgencySettings &settings);

// Chance of each whole number of days (index), sum 1: a gamma distribution with the lead time's mean and
// spread, cut into days at the half days; with no spread, the two days around the mean, weighted so that the
// mean holds.
std::vector<double> leadTimeChances(const LeadTime &lead);

// Reorder point d L + z sqrt(L s_d^2 + d^2 s_L^2) (e.g. Silver, Pyke and Peterson, from memory): shown beside
// the distribution as the figure a clerk can check.
double textbookReorderPoint(double perDay, double perDaySpread, double leadDays, double leadSpread, double z);
double textbookSafetyStock(double perDay, double perDaySpread, double leadDays, double leadSpread, double z);
// Trade's rule of thumb for the same: 3 sqrt(use in the lead time) (inventory note for hospitals).
double ruleOfThumbSafetyStock(double perDay, double leadDays);

} // namespace kitround::supply
