#pragma once
// How much to send on a given day: the rule by itself, so that a clerk's hand calculation and a test can
// follow it. All amounts are eaches of one item at one home.
#include "core/base/Quantity.h"

#include <optional>

namespace kitround::supply {

// TaperExpected: the forecast falls clearly below the order's plain rule; then not more than its p90 is sent.
enum class RefillLimit : std::uint8_t { None, DaysHeld, CasePack, StoreroomShort, Expiry, TaperExpected };

struct RefillNeed {
    Eaches stock;                   // what the home has or is promised, as of today
    Eaches useBefore;               // expected use until the delivery, rounded down
    Eaches useToNext;               // use until the delivery after, at the run-out target's quantile
    Eaches buffer;                  // spare sessions
    Eaches plainBefore;             // the plain rule's use until the delivery
    Eaches plainHeld;               // usual use over the most days held, from the delivery; 0: nothing known
    bool bufferCountsAsHeld = true; // the payer's rule applies: the spare is inside its days held
    std::optional<Eaches>
        mostUseToNext; // set where the patient tapers: p90 of the use until the delivery after
    PackSize pack;
    bool wholeCases = false;
};
struct RefillAmount {
    Eaches quantity;
    Eaches exactNeed; // before caps and rounding
    RefillLimit limitedBy = RefillLimit::None;
    friend bool operator==(const RefillAmount &, const RefillAmount &) = default;
};
// exact need = use to next + buffer - the larger of stock and use before (a home that runs dry before the
// delivery does not drain twice afterwards).
// Cap by days held: the plain rule's use over the most days held (+ buffer, unless it counts as held), less
// what is left at delivery by the plain rule. Cap by taper: p90 of use to next, less stock or use before.
// Whole cases: rounded up where the cap allows, else down to whole cases; where even one case passes the cap,
// the single eaches are sent from an opened case (CasePack either way).
// More stock never gives a larger quantity.
RefillAmount refillQuantity(const RefillNeed &need);
// The cap by days held alone: the most that may be sent; nothing where no use is known.
std::optional<Eaches> mostByDaysHeld(const RefillNeed &need);
// The cap by taper alone; nothing where the patient does not taper.
std::optional<Eaches> mostByTaper(const RefillNeed &need);

} // namespace kitround::supply
