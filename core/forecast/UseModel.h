#pragma once
// What has been learned of how one catheter uses supplies: adherence to the order (Beta), units of each item a
// session (Dirichlet over counts), waste, time on service. Old sessions weigh less (half-life LogMemoryDays).
#include "core/forecast/Pmf.h"
#include "core/records/Snapshot.h"

#include <optional>
#include <vector>

namespace kitround::forecast {

struct BetaBelief { // Beta(a, b)
    double a = 1;
    double b = 1;
    double mean() const { return a / (a + b); }
    BetaBelief after(double successes, double failures) const { return {a + successes, b + failures}; }
};

struct ItemUse {
    ItemId item;
    Pmf perSession;  // eaches a done session, waste included
};

struct UseModel {
    CatheterId catheter;
    BetaBelief adherence;         // a planned drain is done
    double asNeededPerDay = 0;    // mean drains a day under an as-needed order
    double exitPerDay = 0;        // hazard of leaving service (removal or death), by settings and site
    std::vector<ItemUse> items;   // the order's kit first, then extra bottles
    std::optional<double> meanVolumeMl; // discounted mean of logged volumes
    double sessionsSeen = 0;      // discounted number of sessions behind it
    bool isFromDefaults = true;   // no log yet: shown as assumed
};
// The model of a catheter as of the snapshot's date, under the order in force (or the next to start).
// Nothing where there is no order: unknown is not zero.
std::optional<UseModel> learnUse(const SnapshotIndex &agency, const Catheter &catheter);

// Bottles a session of `volume` opens: max(1, ceil(volume / size)); a dry tap still opens one (common
// practice). Volume is capped at the prescribed maximum first where there is one.
Bottles bottlesForSession(Millilitres volume, Millilitres bottleSize, std::optional<Millilitres> mostPerSession);

} // namespace kitround::forecast
