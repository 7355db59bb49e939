#pragma once
// The clocks of home care. Hours are clock hours (weekends count, daylight saving is passed through UTC); days
// are calendar days, day 1 being the start of care.
#include "core/base/Date.h"
#include "core/records/People.h"
#include "core/records/Settings.h"

#include <optional>

namespace kitround::calendar {

// First visit: within FirstVisitHours (48) of the referral or of the return home, the later (42 CFR 484.55(a)).
// Nothing where neither is known.
std::optional<Instant> firstVisitDue(const Patient &patient, const AgencySettings &settings);

struct CertificationPeriod {
    int number = 1;           // 1, 2, ...
    DateRange days;           // 60 days
    DateRange recertWindow;   // its last 5 days: day 56..60
    Date secondPaymentPeriod; // day 31
};
// The period that holds `on`. Precondition: startOfCare <= on.
CertificationPeriod certificationPeriod(Date startOfCare, Date on, const AgencySettings &settings);

// Days in the range on which the catheter was in place and not on hold (holds excluded; say so where shown).
Days catheterDays(const Catheter &catheter, const std::vector<Hold> &holdsOfPatient, DateRange range);

} // namespace kitround::calendar
