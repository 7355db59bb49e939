#pragma once
// What a patient who goes on draining away from home carries along: use in the days away by the forecast of
// the home, at a service level, beside the trade's plain rule (drains on the order times what each opens).
// Nothing here changes an order: it counts what the order in force and the log ask for.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::forecast {

inline constexpr Days kLongestAway = Days::of(84); // as far as a home is forecast

struct AwayNeed {
    CatheterId catheter;
    ItemId item;
    std::int64_t plain = 0;   // by the plain rule
    std::int64_t atLevel = 0; // enough in so many of 1000 cases as asked
    double mean = 0;
    Eaches carry;  // the larger of the two
    Eaches atHome; // by the ledger, of no recalled lot and in date on the first day away; never below zero
    Eaches toSend() const { return carry > atHome ? carry - atHome : Eaches::of(0); }
};
// By catheter, then as the order names its items. Empty where no order covers the days, or where these are
// none or more than kLongestAway. Days gone by are left out: from today on. Holds are not looked at: whoever
// carries supplies drains.
std::vector<AwayNeed> awayNeed(const SnapshotIndex &agency, PatientId patient, DateRange days,
                               std::int64_t servicePermille);

} // namespace kitround::forecast
