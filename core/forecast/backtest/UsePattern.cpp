#include "core/forecast/backtest/UsePattern.h"

#include <limits>

namespace kitround::forecast {

UseShape shapeOf(std::span<const double> series) {
    UseShape shape;
    double sum = 0;
    for (double value : series)
        if (value != 0.0) {
            ++shape.uses;
            sum += value;
        }
    const auto uses = static_cast<double>(shape.uses);
    shape.interval =
        shape.uses > 0 ? static_cast<double>(series.size()) / uses : std::numeric_limits<double>::infinity();
    if (shape.uses < 2)
        return shape;
    const double mean = sum / uses;
    double squares = 0;
    for (double value : series)
        if (value != 0.0)
            squares += (value - mean) * (value - mean);
    shape.sizeVariation = squares / (uses - 1) / (mean * mean);
    return shape;
}

UsePattern patternOf(const UseShape &shape) {
    const bool isOften = shape.interval <= kLongestOftenInterval;
    if (shape.sizeVariation <= kMostAlikeVariation)
        return isOften ? UsePattern::Smooth : UsePattern::Intermittent;
    return isOften ? UsePattern::Erratic : UsePattern::Lumpy;
}

} // namespace kitround::forecast
