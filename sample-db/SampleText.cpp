#include "sample-db/SampleText.h"

#include "sample-db/TextParts.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace kitround::sample {
namespace {

// Open ocean, so that the invented town stands on no real one.
constexpr GeoPoint kAnchor{38.0, -60.0};
constexpr double kMetresADegree = 111'195.0; // of latitude, on the mean earth radius

} // namespace

GeoPoint pointOnGrid(double kmEast, double kmNorth) {
    const double perDegreeEast = kMetresADegree * std::cos(kAnchor.latitude * std::numbers::pi / 180.0);
    const auto rounded = [](double degrees) { return std::round(degrees * 1e5) / 1e5; };
    return {rounded(kAnchor.latitude + kmNorth * 1000.0 / kMetresADegree),
            rounded(kAnchor.longitude + kmEast * 1000.0 / perDegreeEast)};
}

Result<SampleParts> readSampleText(const TextSource &source, Date today) {
    auto zone = calendar::Zone::named(AgencySettings().timeZone);
    if (!zone)
        return zone.error();
    TextReading reading{source, today, std::move(*zone), {}, {}, {}, {}, {}, {}, {}, {}, {}, {}};
    reading.parts.scenario.today = today;
    readPeople(reading);
    readStock(reading);
    readCare(reading);
    if (!reading.problems.empty())
        return joined(std::move(reading.problems));
    return std::move(reading.parts);
}

Scenario completed(SampleParts parts) {
    // Visits told one by one (locks, appointments) come after the ones that follow from the orders.
    std::vector<Visit> told = std::move(parts.scenario.visits);
    parts.scenario.visits.clear();
    addVisits(parts.scenario, parts.history);
    addSupplyHistory(parts.scenario, parts.history);
    addBeginnings(parts.scenario, parts.history);
    for (Visit &visit : told)
        added(parts.scenario.visits, std::move(visit));
    return std::move(parts.scenario);
}

} // namespace kitround::sample
