#pragma once
// A plan after something went otherwise than planned: the rest stays as it is as far as it can. The change is
// made to the problem first (below, or by building the week anew for a referral); then `repair` gives
// everything that must move a new place, and moves others only where that pays for the phone call; in a large
// agency only those of the nurses near it (search/Standing).
#include "core/rounds/search/Solver.h"

namespace kitround::rounds {

// Each gives a changed copy; duties and jobs keep their numbers.
// A nurse away on a day from a minute on (0: all day). Visits locked to her there are let go.
WeekProblem withNurseAway(const WeekProblem &problem, std::int32_t nurse, std::int32_t day, Minute from);
// A visit under way that takes longer; it stays where and when the plan has it.
WeekProblem withOverrun(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job, Minute extra);

struct RepairOptions {
    // What people were told, or somebody locked, for before `now` has begun and does not move; nothing else
    // comes before it, a draft's visits of this morning neither. What gets a new place leaves the problem's
    // `lead` and the drive (problem/FromNow).
    std::int32_t today = 0;
    Minute now = 0;
    double changeCost = 120; // weighted minutes a moved visit must be worth; not below Weights::changed
    std::int64_t iterations = 3000;
    double seconds = 0.7; // outer guard; 0 = none, then the same call gives the same plan on any machine
    std::uint64_t seed = 1;
};
struct MovedVisit {
    std::int32_t job = -1;
    Placement before, after; // not placed: out of the plan
};
struct RepairReport {
    WeekPlan plan; // its cost and parts are by the problem's own weights, not by changeCost
    CostParts parts;
    std::vector<MovedVisit> moved;      // other nurse or day, start off by more than kStillMinutes, in or out
    std::vector<std::int32_t> unplaced; // to be decided on; those without any day left not among them
    double seconds = 0;
};
// `before` stands on the same duties; jobs beyond its placements are new. Errors: those of checkProblem.
Result<RepairReport> repair(const WeekProblem &problem, const WeekPlan &before, const RepairOptions &options,
                            std::stop_token stop = {});

} // namespace kitround::rounds
