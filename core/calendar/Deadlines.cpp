#include "core/calendar/Deadlines.h"

#include "core/base/Require.h"

#include <algorithm>

namespace kitround::calendar {

std::optional<Instant> firstVisitDue(const Patient &patient, const AgencySettings &settings) {
    // An empty optional is below every moment, so this is the later of those known.
    const std::optional<Instant> clockStarts = std::max(patient.referredAt, patient.homeFrom);
    if (!clockStarts)
        return std::nullopt;
    return *clockStarts + Minutes::of(60 * settings[SettingKey::FirstVisitHours]);
}

CertificationPeriod certificationPeriod(Date startOfCare, Date on, const AgencySettings &settings) {
    KITROUND_REQUIRE(startOfCare <= on);
    const std::int64_t length = settings[SettingKey::CertificationDays];
    const std::int64_t before = (on - startOfCare).count() / length; // whole periods before this one
    const Date from = startOfCare.plusDays(before * length);
    const Date to = from.plusDays(length);
    return {int(before) + 1,
            {from, to},
            {to.plusDays(-settings[SettingKey::RecertWindowDays]), to},
            from.plusDays(30)}; // the payment unit is 30 days whatever the certification (42 CFR 484.205)
}

Days catheterDays(const Catheter &catheter, const std::vector<Hold> &holdsOfPatient, DateRange range,
                  const Zone &zone) {
    const Date from = catheter.insertedOn ? std::max(range.from, *catheter.insertedOn) : range.from;
    const Date to =
        catheter.removedAt ? std::min(range.to, zone.toLocal(*catheter.removedAt).date) : range.to;
    std::int64_t days = 0;
    for (Date day = from; day < to; day = day.plusDays(1)) {
        const bool isOnHold = std::ranges::any_of(
            holdsOfPatient, [&](const Hold &h) { return h.from <= day && (!h.to || day < *h.to); });
        days += isOnHold ? 0 : 1;
    }
    return Days::of(days);
}

} // namespace kitround::calendar
