#pragma once
// What a visit order owes week by week. Weeks are the agency's weeks; the first week of the order is the one
// that holds its start, even where it is partial, and its days before the start don't count (common practice).
#include "core/base/Date.h"
#include "core/records/Settings.h"
#include "core/records/Visits.h"

#include <vector>

namespace kitround::calendar {

struct WeekOwed {
    DateRange days;  // the part of the week in which the order is in force
    int least = 0;
    int most = 0;
    bool isPartial = false;
    friend bool operator==(const WeekOwed &, const WeekOwed &) = default;
};
// Weeks that overlap `range`, in order.
std::vector<WeekOwed> weeksOwed(const VisitOrder &order, DateRange range, Weekday weekStart);

// Even spacing for `visits` in `days` available days: the least and most days between two starts that a
// sensible plan keeps unless the order says otherwise. E.g. 2 a week: 2..5 days; 3: 2..3; daily: 1..1.
struct Spacing {
    Days least;
    Days most;
};
Spacing usualSpacing(int visitsAWeek);

} // namespace kitround::calendar
