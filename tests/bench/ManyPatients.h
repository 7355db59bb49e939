#pragma once
// A made-up agency of any size, the same for the same numbers. For benchmarks, window tests and pictures;
// people and places are numbered, not named.
#include "sample-db/Scenario.h"

#include <cstdint>
#include <string>

namespace kitround::bench {

struct ManyPatients {
    int patients = 5000;
    std::uint64_t seed = 1;
    Date today = Date::of(2026, 11, 19);
    int visitWeeksBack = 4; // the log reaches back three months
};
// A town that grows with its patients: 10 a nurse in a small agency, 33 in a large one.
sample::Scenario manyPatients(const ManyPatients &wish);
Result<void> makeManyPatients(const std::string &path, const ManyPatients &wish,
                              const ProgressSink &progress);

} // namespace kitround::bench
