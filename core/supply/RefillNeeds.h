#pragma once
// What a refill has to cover at one home, as amounts: the step between a home's line and the rule of the
// quantity (RefillQuantity). Used by the refills themselves and by the storeroom, which asks what it will be
// asked for.
#include "core/records/Snapshot.h"
#include "core/supply/DeliveryDays.h"
#include "core/supply/HomeLine.h"
#include "core/supply/RefillQuantity.h"

namespace kitround::supply {

// One call may go unanswered: who is to be called tomorrow at the latest is called today.
inline constexpr std::int64_t kSpareCallDays = 1;

struct RefillTerms {
    Payer payer;       // of the patient; one whose refill rule does not apply where none is on record
    double target = 0; // highest chance of running dry before the next delivery
    // Aimed at from one delivery to the next: the agency's usual days, never more than the payer's most days
    // held. Far below it a home holds less and returns less when care ends, for more deliveries.
    Days cycle = Days::of(1);
};
RefillTerms refillTermsOf(const SnapshotIndex &agency, const Patient &patient);

// A delivery in `before` days from the as-of date, the usual next one in `toNext`. Nothing where the line
// lasts until then at the target.
std::optional<RefillNeed> refillNeedOf(const HomeLine &line, const Item &item, const RefillTerms &terms,
                                       const AgencySettings &settings, std::int64_t before,
                                       std::int64_t toNext);
// The same whether or not the line lasts until then.
RefillNeed refillNeedOn(const HomeLine &line, const Item &item, const RefillTerms &terms,
                        const AgencySettings &settings, std::int64_t before, std::int64_t toNext);

// The first day on which the payer lets a line be delivered; nothing where its supply lasts beyond the
// horizon. `supplyEnds`: the line's own, asked once.
std::optional<Date> earliestDelivery(const HomeLine &line, const std::optional<Date> &supplyEnds,
                                     const RefillTerms &terms, Date today);
// The first day on which the payer lets the home be asked about it; by the same supply as the delivery's.
std::optional<Date> earliestContact(const HomeLine &line, const std::optional<Date> &supplyEnds,
                                    const RefillTerms &terms, Date today);
// The next delivery after one on that day: the first courier day after the cycle.
Date nextDeliveryAfter(Date delivery, const Patient &patient, const RefillTerms &terms,
                       const CourierCalendar &courier);
// Days from a delivery in `before` days on that are covered by what is left then of `stock` and by what is
// `sent`.
double daysCoveredBy(const HomeLine &line, std::int64_t before, Eaches stock, Eaches sent);
// The chance that a home runs dry after `sent` has come in `before` days and up to `until` days, whatever
// happened before: what a dry home could not use is not used later. Promised goods are counted.
double chanceDryAfter(const HomeLine &line, std::int64_t before, std::int64_t until, Eaches sent);

} // namespace kitround::supply
