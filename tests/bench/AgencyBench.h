#pragma once
// One agency through the working day: made, opened, forecast, refills and reorders, a week planned, load
// reviewed.
#include "core/base/Result.h"
#include "tests/bench/ManyPatients.h"

#include <string>

namespace kitround::bench {

struct AgencyBench {
    ManyPatients agency;
    std::int64_t iterations = 2000; // of the planner
    bool asJson = false;
    bool isSample = false; // the invented agency that comes with the tool, in place of a made-up one
};
// The printed report.
Result<std::string> benchAgency(const AgencyBench &wish);

} // namespace kitround::bench
