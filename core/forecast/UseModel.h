#pragma once
// What has been learned of how one catheter uses supplies: adherence to the order (Beta), units of each item
// a session (Dirichlet over counts), waste, time on service. Old sessions weigh less (half-life
// LogMemoryDays).
#include "core/forecast/Bottling.h"
#include "core/forecast/CaseloadWander.h"
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

// Sessions a day under an as-needed order: Gamma(shape, days).
struct RateBelief {
    double shape = 1;
    double days = 1;
    double mean() const { return shape / days; }
    RateBelief after(double sessions, double observedDays) const {
        return {shape + sessions, days + observedDays};
    }
};

struct UnitLevel {
    double weight = 1;
    Pmf perSession;
};
struct ItemUse {
    ItemId item;
    Pmf perSession;                // eaches a done session, waste included
    std::vector<UnitLevel> levels; // what the home's own may be, about perSession with its mean; empty: known
    double plainPerSession = 1;    // the plain rule's: mean of the rounded-up bottles, no waste
};

struct UseModel {
    CatheterId catheter;
    BetaBelief adherence;      // a planned drain is done, as learned
    BetaBelief adherenceAhead; // the same for the drains to come: habits change
    BetaBelief doneUnlogged;   // a planned drain that no entry stands for, though the log went on, was done
    std::optional<RateBelief> asNeeded; // under an as-needed order
    double asNeededPerDay = 0;          // its mean, 0 under a planned order
    BetaBelief beyondOrder{0, 1};       // a drain beyond the order on a day; a = 0: none
    double extraPerDay = 0;             // its mean
    double exitPerDay = 0;              // hazard of leaving service (removal or death), by settings and site
    std::vector<ItemUse> items;         // the order's kit first, then extra bottles
    double wasteShare = 0;              // of all units opened, mean
    std::optional<double> meanVolumeMl; // discounted mean of logged volumes
    double sessionsSeen = 0;            // discounted number of sessions behind it
    bool isFromDefaults = true;         // no log yet: shown as assumed
};
// What a missing entry means. A planned drain without an entry, with entries before and after it, is more
// often a drain left out than one not written down, but nobody knows: it counts as this share of a missed
// drain (assumed). Days before the first entry and after the last say nothing at all.
inline constexpr double kMissedWithoutEntry = 0.5;

// The order that the forecast of a catheter starts from: in force on the day, else the next to start; nullptr
// where there is none.
const DrainOrder *orderToForecast(const SnapshotIndex &agency, const Catheter &catheter);

// The model of a catheter as of the snapshot's date, under the order in force (or the next to start).
// Nothing where there is no order: unknown is not zero.
//
// Adherence: Beta prior (settings), each planned drain matched with at most one entry within half a gap of
// its day (free days: within its week), weights 2^(-age / LogMemoryDays). Units a session: Dirichlet over
// counts, its prior a log-normal volume cut at the bottle sizes, centred between the plan volume and the log.
// Waste: each unit used is preceded by a beta-geometric number of lost ones.
std::optional<UseModel> learnUse(const SnapshotIndex &agency, const Catheter &catheter);
// The same from a log already read, over learningRange or more, and with what the caseload says of change.
struct LogReading;
UseModel learnUse(const SnapshotIndex &agency, const Catheter &catheter, const DrainOrder &order,
                  const LogReading &reading, const CaseloadWander &wander);
// Days whose entries still count, up to a week ahead (a drain done early stands for a day to come).
DateRange learningRange(const Snapshot &snapshot);

// The units of `order`'s items alone, from the same log: for an order that is not in force yet. An entry that
// wrote down other items than the order's counts by its volume.
std::vector<ItemUse> unitsPerSession(const SnapshotIndex &agency, const Catheter &catheter,
                                     const DrainOrder &order, const CaseloadWander &wander);

} // namespace kitround::forecast
