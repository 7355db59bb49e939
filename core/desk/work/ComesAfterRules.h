#pragma once
// What a visit order, or an added visit, may come after, given the patient's other orders and visits.
// Problems at "after_order_id" or "after_visit_id". Inside desk/work only.
#include "core/desk/Desk.h"

namespace kitround::desk {

Result<void> checkComesAfter(const Agency &agency, const VisitOrder &order);
Result<void> checkComesAfter(const Agency &agency, const Visit &visit);

} // namespace kitround::desk
