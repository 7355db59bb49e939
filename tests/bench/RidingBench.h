#pragma once
// What it saves to plan supplies and visits together: courier runs and the whole cost of one week, planned
// together, planned one after the other (visits first, then what happens to fit rides), and with every
// delivery by courier. On the invented sample agency and on made-up ones.
#include "core/base/Result.h"

#include <string>

namespace kitround::bench {

struct RidingWish {
    int patients = 200;     // of each made-up agency
    std::uint64_t seed = 1; // of the first; the next two follow
    std::int64_t iterations = 20000;
    bool asJson = false;
};
Result<std::string> benchRiding(const RidingWish &wish);

} // namespace kitround::bench
