#pragma once
// The log held against the plan: which planned drain each entry stands for. Where a home drains a day early
// or late the entry still stands for its drain; where the home chooses the days, only the count of the week
// matters.
#include "core/calendar/DrainCalendar.h"
#include "core/records/Snapshot.h"

#include <optional>
#include <vector>

namespace kitround::forecast {

enum class SlotFate : std::uint8_t { NoEntry, Done, NotDone };

struct Slot {
    calendar::PlannedDrain drain;
    DateRange window; // an entry of these days can stand for it
    SlotFate fate = SlotFate::NoEntry;
};
struct LogReading {
    std::vector<Slot> slots; // planned drains in the range, by date; some may lie ahead
    std::vector<const DrainEntry *>
        beyondOrder;                           // done, under a planned order and not on hold, but in no slot
    std::optional<Date> firstEntry, lastEntry; // of the whole loaded log of the catheter
};

// Entries from the range's start to now; planned drains of the whole range. `holdsByFrom` as they are to be
// taken (an open hold may have been given an end by the caller).
LogReading readLog(const SnapshotIndex &agency, const Catheter &catheter,
                   std::span<const Hold *const> holdsByFrom, DateRange range);
// The same into a reading whose memory is kept.
void readLog(const SnapshotIndex &agency, const Catheter &catheter, std::span<const Hold *const> holdsByFrom,
             DateRange range, LogReading &to);

inline bool isDone(const DrainEntry &e) {
    return e.outcome != DrainOutcome::NotDone;
}

} // namespace kitround::forecast
