#pragma once
// Points on the map that are valid numbers and can hardly be meant: mostly a longitude without its minus, or
// latitude and longitude changed over. Flags to ask about, never a reason to refuse: an agency may have such
// a place.
#include "core/records/People.h"
#include "core/records/Settings.h"

#include <optional>

namespace kitround::rounds {

inline constexpr double kFarFromStoreroom = 300'000; // metres as the crow flies; no round goes there and back
inline constexpr double kFarFromZone = 45;           // degrees; no zone is so far from its own meridian
inline constexpr double kDegreesAnHour = 15;         // the sun's way

// The longitude at which the sun stands highest at noon of the zone's standard time.
double meridianOf(int standardHours);
// The storeroom's point against the agency's time zone; false where either is not known.
bool isFarFromZone(const AgencySettings &settings);
// Any other place against the storeroom; false where either is not known, and where the storeroom's own point
// is the one to look at.
bool isFarFromStoreroom(const std::optional<GeoPoint> &place, const AgencySettings &settings);

} // namespace kitround::rounds
