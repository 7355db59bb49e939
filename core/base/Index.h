#pragma once
// Records and plans count with signed indices, where -1 says "none"; containers with std::size_t.
#include <cstddef>
#include <cstdint>

namespace kitround {

// Precondition: index >= 0.
constexpr std::size_t at(std::int32_t index) {
    return static_cast<std::size_t>(index);
}

} // namespace kitround
