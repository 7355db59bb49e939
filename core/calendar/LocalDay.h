#pragma once
// The day on which an instant falls by the agency's clock: an evening there is the next day in UTC.
#include "core/base/Date.h"
#include "core/records/Settings.h"

namespace kitround::calendar {

// In a zone we have no rules for, which no file is opened with, the day in UTC.
Date localDayOf(const AgencySettings &settings, Instant at);

} // namespace kitround::calendar
