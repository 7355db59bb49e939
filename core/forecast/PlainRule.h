#pragma once
// The rule of the trade that a clerk can check by hand: sessions on the plan times units a session. No
// adherence, no waste, nobody leaves. Shown beside the distribution, never in its place.
#include "core/calendar/DrainCalendar.h"
#include "core/forecast/HomeForecast.h"

#include <functional>
#include <span>
#include <vector>

namespace kitround::forecast {

// Sessions that `days` days can hold when the first of them is a drain day: ceil(days / N) or ceil(days n /
// 7); as needed: by the maximum, 0 where none is given. The exact count depends on the weekdays in the
// window.
Sessions sessionsCovering(const DrainPattern &pattern, Days days);

// One session on the plan and what it opens of the item.
struct PlainSession {
    Date on;
    const DrainOrder *order = nullptr;
    double units = 1;
};
struct PlainQuestion {
    std::span<const PlainSession> sessions; // in `days`, by date; cumulated need is rounded up to whole units
    DateRange days;
    // Units at hand on a day, what was expected to arrive until then counted; empty: not known, no run-out.
    std::function<Eaches(Date)> stockOn;
    Weekday weekStart = Weekday::Sunday;
    SharedBlock<std::int32_t> memory; // of the answer
};
// supplyEnds: the day before the next drain day after the last covered drain, holds not looked at (last
// covered drain + interval - 1; definition ours). Nothing covered: the day before the first session.
// Everything covered: empty, the supply lasts beyond the days asked for.
PlainRule plainRule(const PlainQuestion &question);

} // namespace kitround::forecast
