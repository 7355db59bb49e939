#include "core/calendar/DrainCalendar.h"

#include "core/calendar/Weeks.h"

#include <algorithm>

namespace kitround::calendar {
namespace {

bool covers(const Hold &hold, Date on) {
    return hold.from <= on && (!hold.to || on < *hold.to);
}

bool hasFreeDays(const DrainPattern &pattern) {
    return pattern.kind == DrainPatternKind::TimesAWeek && pattern.weekdays.isEmpty();
}

int timesAWeek(const DrainPattern &pattern) {
    return pattern.weekdays.isEmpty() ? std::clamp(pattern.timesAWeek, 0, 7) : pattern.weekdays.size();
}

bool isSpreadDay(int times, Date on, Weekday weekStart) {
    const int dayOfWeek = int((on - weekStartOf(on, weekStart)).count());
    for (int k = 0; k < times; ++k)
        if (k * 7 / times == dayOfWeek)
            return true;
    return false;
}

// From one named weekday round the week to the next; 7 where only one is named.
int longestGapOf(WeekdaySet days) {
    int longest = 0, sinceLast = 0;
    for (int d = 0; d < 14; ++d) { // twice round, so that the gap over the week's end is seen whole
        ++sinceLast;
        if (!days.contains(Weekday(d % 7)))
            continue;
        if (d >= 7)
            longest = std::max(longest, sinceLast);
        sinceLast = 0;
    }
    return longest;
}

} // namespace

const DrainOrder *orderInForce(std::span<const DrainOrder *const> ordersByStart, Date on) {
    const DrainOrder *found = nullptr;
    for (const DrainOrder *order : ordersByStart)
        if (order->start <= on && (!order->end || on < *order->end))
            found = order;
    return found;
}

bool isDrainDay(const DrainPattern &pattern, Date on, Weekday weekStart) {
    switch (pattern.kind) {
    case DrainPatternKind::EveryNDays:
        return pattern.everyDays > 0 && (on - pattern.anchor).count() % pattern.everyDays == 0;
    case DrainPatternKind::TimesAWeek:
        return hasFreeDays(pattern) ? isSpreadDay(timesAWeek(pattern), on, weekStart)
                                    : pattern.weekdays.contains(on.weekday());
    case DrainPatternKind::AsNeeded:
        return false;
    }
    return false;
}

std::vector<PlannedDrain> plannedDrains(std::span<const DrainOrder *const> ordersByStart,
                                        std::span<const Hold *const> holdsByFrom, DateRange range,
                                        Weekday weekStart) {
    std::vector<PlannedDrain> drains;
    drains.reserve(static_cast<std::size_t>(std::max<std::int64_t>((range.to - range.from).count(), 0)));
    eachPlannedDrain(ordersByStart, holdsByFrom, range, weekStart,
                     [&](const PlannedDrain &drain) { drains.push_back(drain); });
    return drains;
}

void eachPlannedDrain(std::span<const DrainOrder *const> ordersByStart,
                      std::span<const Hold *const> holdsByFrom, DateRange range, Weekday weekStart,
                      const std::function<void(const PlannedDrain &)> &see) {
    for (Date day = range.from; day < range.to; day = day.plusDays(1)) {
        const DrainOrder *order = orderInForce(ordersByStart, day);
        if (order && isDrainDay(order->pattern, day, weekStart) && !isDrainingPaused(holdsByFrom, day))
            see({day, order, hasFreeDays(order->pattern)});
    }
}

double drainsPerDay(const DrainPattern &pattern) {
    switch (pattern.kind) {
    case DrainPatternKind::EveryNDays:
        return pattern.everyDays > 0 ? 1.0 / pattern.everyDays : 0.0;
    case DrainPatternKind::TimesAWeek:
        return timesAWeek(pattern) / 7.0;
    case DrainPatternKind::AsNeeded:
        break;
    }
    if (pattern.mostPerDay && pattern.mostPerWeek)
        return std::min(double(*pattern.mostPerDay), *pattern.mostPerWeek / 7.0);
    if (pattern.mostPerDay)
        return *pattern.mostPerDay;
    return pattern.mostPerWeek ? *pattern.mostPerWeek / 7.0 : 0.0;
}

std::optional<Days> longestGap(const DrainPattern &pattern) {
    switch (pattern.kind) {
    case DrainPatternKind::EveryNDays:
        if (pattern.everyDays > 0)
            return Days::of(pattern.everyDays);
        return std::nullopt;
    case DrainPatternKind::TimesAWeek: {
        const int times = timesAWeek(pattern);
        if (times == 0)
            return std::nullopt;
        return Days::of(hasFreeDays(pattern) ? (7 + times - 1) / times : longestGapOf(pattern.weekdays));
    }
    case DrainPatternKind::AsNeeded:
        break;
    }
    return std::nullopt;
}

bool isOnHold(std::span<const Hold *const> holds, Date on) {
    return std::ranges::any_of(holds, [&](const Hold *h) { return covers(*h, on); });
}

bool isDrainingPaused(std::span<const Hold *const> holds, Date on) {
    return std::ranges::any_of(holds, [&](const Hold *h) { return !h->stillDraining && covers(*h, on); });
}

} // namespace kitround::calendar
