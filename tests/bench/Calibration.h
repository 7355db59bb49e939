#pragma once
// How well the forecast knows its own error, on agencies whose truth is known.
#include "core/base/Result.h"
#include "tests/bench/world/World.h"

#include <optional>
#include <string>

namespace kitround::bench {

struct CalibrationWish {
    int patients = 1000; // in service, in each world
    std::uint64_t seed = 1;
    std::optional<std::string> world; // one by name; all without
    bool asJson = false;
};
Result<std::string> benchCalibration(const CalibrationWish &wish);

} // namespace kitround::bench
