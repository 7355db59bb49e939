#pragma once
// What is said of a home without a point on the map, and asked about one that can hardly be meant
// (rounds/travel/FarPlaces). Empty where nothing is.
#include "core/records/People.h"
#include "core/records/Settings.h"

#include <QString>

#include <optional>

namespace kitround::desk {

// "Longitude 74.00 lies far from the time zone America/New_York, which is around -75 ..."
QString oddStoreroomText(const AgencySettings &settings);
// "This place is 11,254 km from the storeroom. ..." in the agency's unit.
QString oddPlaceText(const std::optional<GeoPoint> &place, const AgencySettings &settings);
// "place unknown: driving is a guess", from the middle of the area; of a home that is on no map.
QString guessedDrivingText(const Patient &patient);
// What stands in an empty field of a longitude: which way it is counted.
QString longitudeExample();

} // namespace kitround::desk
