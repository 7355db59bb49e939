#pragma once
// From the agency's records to a planning problem, and back from a plan to visits.
#include "core/records/Snapshot.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/rounds/problem/WeekProblem.h"

namespace kitround::rounds {

struct RiderItem {
    ItemId item;
    Eaches quantity;
};
struct RiderWish { // what supply would like carried; the desk fills it from refills and promised deliveries
    DeliveryId delivery;
    PatientId patient;
    std::int64_t spaceMl = 0;
    Date earliest;
    Date latest;
    bool courierPossible = true;
    VisitId packedFor{};            // in the car for this visit; unset: nobody has packed it
    std::vector<RiderItem> items{}; // of a proposal: what it would bring; a delivery has its own lines
};
Result<WeekProblem> buildWeek(const SnapshotIndex &agency, DateRange days, const std::vector<DueVisit> &due,
                              const std::vector<RiderWish> &riders);
Weights weightsOf(const AgencySettings &settings);
// The plan the stored visits stand for (drafted or published ones), for showing and for repairing.
WeekPlan planOf(const WeekProblem &problem, const std::vector<DueVisit> &due);
// The visits with day, start and nurses as the plan says; unplaced ones as Due. Same order as `due`.
std::vector<Visit> visitsOf(const WeekProblem &problem, const WeekPlan &plan,
                            const std::vector<DueVisit> &due);

} // namespace kitround::rounds
