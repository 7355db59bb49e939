#include "core/caseload/Compliance.h"

#include "core/calendar/VisitWeeks.h"
#include "core/calendar/Weeks.h"
#include "core/caseload/CareDays.h"

#include <algorithm>
#include <tuple>

namespace kitround::caseload {
namespace {

bool isHeldIn(const SnapshotIndex &agency, PatientId patient, DateRange days) {
    for (Date day = days.from; day < days.to; ++day)
        if (agency.holdOn(patient, day))
            return true;
    return false;
}

void addOrder(Compliance &all, const SnapshotIndex &agency, const VisitOrder &order) {
    const Snapshot &s = agency.snapshot();
    const Patient *patient = agency.patient(order.patient);
    if (!patient || order.kind == VisitKind::Phone)
        return;
    for (const calendar::WeekOwed &owed :
         calendar::weeksOwed(order, agency.visitOrdersOf(order.patient), all.days, s.settings.weekStart)) {
        PatientWeek row;
        row.patient = order.patient;
        row.order = order.id;
        row.kind = order.kind;
        row.week = calendar::weekOf(owed.days.from, s.settings.weekStart);
        row.owed = owed.least;
        row.isPartial = owed.isPartial;
        row.isHeld = isHeldIn(agency, order.patient, owed.days);
        // The week of the exit is a partial one; what was ordered beyond is not owed.
        if (const std::optional<Date> ended = careEndedOn(agency, *patient)) {
            if (*ended <= row.week.from)
                continue;
            row.isPartial = row.isPartial || *ended < row.week.to;
        }
        for (const Visit *visit : agency.visitsOf(order.patient))
            if (visit->order == order.id && row.week.contains(visit->day().value_or(visit->dueFrom))) {
                row.done += visit->status == VisitStatus::Done ? 1 : 0;
                row.missed += visit->status == VisitStatus::Missed ? 1 : 0;
            }
        all.weeks.push_back(row);
    }
}

} // namespace

Compliance frequencyCompliance(const SnapshotIndex &agency, DateRange days) {
    const Snapshot &s = agency.snapshot();
    Compliance all;
    all.days = days;
    for (const VisitOrder &order : s.visitOrders)
        addOrder(all, agency, order);
    std::ranges::stable_sort(
        all.weeks, {}, [](const PatientWeek &w) { return std::tuple(w.week.from, w.patient, w.order); });
    for (const PatientWeek &week : all.weeks) {
        if (!week.counts()) {
            all.leftOut += week.owed > 0 ? 1 : 0;
            continue;
        }
        ++all.patientWeeks;
        all.kept += week.isKept() ? 1 : 0;
        all.owed += week.owed;
        all.done += std::min(week.done, week.owed);
    }
    for (const Visit &visit : s.visits)
        if (visit.status == VisitStatus::Missed && days.contains(visit.day().value_or(visit.dueFrom)))
            all.missed.push_back({visit.id, visit.patient, visit.kind, visit.day().value_or(visit.dueFrom),
                                  visit.missReason, visit.prescriberToldAt.has_value()});
    std::ranges::stable_sort(all.missed, {}, [](const MissedVisit &m) { return std::pair(m.on, m.visit); });
    all.untold = static_cast<int>(std::ranges::count(all.missed, false, &MissedVisit::prescriberTold));
    return all;
}

} // namespace kitround::caseload
