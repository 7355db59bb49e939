#pragma once
// An agency's week of any size, planned: made-up homes, nurses with shifts and breaks, series of visits,
// windows, primary nurses, two-nurse visits and deliveries. The same numbers give the same week.
#include "core/base/Result.h"
#include "core/rounds/problem/WeekProblem.h"

#include <cstdint>
#include <string>

namespace kitround::bench {

struct WeekWish {
    int visits = 600;
    int nurses = 30;
    int riders = 120;
    std::uint64_t seed = 1;
    double seconds = 10;
    std::int64_t iterations = 0; // 0 = no limit but the seconds
    int threads = 1;
    double boundSeconds = 0; // for a lower bound after the plan; 0 = none
    bool asJson = false;
};
rounds::WeekProblem agencyWeek(const WeekWish &wish);
Result<std::string> benchWeek(const WeekWish &wish);

} // namespace kitround::bench
