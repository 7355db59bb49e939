#pragma once
// The clocks of home care. Hours are clock hours (weekends count, daylight saving is passed through UTC);
// days are calendar days, day 1 being the start of care.
#include "core/base/Date.h"
#include "core/calendar/Zone.h"
#include "core/records/People.h"
#include "core/records/Settings.h"

#include <optional>
#include <vector>

namespace kitround::calendar {

// First visit: within FirstVisitHours (48) of the referral or of the return home, the later (42 CFR
// 484.55(a)). Nothing where neither is known.
std::optional<Instant> firstVisitDue(const Patient &patient, const AgencySettings &settings);

struct CertificationPeriod {
    int number = 1;           // 1, 2, ...
    DateRange days;           // 60 days
    DateRange recertWindow;   // its last 5 days: day 56..60
    Date secondPaymentPeriod; // day 31
};
// The period that holds `on`. Precondition: startOfCare <= on.
CertificationPeriod certificationPeriod(Date startOfCare, Date on, const AgencySettings &settings);

// Days in the range on which the catheter was in place and the patient not on hold (any hold; holds are
// excluded, say so where shown). The day it was put in counts, the day it came out (in the agency's zone)
// does not. A catheter whose insertion date is unknown counts as in place before the range.
Days catheterDays(const Catheter &catheter, const std::vector<Hold> &holdsOfPatient, DateRange range,
                  const Zone &zone);

} // namespace kitround::calendar
