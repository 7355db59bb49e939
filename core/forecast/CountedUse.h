#pragma once
// What was used between two counts, whether anybody wrote it down or not: the earlier count, plus what came
// between, less the later count.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::forecast {

struct CountedInterval {
    LocalTime from, to;
    std::int64_t used = 0;   // may be below 0 where a count was wrong
    std::int64_t logged = 0; // of it, used and lost by entries that name the item
    std::int64_t bare = 0;   // done entries between that name no item at all
};
// Of neighbouring counts, by time. Deliveries on their way between the two count where they had arrived.
std::vector<CountedInterval> countedIntervals(const SnapshotIndex &agency, const Catheter &catheter,
                                              ItemId item);

} // namespace kitround::forecast
