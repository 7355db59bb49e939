#pragma once
// What the work done cost, in cents, by nurse and by kind of area:
//
//   mileage   = miles read off the car x the mileage paid; estimated miles are not paid as driven
//   overtime  = minutes beyond the contract x the pay of an hour; nothing where that is not told
//   couriers  = homes a courier went to, day by day, x the price of a run
//   supplies  = as in Productivity
//
// Couriers and supplies of a home stand with its main nurse. The sum of each
// column is rounded to the cent and shared out in cents: a column adds up, and comes to the same by nurse and
// by area.
#include "core/caseload/Productivity.h"

namespace kitround::caseload {

struct WorkCost {
    std::optional<NurseId> nurse;    // in the list by nurse; nothing: homes without a main nurse
    AreaKind area = AreaKind::Urban; // in the list by area
    int visits = 0;                  // a two-nurse visit counts for both nurses, once for its area
    Metres paidWay;
    Minutes overtime;
    int courierRuns = 0;
    Money mileage, overtimePay, couriers, supplies;
    Money sum() const { return mileage + overtimePay + couriers + supplies; }
};
struct WorkCosts {
    std::vector<WorkCost> byNurse; // by name, homes without a main nurse last
    std::vector<WorkCost> byArea;
};
WorkCosts workCosts(const Productivity &work, const SnapshotIndex &agency);
WorkCost wholeCost(const std::vector<WorkCost> &costs);

} // namespace kitround::caseload
