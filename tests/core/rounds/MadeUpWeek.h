#pragma once
// Random planning problems for tests: invented homes on a square of about 20 km, nurses with shifts, series,
// windows, locks and deliveries. The same seed gives the same problem.
#include "core/base/Random.h"
#include "core/rounds/problem/WeekProblem.h"

namespace kitround::rounds::testing {

struct MadeUp {
    int patients = 60;
    int nurses = 7;
    int days = 7;
    int visitsPerPatient = 2; // on average
    double twoNurseShare = 0.02;
    double windowShare = 0.3;
    double softShare = 0.1;
    double riderShare = 0.2;
    double lockShare = 0.0;
    double publishedShare = 0.0;
    double followShare = 0.0; // patients of whom one visit follows another of their own, by days or minutes
    double sharedShare = 0.0; // patients whose visits are for the one before them, as of a second order
    bool hasBreaks = true;
    bool hasBlocks = false;
    int weekdaysOfNurse = 5;
};
WeekProblem madeUpWeek(const MadeUp &wish, std::uint64_t seed);

} // namespace kitround::rounds::testing
