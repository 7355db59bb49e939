#pragma once
// How often a home drains, learned from its log, its counts and the caseload.
#include "core/forecast/Discount.h"
#include "core/forecast/LogReading.h"
#include "core/forecast/UseModel.h"

#include <optional>
#include <span>

namespace kitround::forecast {

// Of planned drains without an entry, how many were done all the same, as the kits between counts show.
struct UnloggedDrains {
    BetaBelief belief;
    bool isSeen = false; // two counts enclose such a drain; else the belief is the assumed one
};
UnloggedDrains learnUnlogged(const SnapshotIndex &agency, const Catheter &catheter, const DrainOrder &order,
                             double kitsPerSession, const LogReading &log, const Discount &discount);
// A planned drain without an entry counts (in part) only where the log went on beyond its window.
BetaBelief learnAdherence(const LogReading &log, const AgencySettings &settings, const Discount &discount,
                          const UnloggedDrains &unlogged);
// Habits change: over the horizon the belief is worth less than `steady` sessions, whatever the log says.
BetaBelief ahead(const BetaBelief &learned, double steady);
// Sessions a day under an as-needed order.
RateBelief learnRate(const SnapshotIndex &agency, const Catheter &catheter, const DrainOrder &order,
                     std::span<const Hold *const> holds, const Discount &discount);
// Chance a day of a drain beyond the order; a = 0: none. One stray line is no habit, unless drains beyond the
// order are common in the caseload (kCommonBeyondOrder).
BetaBelief learnBeyondOrder(const LogReading &log, const Discount &discount, double caseloadPerDay);

} // namespace kitround::forecast
