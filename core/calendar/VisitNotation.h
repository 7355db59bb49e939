#pragma once
// The trade's notation for visit orders: "2W4, 1W5, 2PRN" is two a week for four weeks, then one a week for
// five, and two as needed. Ranges "2-3W4"; PRN may carry its reason: "2PRN (leak)". Case does not matter, and
// spaces between the parts are allowed. Printing gives the canonical form, which parses to the same segments.
#include "core/base/Result.h"
#include "core/records/Visits.h"

#include <string>
#include <string_view>
#include <vector>

namespace kitround::calendar {

// Problem BadNotation: args {text, 0-based offset of the character, what was expected there}.
// At most 20 segments, 1..14 visits a week, 1..26 weeks, at most 20 as-needed visits.
Result<std::vector<VisitSegment>> parseVisitOrder(std::string_view text);
std::string printVisitOrder(const std::vector<VisitSegment> &segments);
// Scheduled visits over the whole order (least and most; as-needed not counted) and weeks it spans.
struct VisitTotals {
    int least = 0;
    int most = 0;
    int weeks = 0;
    int asNeeded = 0;
    friend bool operator==(const VisitTotals &, const VisitTotals &) = default;
};
VisitTotals totals(const std::vector<VisitSegment> &segments);

} // namespace kitround::calendar
