#pragma once
// How long the forecast of a whole agency takes, and of one home after a new line in its log.
#include "core/base/Result.h"

#include <cstdint>
#include <string>

namespace kitround::bench {

struct ForecastWish {
    int patients = 5000;
    std::uint64_t seed = 1;
    bool asJson = false;
};
Result<std::string> benchForecast(const ForecastWish &wish);

} // namespace kitround::bench
