#pragma once
// On which days a catheter is to be drained: orders with their history, less holds.
#include "core/base/Date.h"
#include "core/records/Drains.h"
#include "core/records/People.h"

#include <functional>
#include <span>
#include <vector>

namespace kitround::calendar {

struct PlannedDrain {
    Date on;
    const DrainOrder *order = nullptr; // borrowed from the input
    bool dayIsFree = false;            // n a week without named days: `on` is an even spread, not a promise
};
// Planned drains in the range, by date. At most one a day and catheter. As-needed orders plan none.
// EveryNDays counts from the anchor, through holds, without a shift (common practice: the pattern is the
// order's, not the log's). A day on hold has none unless the hold says "still draining". An open hold covers
// every later day: an expected return is a guess, which only the forecast weighs. Of two orders in force the
// later start wins. The orders are of one catheter, the holds of its patient.
std::vector<PlannedDrain> plannedDrains(std::span<const DrainOrder *const> ordersByStart,
                                        std::span<const Hold *const> holdsByFrom, DateRange range,
                                        Weekday weekStart = Weekday::Sunday);
// The same one by one, without memory for all of them.
void eachPlannedDrain(std::span<const DrainOrder *const> ordersByStart,
                      std::span<const Hold *const> holdsByFrom, DateRange range, Weekday weekStart,
                      const std::function<void(const PlannedDrain &)> &see);
// The order in force on a day; of two the later start wins; nullptr where there is none.
const DrainOrder *orderInForce(std::span<const DrainOrder *const> ordersByStart, Date on);
// True where the pattern puts a drain on that day (order's dates not looked at). TimesAWeek with free days
// spreads evenly: the k-th of n on day floor(k * 7 / n) after the week's start.
bool isDrainDay(const DrainPattern &pattern, Date on, Weekday weekStart = Weekday::Sunday);
// Mean drains a day under the pattern; for as-needed the maximum a day (the week's by 7 where that is
// less or alone), 0 where none is given.
double drainsPerDay(const DrainPattern &pattern);
// Days that may pass between two drains before one is late: N, the longest gap of the weekdays, or ceil(7/n).
// Nothing for as-needed.
std::optional<Days> longestGap(const DrainPattern &pattern);
bool isOnHold(std::span<const Hold *const> holds, Date on);         // any hold
bool isDrainingPaused(std::span<const Hold *const> holds, Date on); // a hold that stops draining

} // namespace kitround::calendar
