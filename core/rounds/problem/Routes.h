#pragma once
// A plan seen duty by duty.
#include "core/rounds/problem/WeekProblem.h"

namespace kitround::rounds {

// By duty: its jobs by start, then index. A two-nurse job stands in both.
std::vector<std::vector<std::int32_t>> routesOf(const WeekProblem &problem, const WeekPlan &plan);

} // namespace kitround::rounds
