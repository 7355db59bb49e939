#include "core/rounds/due/Recertification.h"

namespace kitround::rounds {

std::optional<calendar::CertificationPeriod> missedRecertification(const SnapshotIndex &agency,
                                                                   const Patient &patient) {
    const Snapshot &s = agency.snapshot();
    if (!isOnService(patient.status) || !patient.startOfCare || s.asOf < *patient.startOfCare)
        return std::nullopt;
    const Date began = *patient.startOfCare;
    const auto current = calendar::certificationPeriod(began, s.asOf, s.settings);
    if (current.number < 2)
        return std::nullopt;
    const auto last = calendar::certificationPeriod(began, current.days.from.plusDays(-1), s.settings);
    bool hasRecords = false;
    for (const Visit *visit : agency.visitsOf(patient.id)) {
        const Date on = visit->day().value_or(visit->dueFrom);
        hasRecords = hasRecords || on < last.recertWindow.to;
        if (visit->kind == VisitKind::Recertification && visit->status == VisitStatus::Done &&
            on >= last.recertWindow.from)
            return std::nullopt;
    }
    return hasRecords ? std::optional(last) : std::nullopt;
}

} // namespace kitround::rounds
