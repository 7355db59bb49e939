#pragma once
// The days of one catheter's forecast: the silent ones since the last entry, of which the log says nothing,
// then those ahead; what the order offers on each.
#include "core/forecast/HoldOutlook.h"
#include "core/forecast/LogReading.h"
#include "core/forecast/PlainRule.h"

#include <optional>
#include <vector>

namespace kitround::forecast {

struct DayPlan {
    Date on;
    const DrainOrder *order = nullptr; // nobody drains where there is none
    bool isOffered = false;            // a planned drain that no entry stands for
    int mostToday = 0;                 // as-needed
    bool isPauseStart = false;
    double returnChance = 0; // of a paused home, overnight

    bool isAsNeeded() const { return order && order->pattern.kind == DrainPatternKind::AsNeeded; }
};

struct Timeline {
    std::vector<DayPlan> days;
    std::size_t today = 0;                   // index of the as-of day
    std::vector<PlainSession> plainSessions; // units still to be set item by item

    std::size_t horizon() const { return days.size() - today; }
    // Planned drains on days [from, to), by index.
    std::size_t offersBetween(std::size_t from, std::size_t to) const;
};
// Into a timeline whose memory is kept.
void readTimeline(const SnapshotIndex &agency, const Catheter &catheter, const LogReading &reading,
                  const HoldOutlook &holds, Days horizon, Timeline &to);

// Done drains on days [from, to).
int doneBetween(std::span<const DrainEntry> entries, Date from, Date to);

} // namespace kitround::forecast
