#pragma once
// Mean and quantiles of a distribution over 0, 1, 2, ...
#include "core/forecast/HomeForecast.h"

#include <span>

namespace kitround::forecast {

void summariseDay(std::span<const double> p, DayUse &use); // its quantiles
WeekUse weekOf(Date from, std::span<const double> p);

} // namespace kitround::forecast
