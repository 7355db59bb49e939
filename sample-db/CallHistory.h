#pragma once
// What the last fortnight's log raised to call about: the older items closed with what was said, the last
// days' still open, as an agency that calls would have them.
#include "sample-db/Scenario.h"

namespace kitround::sample {

Scenario withCalls(Scenario scenario);

} // namespace kitround::sample
