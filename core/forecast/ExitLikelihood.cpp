#include "core/forecast/ExitLikelihood.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {

namespace {

double hazardAt(double h, double shape, double days) {
    return shape > 0 ? shape * h / (shape + h * days) : h;
}

} // namespace

ExitLikelihood::ExitLikelihood(std::span<const Stay> stays) {
    for (const Stay &stay : stays)
        add(stay);
}

void ExitLikelihood::add(const Stay &stay) {
    auto tenure = std::ranges::find(tenures_, stay.publishedExitPerDay, &Tenure::publishedPerDay);
    if (tenure == tenures_.end()) {
        tenures_.push_back({stay.publishedExitPerDay, {}, {}});
        tenure = tenures_.end() - 1;
    }
    const auto weekOf = [](std::int64_t day) {
        return std::min(static_cast<std::size_t>(day / 7), kWeeks - 1);
    };
    for (std::int64_t day = stay.from; day < stay.to; ++day)
        tenure->days[weekOf(day)] += 1;
    if (stay.hasLeft)
        tenure->exits[weekOf(std::max<std::int64_t>(stay.to - 1, 0))] += 1;
}

double ExitLikelihood::logAt(double factor, double shape) const {
    double sum = 0;
    for (const Tenure &t : tenures_)
        for (std::size_t week = 0; week < kWeeks; ++week) {
            if (t.days[week] <= 0 || t.publishedPerDay <= 0)
                continue;
            const double middle = 7.0 * static_cast<double>(week) + 3.5;
            const double hazard = hazardAt(factor * t.publishedPerDay, shape, middle);
            sum += t.exits[week] * std::log(hazard) - t.days[week] * hazard;
        }
    return sum;
}

double ExitLikelihood::exitsSeen() const {
    double seen = 0;
    for (const Tenure &t : tenures_)
        for (double exits : t.exits)
            seen += exits;
    return seen;
}

double ExitLikelihood::exitsPublished() const {
    double published = 0;
    for (const Tenure &t : tenures_)
        for (double days : t.days)
            published += days * t.publishedPerDay;
    return published;
}

} // namespace kitround::forecast
