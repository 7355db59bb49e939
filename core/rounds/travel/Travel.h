#pragma once
// Travel minutes between places: great circle x detour factor / speed of the area + minutes a stop; or the
// agency's own table. No routing service is ever called.
#include "core/base/Quantity.h"
#include "core/records/People.h"
#include "core/records/Settings.h"

#include <cstdint>
#include <vector>

namespace kitround::rounds {

// Haversine on the mean earth radius 6371.0088 km (IUGG).
double greatCircleMetres(GeoPoint a, GeoPoint b);
double roadMetres(GeoPoint a, GeoPoint b, const AgencySettings &settings);
// Driving minutes without the stop; the slower area of the two ends gives the speed.
double drivingMinutes(GeoPoint a, AreaKind areaA, GeoPoint b, AreaKind areaB, const AgencySettings &settings);

// Minutes [from][to], the stop at `to` included, rounded up; 0 on the diagonal. Unsymmetrical allowed.
struct TravelTable {
    std::size_t places = 0;
    std::vector<std::int32_t> minutes; // row by row
    std::vector<std::int32_t> metres;
    std::int32_t minutesBetween(std::size_t from, std::size_t to) const {
        return minutes[from * places + to];
    }
    std::int32_t metresBetween(std::size_t from, std::size_t to) const { return metres[from * places + to]; }
};
struct TravelPlace {
    std::optional<GeoPoint> point; // unknown: the centre of all known places, and the plan says so
    AreaKind area = AreaKind::Suburban;
};
TravelTable travelTable(const std::vector<TravelPlace> &places, const AgencySettings &settings);

} // namespace kitround::rounds
