#include "core/calendar/LocalDay.h"

#include "core/calendar/Zone.h"

namespace kitround::calendar {

Date localDayOf(const AgencySettings &settings, Instant at) {
    if (const Result<Zone> zone = Zone::named(settings.timeZone))
        return zone->toLocal(at).date;
    const std::int64_t seconds = at.unixSeconds(); // also before 1970
    return Date::fromDayNumber(seconds >= 0 ? seconds / 86400 : (seconds - 86399) / 86400);
}

} // namespace kitround::calendar
