// Any bytes: the notation's parser answers with segments that print and read back the same, or with a place
// inside the text.
#include "core/base/Require.h"
#include "core/calendar/VisitNotation.h"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t *data, std::size_t size) {
    using namespace kitround;
    const std::string text(data, data + size);
    const auto read = calendar::parseVisitOrder(text);
    if (!read) {
        KITROUND_REQUIRE(std::stoull(read.error().args.at(1)) <= text.size());
        return 0;
    }
    const auto again = calendar::parseVisitOrder(calendar::printVisitOrder(*read));
    KITROUND_REQUIRE(again && *again == *read);
    return 0;
}
