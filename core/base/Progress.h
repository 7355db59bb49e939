#pragma once
// How far long work has come. A sink is called from the working thread, at most some times a second by the
// engines' own discipline; stopping is asked through std::stop_token.
#include <functional>
#include <string_view>

namespace kitround {

struct Progress {
    double share = 0;            // 0..1, or negative where the end is not known
    std::string_view stage = {}; // a code word ("loading", "forecast", "search")
    double measure = 0;          // what the stage counts (the planner: cost of the best plan)
    int open = 0;                // the planner: visits not placed
};
using ProgressSink = std::function<void(const Progress &)>;

} // namespace kitround
