#pragma once
// A visit order's segments as the trade writes them, for windows that show and take them.
#include "core/base/Result.h"
#include "core/desk/Desk.h"

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
// How many as-needed visits are used of how many, and for what; or that no order in force allows any.
QString asNeededText(const Agency &agency, PatientId patient);
QString segmentsText(const std::vector<VisitSegment> &segments);

} // namespace kitround::desk
