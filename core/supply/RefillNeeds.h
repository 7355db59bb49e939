#pragma once
// What a refill has to cover at one home, as amounts: the step between a home's line and the rule of the
// quantity (RefillQuantity). Used by the refills themselves and by the storeroom, which asks what it will be
// asked for.
#include "core/records/Snapshot.h"
#include "core/supply/HomeLine.h"
#include "core/supply/RefillQuantity.h"

namespace kitround::supply {

// One call may go unanswered: who is to be called tomorrow at the latest is called today.
inline constexpr std::int64_t kSpareCallDays = 1;

struct RefillTerms {
    Payer payer;       // of the patient; one whose refill rule does not apply where none is on record
    double target = 0; // highest chance of running dry before the next delivery
};
RefillTerms refillTermsOf(const SnapshotIndex &agency, const Patient &patient);

// A delivery in `before` days from the as-of date, the next possible one in `toNext`. Nothing where the line
// lasts until then at the target.
std::optional<RefillNeed> refillNeedOf(const HomeLine &line, const Item &item, const RefillTerms &terms,
                                       const AgencySettings &settings, std::int64_t before,
                                       std::int64_t toNext);

} // namespace kitround::supply
