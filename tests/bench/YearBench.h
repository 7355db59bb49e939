#pragma once
// A year of one agency's refills under the tool's policy, beside fixed refills and par levels.
#include "core/base/Result.h"

#include <cstdint>
#include <string>

namespace kitround::bench {

struct YearWish {
    int patients = 200;
    std::uint64_t seed = 1;
    bool asJson = false;
};
Result<std::string> benchYear(const YearWish &wish);

} // namespace kitround::bench
