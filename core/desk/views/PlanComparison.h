#pragma once
// Any two plans of one week side by side: the one in hand and every version on record. A version is laid over
// the visits as they are due now; what it has beyond them is listed, and said to be so. Pure.
#include "core/desk/views/WeekRepair.h"

#include <cstdint>
#include <map>

namespace kitround::desk {

struct LaidPlan {
    QString name;
    std::vector<VisitPlace> places;       // by job, as the plan says; not set: not planned
    std::map<VisitId, VisitPlace> notDue; // visits of the plan that are made by now, or not due any more
    WeekPicturePtr week; // the visits where the plan has them, as far as there are rounds for it, evaluated
    std::int64_t unfit = 0; // visits due that it has on a round that is no more: not placed in `week`
};
// The plan in hand; `one` is the week of it that versions are on record for.
LaidPlan planInHand(const WeekPicturePtr &hand, DateRange one, bool isSaved);
// The plan as it stood before the last step, which undo gives back; the same visits as the plan in hand.
LaidPlan planBeforeStep(const WeekPicturePtr &before, DateRange one, const QString &step);
// Visits that the plan in hand has in another week, and the version nowhere, stay where they are.
LaidPlan laidOver(const LaidPlan &hand, const Plan &version, std::optional<Instant> savedAt);
// "Version 3, draft, Thu 26 Nov 14:10", "Version 2, published Tue 24 Nov 10:05". A version that is published
// knows when; of a draft the caller may know when it was saved.
QString versionName(const Agency &agency, const Plan &version, std::optional<Instant> savedAt);

struct PlanFigure {
    QString name;
    std::int64_t first = 0, second = 0;
};
struct PlanComparison {
    QString first, second;          // the plans' names
    std::vector<PlanChange> visits; // `was` in the first plan, `now` in the second; by day and start of where
                                    // they stand, small shifts last; isGone: not due any more
    std::vector<PlanFigure> figures; // of the visits due; what differs of the cost, and the whole of it, last
    QString summary;                 // how many differ, and what the figures leave out
};
// Both laid over the same plan in hand.
PlanComparison comparePlans(const LaidPlan &first, const LaidPlan &second);
Table comparisonTable(const PlanComparison &comparison, const Agency &agency); // the visits, by code

} // namespace kitround::desk
