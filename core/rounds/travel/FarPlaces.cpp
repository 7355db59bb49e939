#include "core/rounds/travel/FarPlaces.h"

#include "core/calendar/Zone.h"
#include "core/rounds/travel/Travel.h"

#include <cmath>

namespace kitround::rounds {

double meridianOf(int standardHours) {
    return kDegreesAnHour * standardHours;
}

bool isFarFromZone(const AgencySettings &settings) {
    const auto zone = calendar::Zone::named(settings.timeZone);
    if (!settings.storeroom.point || !zone)
        return false;
    // The short way round: Guam's and Samoa's days lie on either side of the line.
    const double apart =
        std::remainder(settings.storeroom.point->longitude - meridianOf(zone->standardHours()), 360.0);
    return std::abs(apart) > kFarFromZone;
}

bool isFarFromStoreroom(const std::optional<GeoPoint> &place, const AgencySettings &settings) {
    return place && settings.storeroom.point && !isFarFromZone(settings) &&
           greatCircleMetres(*place, *settings.storeroom.point) > kFarFromStoreroom;
}

} // namespace kitround::rounds
