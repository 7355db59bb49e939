#pragma once
// The only place that knows limits of medicine. They are data-entry checks that follow the prescriber's
// order, local policy and licensed practice; none suggests or changes a frequency or a volume.
#include "core/base/Quantity.h"
#include "core/records/Drains.h"
#include "core/records/People.h"

namespace kitround::safety {

// Most drained in one home session, where an order says nothing else: 1000 mL chest, 2000 mL abdomen
// (common practice, from memory). The prescribed maximum of the order always comes first.
Millilitres commonMaximum(CavitySite site);
bool isAboveCommon(const DrainOrder &order, const Catheter &catheter); // false where it names no maximum
// Chest volume above which an entry asks to be confirmed: 1500 mL (hospital limit at thoracentesis, British
// Thoracic Society pleural guideline 2010, from memory). Abdomen: the common maximum doubled (assumed).
Millilitres confirmAbove(CavitySite site);

} // namespace kitround::safety
