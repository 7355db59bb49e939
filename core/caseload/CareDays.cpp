#include "core/caseload/CareDays.h"

#include <algorithm>

namespace kitround::caseload {
namespace {

Date utcDay(Instant moment) {
    return Date::fromDayNumber(moment.unixSeconds() / 86400);
}

} // namespace

bool isCatheterDay(const SnapshotIndex &agency, const Patient &patient, const Catheter &catheter, Date day) {
    if (!patient.startOfCare || day < *patient.startOfCare ||
        (patient.exitedAt && day >= utcDay(*patient.exitedAt)))
        return false;
    if ((catheter.insertedOn && day < *catheter.insertedOn) ||
        (catheter.removedAt && day >= utcDay(*catheter.removedAt)))
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
