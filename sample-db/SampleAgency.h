#pragma once
// The invented agency that comes with the tool: every person, place and firm in it is made up. Its text
// stands in sample-db/*.csv (see README.md there for the awkward cases it holds on purpose).
#include "core/base/Date.h"
#include "core/base/Progress.h"
#include "core/base/Result.h"

#include <optional>
#include <string>

namespace kitround::sample {

// A Thursday; the week that is planned next holds Thanksgiving.
inline constexpr Date kSampleDay = Date::of(2026, 11, 19);

// Makes the file at `path` as of `today` (else kSampleDay). The same day gives the same content. Problems:
// those of the store (FileExists and the like).
Result<void> buildSampleAgency(const std::string &path, std::optional<Date> today,
                               const ProgressSink &progress);

} // namespace kitround::sample
