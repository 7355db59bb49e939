#pragma once
// How much a planner that is measured may work.
#include "core/rounds/search/Solver.h"

#include <limits>

namespace kitround::bench {

// `iterations` 0: no limit but the seconds.
inline rounds::SolveOptions workLimit(std::uint64_t seed, std::int64_t iterations, double seconds,
                                      int threads) {
    rounds::SolveOptions options;
    options.seed = seed;
    options.iterations = iterations > 0 ? iterations : std::numeric_limits<std::int64_t>::max();
    options.seconds = seconds;
    options.threads = threads;
    return options;
}

} // namespace kitround::bench
