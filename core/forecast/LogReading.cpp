#include "core/forecast/LogReading.h"

#include "core/calendar/Weeks.h"

namespace kitround::forecast {
namespace {

DateRange windowOf(const calendar::PlannedDrain &drain, Weekday weekStart) {
    if (drain.dayIsFree)
        return calendar::weekOf(drain.on, weekStart);
    const std::int64_t half = calendar::longestGap(drain.order->pattern).value_or(Days::of(1)).count() / 2;
    return {drain.on.plusDays(-half), drain.on.plusDays(half + 1)};
}

// The earliest entry that fits goes to the earliest slot it fits: with windows in order no other way fills
// more.
void matchInOrder(std::vector<Slot> &slots, std::span<const DrainEntry> entries, std::vector<bool> &taken,
                  bool done) {
    std::size_t first = 0;
    for (Slot &slot : slots) {
        if (slot.fate != SlotFate::NoEntry)
            continue;
        while (first < entries.size() && entries[first].at.date < slot.window.from)
            ++first;
        for (std::size_t i = first; i < entries.size() && entries[i].at.date < slot.window.to; ++i) {
            if (taken[i] || isDone(entries[i]) != done)
                continue;
            taken[i] = true;
            slot.fate = done ? SlotFate::Done : SlotFate::NotDone;
            break;
        }
    }
}

} // namespace

LogReading readLog(const SnapshotIndex &agency, const Catheter &catheter,
                   std::span<const Hold *const> holdsByFrom, DateRange range) {
    LogReading reading;
    readLog(agency, catheter, holdsByFrom, range, reading);
    return reading;
}

void readLog(const SnapshotIndex &agency, const Catheter &catheter, std::span<const Hold *const> holdsByFrom,
             DateRange range, LogReading &reading) {
    const Weekday weekStart = agency.snapshot().settings.weekStart;
    reading.slots.clear();
    reading.beyondOrder.clear();
    reading.firstEntry = reading.lastEntry = std::nullopt;
    std::span<const DrainEntry> entries = agency.entriesOf(catheter.id);
    if (!entries.empty()) {
        reading.firstEntry = entries.front().at.date;
        reading.lastEntry = entries.back().at.date;
    }
    std::size_t skip = 0;
    while (skip < entries.size() && entries[skip].at.date < range.from)
        ++skip;
    entries = entries.subspan(skip);

    calendar::eachPlannedDrain(
        agency.ordersOf(catheter.id), holdsByFrom, range, weekStart,
        [&](const calendar::PlannedDrain &drain) {
            reading.slots.push_back({drain, windowOf(drain, weekStart), SlotFate::NoEntry});
        });
    std::vector<bool> taken(entries.size(), false);
    matchInOrder(reading.slots, entries, taken,
                 true); // a drain that was done outweighs a note that it was not
    matchInOrder(reading.slots, entries, taken, false);

    for (std::size_t i = 0; i < entries.size(); ++i) {
        if (taken[i] || !isDone(entries[i]))
            continue;
        const DrainOrder *order = agency.orderInForce(catheter.id, entries[i].at.date);
        if (order && order->pattern.kind != DrainPatternKind::AsNeeded &&
            !calendar::isOnHold(holdsByFrom, entries[i].at.date))
            reading.beyondOrder.push_back(&entries[i]);
    }
}

} // namespace kitround::forecast
