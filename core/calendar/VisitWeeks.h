#pragma once
// What a visit order owes week by week. Weeks are the agency's weeks; the first week of the order is the one
// that holds its start, even where it is partial, and its days before the start don't count (common
// practice). A partial week owes what is ordered, but no more than its days that the order allows can hold.
//
// A week in which one order of a kind ends and another takes over would owe both numbers in full, and double
// the visits. Such orders of one patient and one kind, in force one after the other, are a series; in a week
// they share,
//   all together owe  T = min(largest weekly number, rounded up sum over the orders of number x days / 7),
// where days are those of the week in which the order is in force. T is rounded up so that nothing ordered is
// dropped; what each order owes of T is its own part rounded down, and what is left goes to the largest
// remainders, of equal ones to the later order. An order whose days cannot hold its part leaves it to the
// others. The ordered frequency stays as it is; whether the week is to be more or less than T is the
// prescriber's to say (assumed; agencies differ).
#include "core/base/Date.h"
#include "core/records/Settings.h"
#include "core/records/Visits.h"

#include <span>
#include <vector>

namespace kitround::calendar {

struct WeekOwed {
    DateRange days; // the part of the week in which the order is in force
    int least = 0;
    int most = 0;
    bool isPartial = false;
    int together = 0; // least of all orders of the series in a week they share; 0: the order stands alone
    friend bool operator==(const WeekOwed &, const WeekOwed &) = default;
};
// Weeks of the order that overlap `range`, in order; none after its last segment. As-needed visits are not
// owed.
std::vector<WeekOwed> weeksOwed(const VisitOrder &order, DateRange range, Weekday weekStart);
// The same where the patient's other orders are known: weeks shared with another order of its series are
// shared out. `orders`: of one patient, `order` among them or not.
std::vector<WeekOwed> weeksOwed(const VisitOrder &order, std::span<const VisitOrder *const> orders,
                                DateRange range, Weekday weekStart);

// The reckoning behind it: one part an order, by day; empty where the order is alone in the week.
struct WeekPart {
    const VisitOrder *order = nullptr;
    DateRange days;                    // of the week, in force
    int least = 0, most = 0;           // ordered for a whole week
    int leastShare = 0, mostShare = 0; // owed in its days
};
std::vector<WeekPart> sharedWeek(const VisitOrder &order, std::span<const VisitOrder *const> orders,
                                 DateRange week, Weekday weekStart);

// The orders that take over from one another, this one among them, by start: one patient, one kind, each in
// force once the one before it ends, or begun within its last week. Orders in force side by side (two
// catheters) are series of their own, and each goes on with the one it takes over from: of the same site
// where both say which (the skill to drain it that they ask for), else the one that ended last before it.
// Visits of a series keep their distance whichever order they are of; visits as needed are in none.
std::vector<VisitOrderId> ordersInSeries(const VisitOrder &order, std::span<const VisitOrder *const> orders,
                                         Weekday weekStart);

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
