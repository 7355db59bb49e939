#include "core/rounds/travel/Travel.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace kitround::rounds {
namespace {

constexpr double kEarthRadiusMetres = 6371008.8;

double radians(double degrees) {
    return degrees * std::numbers::pi / 180.0;
}

double milesAnHour(AreaKind area, const AgencySettings &settings) {
    switch (area) {
    case AreaKind::Urban:
        return static_cast<double>(settings[SettingKey::SpeedUrban]);
    case AreaKind::Suburban:
        return static_cast<double>(settings[SettingKey::SpeedSuburban]);
    case AreaKind::Rural:
        return static_cast<double>(settings[SettingKey::SpeedRural]);
    }
    return static_cast<double>(settings[SettingKey::SpeedSuburban]);
}

// Where nothing is known the middle of what is known misleads least.
GeoPoint centreOfKnown(const std::vector<TravelPlace> &places) {
    GeoPoint sum;
    double known = 0;
    for (const TravelPlace &place : places) {
        if (!place.point)
            continue;
        sum.latitude += place.point->latitude;
        sum.longitude += place.point->longitude;
        known += 1;
    }
    return known > 0 ? GeoPoint{sum.latitude / known, sum.longitude / known} : GeoPoint{};
}

} // namespace

double greatCircleMetres(GeoPoint a, GeoPoint b) {
    const double sinLat = std::sin(radians(b.latitude - a.latitude) / 2);
    const double sinLon = std::sin(radians(b.longitude - a.longitude) / 2);
    const double h =
        sinLat * sinLat + std::cos(radians(a.latitude)) * std::cos(radians(b.latitude)) * sinLon * sinLon;
    return 2 * kEarthRadiusMetres * std::asin(std::min(1.0, std::sqrt(h)));
}

double roadMetres(GeoPoint a, GeoPoint b, const AgencySettings &settings) {
    const double straight = greatCircleMetres(a, b);
    const double miles = straight / kMetresAMile;
    const SettingKey band = miles < 5     ? SettingKey::DetourShortPercent
                            : miles <= 20 ? SettingKey::DetourMiddlePercent
                                          : SettingKey::DetourLongPercent;
    return straight * static_cast<double>(settings[band]) / 100.0;
}

namespace {

double minutesFor(double metres, AreaKind a, AreaKind b, const AgencySettings &settings) {
    return metres / kMetresAMile / std::min(milesAnHour(a, settings), milesAnHour(b, settings)) * 60.0;
}

} // namespace

double drivingMinutes(GeoPoint a, AreaKind areaA, GeoPoint b, AreaKind areaB,
                      const AgencySettings &settings) {
    return minutesFor(roadMetres(a, b, settings), areaA, areaB, settings);
}

TravelTable travelTable(const std::vector<TravelPlace> &places, const AgencySettings &settings) {
    TravelTable table;
    const std::size_t n = table.places = places.size();
    std::vector<std::int32_t> &minutes = table.minutes.edit(), &metres = table.metres.edit();
    minutes.assign(n * n, 0);
    metres.assign(n * n, 0);
    const GeoPoint centre = centreOfKnown(places);
    const double stop = static_cast<double>(settings[SettingKey::StopMinutes]);
    for (std::size_t from = 0; from < n; ++from)
        for (std::size_t to = from + 1; to < n; ++to) { // there is as far as back
            const double far =
                roadMetres(places[from].point.value_or(centre), places[to].point.value_or(centre), settings);
            const double drive = minutesFor(far, places[from].area, places[to].area, settings) + stop;
            // A hair off, so that a whole number does not become the next one by rounding noise.
            minutes[from * n + to] = minutes[to * n + from] =
                static_cast<std::int32_t>(std::ceil(drive - 1e-9));
            metres[from * n + to] = metres[to * n + from] = static_cast<std::int32_t>(std::lround(far));
        }
    return table;
}

} // namespace kitround::rounds
