#pragma once
// When an incident has to be told outside the agency. Home care counts as a user facility: a death or a
// serious injury with a device is reported within ten work days of the day on which the agency learned of it
// (21 CFR 803.30); work days are Monday to Friday without federal holidays (21 CFR 803.3; both from memory).
// Whether a report is made, and to whom, a person decides; local policy comes first.
#include "core/records/Safety.h"

namespace kitround::safety {

inline constexpr int kReportWorkDays = 10;
inline constexpr int kReportNoticeWorkDays = 3; // so long before it is due it stands under Today (assumed)

// A device with serious harm or a death: somebody has to decide on a report.
bool asksForReport(const Incident &incident);
// The agency's own closed days do not move it: the rule does not know them.
Date reportDue(Date learnedOn);
bool isReportNear(Date due, Date today); // or past

} // namespace kitround::safety
