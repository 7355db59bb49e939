#pragma once
// Distances as people read them off a car: miles or kilometres, with two decimals at most. Stored in whole
// metres; what was typed comes back as it was typed.
#include "core/base/Quantity.h"
#include "core/base/Result.h"
#include "core/records/Settings.h"

#include <QString>

#include <optional>

namespace kitround::desk {

// "7.7 mi", "12.4 km".
QString distanceText(Metres distance, DistanceUnit unit);
QString aboutDistanceText(Metres distance, DistanceUnit unit); // "12 km": whole units, for what is estimated
QString words(DistanceUnit unit);                              // "miles"
Metres oneOf(DistanceUnit unit);                               // its length, to the metre
// "12.4", "12.4 km", "7,7 mi": a unit in the text goes before `unit`; a point or a comma. Empty: none.
// Problems at `field`: NotANumber; NotAllowed {"too_fine", text} for more than two decimals, which are not
// kept and never rounded away; Negative.
Result<std::optional<Metres>> distanceFrom(const QString &text, DistanceUnit unit, const std::string &field);

} // namespace kitround::desk
