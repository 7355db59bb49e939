#include "core/rounds/problem/PrecedingVisit.h"

#include "core/rounds/due/EventsDue.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

DateRange weekHolding(DateRange days, Date on) {
    const std::int64_t since = (std::max(on, days.from) - days.from).count();
    const Date from = days.from.plusDays(since / 7 * 7);
    return {from, std::min(from.plusDays(7), days.to)};
}

Date firstDayOf(const Visit &visit) {
    return visit.status == VisitStatus::Due ? visit.dueFrom : visit.on.value_or(visit.dueFrom);
}

// Visits of the order in the week that count already, by day.
std::vector<const Visit *> countedOf(const SnapshotIndex &agency, PatientId patient, VisitOrderId order,
                                     DateRange week) {
    std::vector<const Visit *> counted;
    for (const Visit *visit : agency.visitsOf(patient))
        if (visit->order == order && !visit->isDropped && visit->status != VisitStatus::Missed &&
            countsAlready(*visit, week, agency.snapshot().asOf))
            counted.push_back(visit);
    std::ranges::stable_sort(counted, {}, [](const Visit *v) { return dayOf(*v); });
    return counted;
}

} // namespace

ComesAfter comesAfterOf(const SnapshotIndex &agency, const Visit &visit) {
    if (visit.order)
        for (const VisitOrder *order : agency.visitOrdersOf(visit.patient))
            if (order->id == *visit.order)
                return order->after;
    return visit.after;
}

PrecedingVisit precedingVisit(const SnapshotIndex &agency, DateRange days, const std::vector<DueVisit> &due,
                              std::size_t index, const ComesAfter &after) {
    PrecedingVisit found;
    const Visit &visit = due[index].visit;
    const auto jobWhere = [&](auto &&matches) {
        const auto at = std::ranges::find_if(due, matches);
        return at == due.end() ? -1 : static_cast<std::int32_t>(at - due.begin());
    };
    if (after.visit) {
        found.job = jobWhere([&](const DueVisit &d) { return d.visit.id == *after.visit; });
        const Visit *stored = found.job < 0 ? agency.visit(*after.visit) : nullptr;
        const bool isMade = stored && stored->status != VisitStatus::Missed &&
                            stored->status != VisitStatus::Cancelled && stored->status != VisitStatus::Due;
        found.made = isMade ? stored : nullptr;
        return found;
    }
    if (!after.order)
        return found;
    const DateRange week = weekHolding(days, firstDayOf(visit));
    const bool isOrdered = visit.order.has_value();
    const int ordinal = isOrdered ? due[index].ordinal : 1;
    const std::vector<const Visit *> counted = countedOf(agency, visit.patient, *after.order, week);
    if (isOrdered && ordinal <= static_cast<int>(counted.size())) {
        found.made = counted[static_cast<std::size_t>(ordinal) - 1];
        return found;
    }
    found.job = jobWhere([&](const DueVisit &d) {
        return d.visit.patient == visit.patient && d.visit.order == *after.order &&
               week.contains(firstDayOf(d.visit)) && (!isOrdered || d.ordinal == ordinal);
    });
    if (found.job < 0 && !isOrdered && !counted.empty())
        found.made = counted.back();
    return found;
}

} // namespace kitround::rounds
