#include "core/forecast/CountedUse.h"

#include "core/forecast/LogReading.h"

#include <algorithm>
#include <iterator>

namespace kitround::forecast {

std::vector<CountedInterval> countedIntervals(const SnapshotIndex &agency, const Catheter &catheter,
                                              ItemId item) {
    std::vector<CountedInterval> intervals;
    const HomeCount *before = nullptr;
    for (const HomeCount *count : agency.countsOf(catheter.id)) {
        if (count->item != item)
            continue;
        if (before && before->at < count->at)
            intervals.push_back({before->at, count->at, (before->counted - count->counted).count(), 0, 0});
        before = count;
    }
    if (intervals.empty())
        return intervals;
    const auto intervalAt = [&](LocalTime at) -> CountedInterval * {
        const auto later = std::ranges::upper_bound(intervals, at, {}, &CountedInterval::from);
        return later != intervals.begin() && at < std::prev(later)->to ? &*std::prev(later) : nullptr;
    };
    for (const Delivery *delivery : agency.deliveriesOf(catheter.patient)) {
        if (delivery->status != DeliveryStatus::Delivered || !delivery->deliveredAt)
            continue;
        CountedInterval *interval = intervalAt(*delivery->deliveredAt);
        for (const DeliveryLine &line : delivery->lines)
            if (interval && line.catheter == catheter.id && line.item == item)
                interval->used += line.arrived().count();
    }
    for (const DrainEntry &entry : agency.entriesOf(catheter.id)) {
        CountedInterval *interval = isDone(entry) ? intervalAt(entry.at) : nullptr;
        if (!interval)
            continue;
        interval->bare += entry.supplies.empty() ? 1 : 0;
        for (const BottleUse &use : entry.supplies)
            if (use.item == item)
                interval->logged += (use.used + use.lost).count();
    }
    return intervals;
}

} // namespace kitround::forecast
