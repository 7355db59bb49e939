#pragma once
// What a visit order, or an added visit, may come after, given the patient's other orders and visits: what a
// form offers, and what is refused when saving.
#include "core/desk/Desk.h"

#include <optional>
#include <vector>

namespace kitround::desk {

// What is offered: visits on the road that are not over. An added visit may come after both kinds, an order
// after orders only. What is offered may still be refused beside what else is entered, minutes above all.
struct MayBeFollowed {
    std::vector<const VisitOrder *> orders;
    std::vector<const Visit *> visits; // added ones
};
// `self`: the order that is being filled in. `present`: what it comes after now; stays among them though
// over.
MayBeFollowed mayBeFollowed(const Agency &agency, PatientId patient, std::optional<VisitOrderId> self,
                            const ComesAfter &present);

// Problems at "after_order_id" or "after_visit_id".
Result<void> checkComesAfter(const Agency &agency, const VisitOrder &order);
Result<void> checkComesAfter(const Agency &agency, const Visit &visit);

} // namespace kitround::desk
