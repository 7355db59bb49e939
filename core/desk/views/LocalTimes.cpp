#include "core/desk/views/LocalTimes.h"

#include "core/calendar/Zone.h"

namespace kitround::desk {

LocalTime localTimeOf(const Agency &agency, Instant at) {
    return calendar::Zone::named(agency.settings().timeZone).value().toLocal(at);
}

Instant instantOf(const Agency &agency, LocalTime at) {
    return calendar::Zone::named(agency.settings().timeZone).value().toUtc(at);
}

std::vector<std::string> zoneNames() {
    return calendar::Zone::names();
}

} // namespace kitround::desk
