#pragma once
// The trade's notation for visit orders: "2W4, 1W5, 2PRN" is two a week for four weeks, then one a week for
// five, and two as needed. Ranges "2-3W4"; PRN may carry its reason: "2PRN (leak)" or "2PRN for leak". Case
// does not matter, and spaces between the parts are allowed. Segments are set apart by a comma, a semicolon,
// a plus or a blank. Printing gives the canonical form, which parses to the same segments.
#include "core/base/Result.h"
#include "core/records/Visits.h"

#include <string>
#include <string_view>
#include <vector>

namespace kitround::calendar {

// What was expected at the character a problem points at: its third argument is one of these.
namespace expected {
inline constexpr std::string_view kVisits = "1..14"; // visits a week
inline constexpr std::string_view kUpperVisits =
    "upper"; // the upper end of a range: not below its lower end, to 14
inline constexpr std::string_view kLetter = "W or PRN"; // after a number
inline constexpr std::string_view kWeek = "W";          // after a range, which PRN does not take
inline constexpr std::string_view kWeeks = "1..26";     // weeks, after the W
inline constexpr std::string_view kAsNeeded = "1..20";  // as-needed visits, before PRN
inline constexpr std::string_view kReason = "reason";   // plain text of 1..200 characters, no brackets
inline constexpr std::string_view kClose = ")";         // the bracket after a reason
inline constexpr std::string_view kSeparator = ",";     // or the end
inline constexpr std::string_view kEnd = "end";         // 20 segments are enough
} // namespace expected

// Problem BadNotation, field "visit_order": args {text, 0-based offset of the character (not byte), what was
// expected there}; an offset at the text's length means that it ends too early.
// At most 20 segments, 1..14 visits a week, 1..26 weeks, at most 20 as-needed visits (Validate.h).
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
