#pragma once
// Is a run of bytes UTF-8 (RFC 3629, section 4: no overlong forms, no surrogates, nothing above U+10FFFF)?
#include <cstddef>
#include <string_view>

namespace kitround::exchange {

// Offset of the first byte that belongs to no valid sequence; npos where all is well.
std::size_t firstInvalidUtf8(std::string_view bytes);

} // namespace kitround::exchange
