#pragma once
// How much of what is on the shelf will pass its last day before it is needed, when the first expiring goes
// first.
#include "core/forecast/Pmf.h"
#include "core/records/Stock.h"

#include <vector>

namespace kitround::supply {

// A lot and the demand of the time between the expiry before (or now) and its own.
struct AgeingLot {
    Eaches quantity;
    forecast::Pmf demand; // independent of the other intervals
};
struct OutdateForecast {
    double total = 0;
    std::vector<double> byLot;
};
// Exact for independent demand of the intervals: the stock left is carried as a distribution from expiry to
// expiry; at each, what is left of that lot is lost (dynamic program; with one lot it is E[(Q - D)+],
// Nahmias, Perishable Inventory Systems, 2011). Lots by expiry, soonest first. O(lots x stock x demand's
// support).
OutdateForecast expectedOutdates(const std::vector<AgeingLot> &lots);

} // namespace kitround::supply
