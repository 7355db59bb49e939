#include "core/desk/views/HomesTold.h"

#include "core/calendar/Weeks.h"
#include "core/desk/views/PlanNews.h"

#include <algorithm>

namespace kitround::desk {

HomesTold::HomesTold(const Agency &agency) : weekStart_(agency.settings().weekStart) {
    for (const Plan &plan : agency.snapshot().firstPublished) {
        weeks_.push_back(plan.weekStart);
        for (const PlannedVisit &visit : plan.visits) // where two weeks had it, as was said first
            told_.try_emplace(visit.visit, Told{{plannedPlace(visit)}, std::nullopt});
    }
    for (const PatientTold &told : agency.snapshot().patientTold)
        if (!told.isTakenBack() && told.reached != Reached::Nobody)
            for (const ToldPlace &visit : told.visits)
                hear(visit, told);
}

void HomesTold::hear(const ToldPlace &visit, const PatientTold &told) {
    Told &known = told_.try_emplace(visit.visit, nothing_).first->second;
    if (isHeard(told.reached)) {
        known.places.clear();
        known.heardAt = told.at;
    }
    known.places.push_back(visit.place);
}

const HomesTold::Told &HomesTold::of(VisitId visit) const {
    const auto known = told_.find(visit);
    return known == told_.end() ? nothing_ : known->second;
}

const VisitPlace &HomesTold::expected(VisitId visit, const VisitPlace &now) const {
    const std::vector<VisitPlace> &places = of(visit).places;
    const auto other =
        std::ranges::find_if(places, [&](const VisitPlace &place) { return !isAsAgreed(place, now); });
    return other == places.end() ? places.front() : *other;
}

bool HomesTold::wasPublished(Date on) const {
    return std::ranges::find(weeks_, calendar::weekStartOf(on, weekStart_)) != weeks_.end();
}

} // namespace kitround::desk
