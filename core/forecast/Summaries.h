#pragma once
// Mean and quantiles of a distribution over 0, 1, 2, ... in one sweep.
#include "core/forecast/HomeForecast.h"

#include <span>

namespace kitround::forecast {

void summariseDay(std::span<const double> p, DayUse &use); // all but `on` and `chanceDry`
WeekUse weekOf(Date from, std::span<const double> p);

} // namespace kitround::forecast
