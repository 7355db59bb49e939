#pragma once
// What a visit order owes week by week. Weeks are the agency's weeks; the first week of the order is the one
// that holds its start, even where it is partial, and its days before the start don't count (common
// practice). A partial week owes what is ordered, but no more than its days that the order allows can hold.
#include "core/base/Date.h"
#include "core/records/Settings.h"
#include "core/records/Visits.h"

#include <vector>

namespace kitround::calendar {

struct WeekOwed {
    DateRange days; // the part of the week in which the order is in force
    int least = 0;
    int most = 0;
    bool isPartial = false;
    friend bool operator==(const WeekOwed &, const WeekOwed &) = default;
};
// Weeks of the order that overlap `range`, in order; none after its last segment. As-needed visits are not
// owed.
std::vector<WeekOwed> weeksOwed(const VisitOrder &order, DateRange range, Weekday weekStart);

// Even spacing for `visits` in `days` available days: the least and most days between two starts that a
// sensible plan keeps unless the order says otherwise. 1 a week: 4..10 days; 2: 2..5; 3: 2..3;
// 4 and 5: 1..3 (a free weekend); 6: 1..2; daily: 1..1; more: 0..1. Assumed.
struct Spacing {
    Days least;
    Days most;
    friend bool operator==(const Spacing &, const Spacing &) = default;
};
Spacing usualSpacing(int visitsAWeek);

} // namespace kitround::calendar
