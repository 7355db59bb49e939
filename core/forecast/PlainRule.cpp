#include "core/forecast/PlainRule.h"

#include "core/base/Require.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {
namespace {

std::int64_t ceilOf(std::int64_t a, std::int64_t b) {
    return (a + b - 1) / b;
}

// Whole units; the small allowance keeps 10 sessions x 1.2 at 12.
std::int32_t wholeUnits(double units) {
    return static_cast<std::int32_t>(std::ceil(units - 1e-9));
}

Date nextDrainDay(const DrainPattern &pattern, Date after, Weekday weekStart) {
    constexpr int kLongestInterval = 60;
    if (pattern.kind != DrainPatternKind::AsNeeded)
        for (int d = 1; d <= kLongestInterval; ++d)
            if (calendar::isDrainDay(pattern, after.plusDays(d), weekStart))
                return after.plusDays(d);
    return after.plusDays(1);
}

} // namespace

Sessions sessionsCovering(const DrainPattern &pattern, Days days) {
    const std::int64_t n = std::max<std::int64_t>(days.count(), 0);
    switch (pattern.kind) {
    case DrainPatternKind::EveryNDays:
        return Sessions::of(ceilOf(n, std::max(pattern.everyDays, 1)));
    case DrainPatternKind::TimesAWeek:
        return Sessions::of(
            ceilOf(n * (pattern.weekdays.isEmpty() ? pattern.timesAWeek : pattern.weekdays.size()), 7));
    case DrainPatternKind::AsNeeded:
        break;
    }
    std::optional<std::int64_t> most;
    if (pattern.mostPerDay)
        most = n * *pattern.mostPerDay;
    if (pattern.mostPerWeek)
        most = std::min(most.value_or(INT64_MAX), ceilOf(n * *pattern.mostPerWeek, 7));
    return Sessions::of(most.value_or(0));
}

PlainRule plainRule(const PlainQuestion &q) {
    const std::int64_t length = q.days.length().count();
    KITROUND_REQUIRE(length >= 0);
    PlainRule rule;
    rule.cumulated = BlockVector<std::int32_t>(q.memory);
    rule.cumulated.reserve(static_cast<std::size_t>(length));
    double need = 0;
    std::size_t next = 0;
    for (std::int64_t i = 0; i < length; ++i) {
        for (; next < q.sessions.size() && q.sessions[next].on <= q.days.from.plusDays(i); ++next)
            need += q.sessions[next].units;
        rule.cumulated.push_back(wholeUnits(need));
    }
    if (!q.stockOn)
        return rule;
    const PlainSession *last = nullptr;
    need = 0;
    for (const PlainSession &session : q.sessions) {
        need += session.units;
        if (wholeUnits(need) > q.stockOn(session.on).count()) {
            rule.supplyEnds = last ? nextDrainDay(last->order->pattern, last->on, q.weekStart).plusDays(-1)
                                   : session.on.plusDays(-1);
            break;
        }
        last = &session;
    }
    if (last)
        rule.lastCoveredDrain = last->on;
    return rule;
}

} // namespace kitround::forecast
