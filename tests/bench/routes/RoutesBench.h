#pragma once
// The planner on one open instance, judged by the instance itself.
#include "core/base/Result.h"
#include "tests/bench/routes/OpenInstance.h"

namespace kitround::bench {

struct RoutesWish {
    std::string format; // solomon, gehring-homberger, pvrp, hhcrsp, convrp
    std::string instance;
    std::string routes; // judge these (a file of our JSON) in place of planning
    double seconds = 10;
    std::int64_t iterations = 0; // 0 = no limit but the seconds
    std::uint64_t seed = 1;
    int threads = 1;
    Distance distance = Distance::Tenth;
    bool asJson = false;
};
Result<std::string> benchRoutes(const RoutesWish &wish);

} // namespace kitround::bench
