#pragma once
// Plan against actual: what the agency's own records say about a figure that the settings can only assume,
// with the number of observations behind it. A figure is used once n reaches OwnFigureLeastN and nobody has
// set the value by hand; until then the preset stands and is shown as such.
#include "core/desk/Desk.h"

#include <vector>

namespace kitround::desk {

// Visit minutes by kind, lead time and its spread (over all suppliers), waste, volume a drain by site and
// referrals a week, in the order of the keys; figures without a single observation are left out.
std::vector<LearnedFigure> ownFigures(const Agency &agency);

// The settings engines compute from: `stored` with those own figures in it that no engine learns by itself
// (visit minutes, referrals a week). Lead times, waste and volumes are learned inside supply and forecast.
AgencySettings settingsInUse(const Snapshot &agency);

} // namespace kitround::desk
