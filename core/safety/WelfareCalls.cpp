#include "core/safety/WelfareCalls.h"

#include <algorithm>
#include <optional>

namespace kitround::safety {
namespace {

LocalTime plannedAt(const Visit &visit) {
    return {visit.day().value_or(visit.dueFrom), visit.startAt.value_or(Minutes())};
}

std::optional<WelfareCall> newestClosedDoor(const SnapshotIndex &agency, PatientId patient) {
    std::optional<WelfareCall> newest;
    for (const Visit *visit : agency.visitsOf(patient)) {
        if (visit->status != VisitStatus::Missed || visit->missReason != MissReason::NotHome)
            continue;
        const LocalTime at = plannedAt(*visit);
        if (!newest || newest->since < at)
            newest = WelfareCall{patient, visit->id, at};
    }
    return newest;
}

bool wasSeen(const SnapshotIndex &agency, const WelfareCall &call) {
    if (std::ranges::any_of(agency.visitsOf(call.patient), [&](const Visit *visit) {
            return visit->status == VisitStatus::Done &&
                   call.since < visit->startedAt.value_or(plannedAt(*visit));
        }))
        return true;
    // Somebody knew where the patient is.
    return std::ranges::any_of(agency.holdsOf(call.patient), [&](const Hold *hold) {
        return hold->from <= agency.snapshot().asOf && (!hold->to || *hold->to > call.since.date);
    });
}

bool wasHeard(const SnapshotIndex &agency, const WelfareCall &call) {
    for (const Catheter *catheter : agency.cathetersOf(call.patient))
        if (std::ranges::any_of(agency.entriesOf(catheter->id), [&](const DrainEntry &entry) {
                return !entry.isVoid && call.since < entry.at;
            }))
            return true;
    if (std::ranges::any_of(agency.refillContactsOf(call.patient), [&](const RefillContact *contact) {
            return call.since < contact->at && contact->answer != RefillAnswer::NoAnswer;
        }))
        return true;
    const Snapshot &s = agency.snapshot();
    if (std::ranges::any_of(s.patientTold, [&](const PatientTold &told) {
            return told.patient == call.patient && call.since < told.at && isHeard(told.reached) &&
                   !told.isTakenBack();
        }))
        return true;
    return std::ranges::any_of(s.phoneCalls, [&](const PhoneCall &phone) {
        return phone.patient == call.patient && phone.topic == CallTopic::Clinical &&
               call.since <= phone.at && phone.closedAt && !phone.outcome.empty();
    });
}

} // namespace

std::vector<WelfareCall> welfareCalls(const SnapshotIndex &agency) {
    std::vector<WelfareCall> calls;
    for (const Patient &patient : agency.snapshot().patients) {
        const auto call = isOnService(patient.status) ? newestClosedDoor(agency, patient.id) : std::nullopt;
        if (call && !wasSeen(agency, *call) && !wasHeard(agency, *call))
            calls.push_back(*call);
    }
    return calls;
}

} // namespace kitround::safety
