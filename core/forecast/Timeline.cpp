#include "core/forecast/Timeline.h"

#include "core/calendar/DrainCalendar.h"
#include "core/forecast/UseModel.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

// Sessions a day under an as-needed order that names no maximum a day (assumed).
constexpr int kMostPerDayWithoutMaximum = 3;

// Planned sessions, and as-needed ones at their maximum, as the trade's rule takes them: a hold ends as
// guessed.
void readPlainSessions(const HoldOutlook &holds, Timeline &timeline) {
    const std::vector<const Hold *> pauses = HoldOutlook::pointers(holds.forPlain);
    std::vector<PlainSession> &sessions = timeline.plainSessions;
    sessions.clear();
    sessions.reserve(timeline.days.size());
    double due = 0;
    for (const DayPlan &day : timeline.days) {
        if (!day.order || calendar::isDrainingPaused(pauses, day.on))
            continue;
        if (day.isOffered)
            sessions.push_back({day.on, day.order, 1});
        if (!day.isAsNeeded())
            continue;
        for (due += calendar::drainsPerDay(day.order->pattern); due >= 1.0 - 1e-9; due -= 1.0)
            sessions.push_back({day.on, day.order, 1});
    }
}

} // namespace

int doneBetween(std::span<const DrainEntry> entries, Date from, Date to) {
    int done = 0;
    for (std::size_t i = entries.size(); i-- > 0 && entries[i].at.date >= from;)
        done += isDone(entries[i]) && entries[i].at.date < to ? 1 : 0;
    return done;
}

std::size_t Timeline::offersBetween(std::size_t from, std::size_t to) const {
    return static_cast<std::size_t>(
        std::ranges::count_if(std::span(days).subspan(from, to - from), &DayPlan::isOffered));
}

void readTimeline(const SnapshotIndex &agency, const Catheter &catheter, const LogReading &reading,
                  const HoldOutlook &holds, Days horizon, Timeline &timeline) {
    const Snapshot &s = agency.snapshot();
    const std::span<const DrainEntry> entries = agency.entriesOf(catheter.id);
    const std::span<const DrainOrder *const> orders = agency.ordersOf(catheter.id);
    const std::vector<const Hold *> known = HoldOutlook::pointers(holds.known);
    Date from = learningRange(s).from;
    if (reading.lastEntry)
        from = std::clamp(reading.lastEntry->plusDays(1), from, s.asOf);
    if (catheter.insertedOn)
        from = std::clamp(*catheter.insertedOn, from, s.asOf);
    timeline.today = static_cast<std::size_t>((s.asOf - from).count());
    timeline.days.clear();
    timeline.days.reserve(timeline.today + static_cast<std::size_t>(horizon.count()));
    auto slot = reading.slots.begin();
    for (Date on = from; on < s.asOf + horizon; ++on) {
        DayPlan day;
        day.on = on;
        if (!calendar::isDrainingPaused(known, on))
            day.order = calendar::orderInForce(orders, on);
        while (slot != reading.slots.end() && slot->drain.on < on)
            ++slot;
        day.isOffered = day.order && slot != reading.slots.end() && slot->drain.on == on &&
                        slot->fate == SlotFate::NoEntry;
        if (day.isAsNeeded())
            day.mostToday = std::max(0, day.order->pattern.mostPerDay.value_or(kMostPerDayWithoutMaximum) -
                                            doneBetween(entries, on, on.plusDays(1)));
        if (holds.openFrom && on >= *holds.openFrom) {
            day.isPauseStart = on == *holds.openFrom;
            day.returnChance = holds.returnChance;
        }
        timeline.days.push_back(day);
    }
    readPlainSessions(holds, timeline);
}

} // namespace kitround::forecast
