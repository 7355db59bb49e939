#pragma once
#include "core/base/Clock.h"
#include "core/base/Result.h"
#include "core/records/Settings.h"

#include <optional>

namespace kitround::desk {

// The moment a snapshot or an entry is made: `asOf` (or the sample agency's own day) with the clock's local
// time of day. Problem UnknownChoice for a zone we have no rules for.
Result<LocalTime> localNow(const AgencySettings &settings, std::optional<Date> asOf, const Clock &clock);

} // namespace kitround::desk
