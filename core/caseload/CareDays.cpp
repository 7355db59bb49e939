#include "core/caseload/CareDays.h"

#include "core/calendar/LocalDay.h"

#include <algorithm>

namespace kitround::caseload {

std::optional<Date> careEndedOn(const SnapshotIndex &agency, const Patient &patient) {
    if (!patient.exitedAt)
        return std::nullopt;
    return calendar::localDayOf(agency.snapshot().settings, *patient.exitedAt);
}

bool isCatheterDay(const SnapshotIndex &agency, const Patient &patient, const Catheter &catheter, Date day) {
    if (!patient.startOfCare || day < *patient.startOfCare)
        return false;
    if (const std::optional<Date> ended = careEndedOn(agency, patient); ended && day >= *ended)
        return false;
    if ((catheter.insertedOn && day < *catheter.insertedOn) ||
        (catheter.removedAt && day >= calendar::localDayOf(agency.snapshot().settings, *catheter.removedAt)))
        return false;
    const Hold *hold = agency.holdOn(patient.id, day);
    return !hold || hold->stillDraining;
}

bool isPatientDay(const SnapshotIndex &agency, const Patient &patient, Date day) {
    return std::ranges::any_of(agency.cathetersOf(patient.id), [&](const Catheter *catheter) {
        return isCatheterDay(agency, patient, *catheter, day);
    });
}

} // namespace kitround::caseload
