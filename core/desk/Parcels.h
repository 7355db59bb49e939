#pragma once
// What is said of a parcel that was out: how it reached the home, or where it is when nobody wants it any
// more.
#include "core/base/Quantity.h"

#include <cstdint>
#include <string>
#include <vector>

namespace kitround::desk {

// Where a parcel that had left the storeroom is when its delivery is cancelled. InCar: only what lies in a
// nurse's car; it is her car's stock from then on.
enum class CameBack : std::uint8_t { ToQuarantine, NeverLeft, Lost, InCar };

// How a packed line reached the home; together as many as were packed.
struct ArrivedLine {
    Eaches good, damaged, missing;
};
// By line of the delivery, in its order; without any, all of it came whole.
struct Arrived {
    std::vector<ArrivedLine> lines;
    std::string why; // what happened; needed where not all came whole
};

} // namespace kitround::desk
