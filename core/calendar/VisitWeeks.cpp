#include "core/calendar/VisitWeeks.h"

#include "core/calendar/Weeks.h"

#include <algorithm>

namespace kitround::calendar {
namespace {

// Visits that the days in force can hold at all: one on each day the order allows, two where more than 7 a
// week are ordered.
int roomFor(int visitsAWeek, DateRange days, WeekdaySet allowed) {
    int usable = 0;
    for (Date day = days.from; day < days.to; day = day.plusDays(1))
        usable += allowed.isEmpty() || allowed.contains(day.weekday()) ? 1 : 0;
    return usable * ((visitsAWeek + 6) / 7);
}

WeekOwed owedIn(DateRange week, const VisitOrder &order, const VisitSegment &segment) {
    WeekOwed owed{{std::max(week.from, order.start), order.end ? std::min(week.to, *order.end) : week.to},
                  segment.leastPerWeek,
                  segment.mostPerWeek,
                  false};
    owed.isPartial = owed.days != week;
    if (owed.isPartial) {
        owed.least = std::min(owed.least, roomFor(segment.leastPerWeek, owed.days, order.allowedDays));
        owed.most = std::min(owed.most, roomFor(segment.mostPerWeek, owed.days, order.allowedDays));
    }
    return owed;
}

} // namespace

std::vector<WeekOwed> weeksOwed(const VisitOrder &order, DateRange range, Weekday weekStart) {
    std::vector<WeekOwed> weeks;
    DateRange week = weekOf(order.start, weekStart);
    for (const VisitSegment &segment : order.segments) {
        if (segment.isAsNeeded)
            continue;
        for (int k = 0; k < segment.weeks; ++k) {
            if (week.from >= range.to || (order.end && week.from >= *order.end))
                return weeks;
            const WeekOwed owed = owedIn(week, order, segment);
            if (owed.days.from < owed.days.to && owed.days.to > range.from && owed.days.from < range.to)
                weeks.push_back(owed);
            week = {week.to, week.to.plusDays(7)};
        }
    }
    return weeks;
}

Spacing usualSpacing(int visitsAWeek) {
    static constexpr int kLeast[] = {4, 2, 2, 1, 1, 1, 1};
    static constexpr int kMost[] = {10, 5, 3, 3, 3, 2, 1};
    if (visitsAWeek > 7)
        return {Days::of(0), Days::of(1)};
    const std::size_t i = static_cast<std::size_t>(std::max(visitsAWeek, 1) - 1);
    return {Days::of(kLeast[i]), Days::of(kMost[i])};
}

} // namespace kitround::calendar
