#include "core/exchange/Utf8.h"

#include <cstdint>

namespace kitround::exchange {
namespace {

struct Lead {
    std::size_t length = 0; // of the whole sequence; 0: not a lead byte
    unsigned leastSecond = 0x80;
    unsigned mostSecond = 0xBF;
};

// The table of RFC 3629, section 4: overlong forms and surrogates are shut out by the second byte.
Lead leadOf(unsigned byte) {
    if (byte < 0x80)
        return {1};
    if (byte >= 0xC2 && byte <= 0xDF)
        return {2};
    if (byte == 0xE0)
        return {3, 0xA0, 0xBF};
    if (byte == 0xED)
        return {3, 0x80, 0x9F};
    if (byte >= 0xE1 && byte <= 0xEF)
        return {3};
    if (byte == 0xF0)
        return {4, 0x90, 0xBF};
    if (byte >= 0xF1 && byte <= 0xF3)
        return {4};
    if (byte == 0xF4)
        return {4, 0x80, 0x8F};
    return {};
}

} // namespace

std::size_t firstInvalidUtf8(std::string_view bytes) {
    const auto byteAt = [&](std::size_t i) { return unsigned{static_cast<std::uint8_t>(bytes[i])}; };
    for (std::size_t at = 0; at < bytes.size();) {
        const Lead lead = leadOf(byteAt(at));
        if (lead.length == 0 || at + lead.length > bytes.size())
            return at;
        for (std::size_t k = 1; k < lead.length; ++k) {
            const unsigned byte = byteAt(at + k);
            const unsigned least = k == 1 ? lead.leastSecond : 0x80;
            const unsigned most = k == 1 ? lead.mostSecond : 0xBF;
            if (byte < least || byte > most)
                return at;
        }
        at += lead.length;
    }
    return std::string_view::npos;
}

} // namespace kitround::exchange
