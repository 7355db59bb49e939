#pragma once
// A visit order's segments as the trade writes them, for windows that show and take them.
#include "core/base/Result.h"
#include "core/records/Visits.h"

#include <QString>

#include <vector>

namespace kitround::desk {

QString notation(const std::vector<VisitSegment> &segments); // "2W4, 1W5, 2PRN"
inline QString notation(const VisitOrder &order) {
    return notation(order.segments);
}
// Problem BadNotation, field "segments": args {text, 0-based offset of the character, what was expected}.
Result<std::vector<VisitSegment>> readNotation(const QString &text);
// "13 visits in 9 weeks and at most 2 as needed"
QString segmentsText(const std::vector<VisitSegment> &segments);

} // namespace kitround::desk
