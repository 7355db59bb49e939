#include "core/safety/Limits.h"

namespace kitround::safety {

Millilitres commonMaximum(CavitySite site) {
    return Millilitres::of(site == CavitySite::Chest ? 1000 : 2000);
}

bool isAboveCommon(const DrainOrder &order, const Catheter &catheter) {
    return order.mostPerSession && *order.mostPerSession > commonMaximum(catheter.site);
}

Millilitres confirmAbove(CavitySite site) {
    return site == CavitySite::Chest ? Millilitres::of(1500) : commonMaximum(site) * 2;
}

} // namespace kitround::safety
