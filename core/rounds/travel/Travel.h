#pragma once
// Travel minutes between places: great circle x detour factor / speed of the area + minutes a stop; or the
// agency's own table. No routing service is ever called.
#include "core/base/Quantity.h"
#include "core/records/People.h"
#include "core/records/Settings.h"

#include <cstdint>
#include <initializer_list>
#include <memory>
#include <optional>
#include <vector>

namespace kitround::rounds {

// Haversine on the mean earth radius 6371.0088 km (IUGG).
double greatCircleMetres(GeoPoint a, GeoPoint b);
double roadMetres(GeoPoint a, GeoPoint b, const AgencySettings &settings);
// Driving minutes without the stop; the slower area of the two ends gives the speed.
double drivingMinutes(GeoPoint a, AreaKind areaA, GeoPoint b, AreaKind areaB, const AgencySettings &settings);

// The cells of a table. Copies share them until one is edited: a week is copied with every step of the hand,
// and its travel is by far the largest part.
class TravelCells {
public:
    TravelCells() = default;
    TravelCells(std::initializer_list<std::int32_t> cells)
        : cells_(std::make_shared<std::vector<std::int32_t>>(cells)) {}
    std::size_t size() const { return cells_ ? cells_->size() : 0; }
    const std::int32_t *data() const { return cells_ ? cells_->data() : nullptr; }
    std::int32_t operator[](std::size_t cell) const { return (*cells_)[cell]; }
    const std::int32_t *begin() const { return data(); }
    const std::int32_t *end() const { return data() + size(); }
    std::vector<std::int32_t> &edit() {
        if (!cells_)
            cells_ = std::make_shared<std::vector<std::int32_t>>();
        else if (cells_.use_count() > 1)
            cells_ = std::make_shared<std::vector<std::int32_t>>(*cells_);
        return *cells_;
    }

private:
    std::shared_ptr<std::vector<std::int32_t>> cells_;
};

// Minutes [from][to], the stop at `to` included, rounded up; 0 on the diagonal. Unsymmetrical allowed.
struct TravelTable {
    std::size_t places = 0;
    TravelCells minutes; // row by row
    TravelCells metres;
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
