#pragma once
// The visits that a week holds beside its plan because they are made, and the minutes on the road to them.
// One that was published for a day gone by and that nobody recorded counts as the work it was planned to be.
// After a visit only the miles are on record, so its minutes are worked out:
//
//   road of a visit = driven / speed of the patient's kind of area + minutes a stop     where miles are there
//                   = the map's way from the visit before (the day's first: from where the nurse starts), and
//                     home after the last one where nothing more is planned that day    else
//
// Where no point is known the map says nothing, and nothing is added.
#include "core/records/Snapshot.h"
#include "core/rounds/problem/WeekBuilder.h"

#include <vector>

namespace kitround::caseload {

Minutes roadFromMiles(const AgencySettings &settings, Metres driven, AreaKind area);

struct VisitMade { // by one nurse; a visit by two is there twice
    const Visit *visit = nullptr;
    NurseId nurse;
    Date on;
    bool isSecond = false;
    Minutes inHome, road;
    Metres driven;
};
// Of active nurses; those whose visit stands among `due` are left to the plan. By nurse, day and time.
std::vector<VisitMade> visitsMade(const SnapshotIndex &agency, DateRange days,
                                  const std::vector<rounds::DueVisit> &due,
                                  const rounds::WeekProblem &problem, const rounds::WeekPlan &plan);

} // namespace kitround::caseload
