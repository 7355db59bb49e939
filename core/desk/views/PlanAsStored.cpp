#include "core/desk/views/PlanAsStored.h"

namespace kitround::desk {
namespace {

// A draft leaves what is published as it is, as long as it stands where it was.
Visit withStatus(Visit visit, const Visit *before, bool publish) {
    if (!visit.on) {
        visit.status = VisitStatus::Due;
        visit.startAt.reset();
        visit.nurse.reset();
        visit.secondNurse.reset();
    } else if (publish) {
        visit.status = VisitStatus::Published;
    } else {
        const bool stands = before && before->status == VisitStatus::Published &&
                            plannedPlace(*before) == plannedPlace(visit);
        visit.status = stands ? VisitStatus::Published : VisitStatus::Drafted;
    }
    return visit;
}

} // namespace

std::vector<Visit> visitsAsStored(const std::vector<Visit> &planned, const SnapshotIndex &index,
                                  bool publish) {
    std::vector<Visit> visits;
    visits.reserve(planned.size());
    for (const Visit &visit : planned) {
        const Visit *before = index.visit(visit.id);
        if (before && hasHappened(before->status))
            visits.push_back(*before);
        else if (visit.id.isSet() || visit.on)
            visits.push_back(withStatus(visit, before, publish));
    }
    return visits;
}

std::vector<PlannedVisit> placesAsStored(const std::vector<Visit> &visits) {
    std::vector<PlannedVisit> places;
    for (const Visit &visit : visits) {
        if (!plannedPlace(visit).isSet() || visit.status == VisitStatus::Cancelled)
            continue;
        PlannedVisit place;
        place.visit = visit.id;
        place.on = *visit.on;
        place.startAt = *visit.startAt;
        place.nurse = *visit.nurse;
        place.secondNurse = visit.secondNurse;
        places.push_back(place);
    }
    return places;
}

} // namespace kitround::desk
