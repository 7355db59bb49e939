#include "core/desk/words/PlaceWords.h"

#include "core/calendar/Zone.h"
#include "core/desk/words/Distances.h"
#include "core/desk/words/Text.h"
#include "core/rounds/travel/FarPlaces.h"
#include "core/rounds/travel/Travel.h"

#include <cmath>

namespace kitround::desk {

QString oddStoreroomText(const AgencySettings &settings) {
    const auto zone = calendar::Zone::named(settings.timeZone);
    if (!zone || !settings.storeroom.point || !rounds::isFarFromZone(settings))
        return {};
    return Text::tr(
               "The storeroom's longitude %1 lies far from the time zone %2, which is around %3. West of "
               "Greenwich is minus, as in -73.95. Look at the longitude and at the time zone; with one of "
               "them wrong no round can be planned.")
        .arg(QString::number(settings.storeroom.point->longitude, 'f', 2), fromStd(settings.timeZone),
             QString::number(rounds::meridianOf(zone->standardHours()), 'f', 0));
}

QString oddPlaceText(const std::optional<GeoPoint> &place, const AgencySettings &settings) {
    if (!rounds::isFarFromStoreroom(place, settings))
        return {};
    const auto apart = Metres::of(std::llround(rounds::greatCircleMetres(*place, *settings.storeroom.point)));
    return Text::tr(
               "This place is %1 from the storeroom as the crow flies. Look at its latitude and longitude, "
               "and at the storeroom's; west of Greenwich is minus, as in -73.95.")
        .arg(aboutDistanceText(apart, settings.distanceUnit));
}

QString guessedDrivingText(const Patient &patient) {
    return patient.address.point ? QString() : Text::tr("place unknown: driving is a guess");
}

QString longitudeExample() {
    return Text::tr("-73.95 (west of Greenwich is minus)");
}

} // namespace kitround::desk
