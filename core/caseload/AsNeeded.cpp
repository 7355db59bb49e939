#include "core/caseload/AsNeeded.h"

namespace kitround::caseload {
namespace {

bool isInForce(const VisitOrder &order, Date on) {
    if (on < order.start || (order.end && on >= *order.end))
        return false;
    std::int64_t weeks = 0;
    for (const VisitSegment &segment : order.segments)
        weeks += segment.weeks;
    return order.end || weeks == 0 || on < order.start.plusDays(7 * weeks);
}

bool isUsed(const Visit &visit) {
    return visit.status != VisitStatus::Missed && visit.status != VisitStatus::Cancelled;
}

} // namespace

std::optional<AsNeededLeft> asNeededLeft(const SnapshotIndex &agency, PatientId patient, Date on) {
    const VisitOrder *latest = nullptr;
    AsNeededLeft answer;
    for (const VisitOrder *order : agency.visitOrdersOf(patient)) {
        if (!isInForce(*order, on) || (latest && order->start < latest->start))
            continue;
        for (const VisitSegment &segment : order->segments)
            if (segment.isAsNeeded) {
                latest = order;
                answer = {order->id, segment.mostPerWeek, 0, segment.reason};
            }
    }
    if (!latest)
        return std::nullopt;
    for (const Visit *visit : agency.visitsOf(patient)) {
        const Date day = visit->on.value_or(visit->dueFrom);
        if (visit->kind == VisitKind::AsNeeded && isUsed(*visit) && day >= latest->start &&
            (!latest->end || day < *latest->end))
            ++answer.used;
    }
    return answer;
}

} // namespace kitround::caseload
