#include "core/supply/RefillQuantity.h"

#include "core/base/Require.h"

#include <algorithm>

namespace kitround::supply {
namespace {

struct Cap {
    Eaches most;
    RefillLimit why = RefillLimit::None;
};

// The tightest cap, if any; never below zero.
std::optional<Cap> capOf(const RefillNeed &need) {
    std::optional<Cap> cap;
    if (const auto most = mostByDaysHeld(need))
        cap = Cap{*most, RefillLimit::DaysHeld};
    if (const auto most = mostByTaper(need); most && (!cap || *most < cap->most))
        cap = Cap{*most, RefillLimit::TaperExpected};
    return cap;
}

void roundToCases(RefillAmount &amount, const RefillNeed &need, const std::optional<Cap> &cap) {
    const Eaches up = toEaches(casesCovering(amount.quantity, need.pack), need.pack);
    if (!cap || up <= cap->most) {
        amount.quantity = up;
        return;
    }
    const Cases whole = Cases::of(cap->most.count() / need.pack.eachesPerCase.count());
    if (up != amount.quantity)
        amount.limitedBy = RefillLimit::CasePack;
    if (whole.count() > 0)
        amount.quantity = toEaches(whole, need.pack);
}

// What is there for the use until the delivery after; a home that runs dry before does not drain twice.
Eaches coveredOf(const RefillNeed &need) {
    return std::max(need.stock, need.useBefore);
}

} // namespace

std::optional<Eaches> mostByDaysHeld(const RefillNeed &need) {
    if (need.plainHeld.count() <= 0)
        return std::nullopt;
    const Eaches spare = need.bufferCountsAsHeld ? Eaches{} : need.buffer;
    const Eaches left = std::max(Eaches{}, need.stock - need.plainBefore);
    return std::max(Eaches{}, need.plainHeld + spare - left);
}

std::optional<Eaches> mostByTaper(const RefillNeed &need) {
    if (!need.mostUseToNext)
        return std::nullopt;
    return std::max(Eaches{}, *need.mostUseToNext - coveredOf(need));
}

RefillAmount refillQuantity(const RefillNeed &need) {
    KITROUND_REQUIRE(need.pack.eachesPerCase.count() > 0);
    RefillAmount amount;
    amount.exactNeed = std::max(Eaches{}, need.useToNext + need.buffer - coveredOf(need));
    amount.quantity = amount.exactNeed;
    const auto cap = capOf(need);
    if (cap && amount.quantity > cap->most) {
        amount.quantity = cap->most;
        amount.limitedBy = cap->why;
    }
    if (need.wholeCases && amount.quantity.count() > 0)
        roundToCases(amount, need, cap);
    return amount;
}

} // namespace kitround::supply
