#include "core/desk/views/VisitOrderView.h"

#include "core/calendar/VisitNotation.h"
#include "core/caseload/AsNeeded.h"
#include "core/desk/words/Text.h"

namespace kitround::desk {

QString notation(const std::vector<VisitSegment> &segments) {
    return fromStd(calendar::printVisitOrder(segments));
}

Result<std::vector<VisitSegment>> readNotation(const QString &text) {
    auto segments = calendar::parseVisitOrder(text.toStdString());
    if (segments)
        return segments;
    Problem problem = segments.error();
    problem.field = "segments";
    return problem;
}

QString asNeededText(const Agency &agency, PatientId patient) {
    const auto left = caseload::asNeededLeft(agency.index(), patient, agency.today());
    if (!left)
        return Text::tr("No order in force allows as-needed visits.");
    const QString text = Text::tr("As needed: %1 of %2 used.").arg(left->used).arg(left->allowed);
    return left->reason.empty() ? text : Text::tr("%1 For: %2.").arg(text, fromStd(left->reason));
}

QString segmentsText(const std::vector<VisitSegment> &segments) {
    const calendar::VisitTotals totals = calendar::totals(segments);
    const QString visits = totals.least == totals.most
                               ? counted(totals.most, Text::tr("%1 visit"), Text::tr("%1 visits"))
                               : Text::tr("%1 to %2 visits").arg(totals.least).arg(totals.most);
    QString text;
    if (totals.weeks > 0)
        text = Text::tr("%1 in %2")
                   .arg(visits, counted(totals.weeks, Text::tr("%1 week"), Text::tr("%1 weeks")));
    if (totals.asNeeded == 0)
        return text;
    const QString asNeeded = Text::tr("at most %1 as needed").arg(totals.asNeeded);
    return text.isEmpty() ? asNeeded : Text::tr("%1 and %2").arg(text, asNeeded);
}

} // namespace kitround::desk
