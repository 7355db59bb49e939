#include "core/desk/tasks/ComesAfterRules.h"

#include "core/desk/tasks/DeskInner.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const VisitOrder *orderOf(const Agency &agency, VisitOrderId id) {
    const auto &all = agency.snapshot().visitOrders;
    const auto found = std::ranges::find(all, id, &VisitOrder::id);
    return found == all.end() ? nullptr : &*found;
}

bool inMinutes(const ComesAfter &after) {
    return after.isSet() && after.unit == GapUnit::Minute;
}

// A visit that still may be planned.
bool isOpen(const Visit &visit) {
    return visit.status == VisitStatus::Due || visit.status == VisitStatus::Drafted ||
           visit.status == VisitStatus::Published;
}

// Nobody drives to a phone call, so nothing is timed by it.
bool isOnTheRoad(const VisitOrder &order) {
    return order.kind != VisitKind::Phone;
}

// Something else comes after the order, or the visit, by minutes. `self`: what is being saved.
bool isTaken(const Agency &agency, const ComesAfter &target, std::optional<VisitOrderId> selfOrder,
             std::optional<VisitId> selfVisit) {
    const auto same = [&](const ComesAfter &after) {
        return inMinutes(after) && after.order == target.order && after.visit == target.visit;
    };
    return std::ranges::any_of(agency.snapshot().visitOrders,
                               [&](const VisitOrder &o) { return o.id != selfOrder && same(o.after); }) ||
           std::ranges::any_of(agency.snapshot().visits, [&](const Visit &v) {
               return v.id != selfVisit && isOpen(v) && same(v.after);
           });
}

ComesAfter afterOrder(VisitOrderId id) {
    ComesAfter after;
    after.order = id;
    return after;
}

// The order that something comes after: one of the patient's, on the road.
Result<const VisitOrder *> firstOrder(const Agency &agency, PatientId patient, VisitOrderId id) {
    const VisitOrder *first = orderOf(agency, id);
    if (!first)
        return unknown("visit_order", "after_order_id", id);
    if (first->patient != patient)
        return problem(ProblemCode::NotAllowed, "after_order_id", {"after_other_patient"});
    if (!isOnTheRoad(*first))
        return problem(ProblemCode::NotAllowed, "after_order_id", {"after_phone"});
    return first;
}

bool needsTwo(const Agency &agency, PatientId patient, bool orderIsForTwo) {
    const Patient *record = agency.index().patient(patient);
    return orderIsForTwo || (record && record->needsTwoNurses);
}

} // namespace

MayBeFollowed mayBeFollowed(const Agency &agency, PatientId patient, std::optional<VisitOrderId> self,
                            const ComesAfter &present) {
    MayBeFollowed found;
    for (const VisitOrder *order : agency.index().visitOrdersOf(patient)) {
        const bool isOver = order->end && *order->end <= agency.today();
        if (order->id != self && isOnTheRoad(*order) && (!isOver || present.order == order->id))
            found.orders.push_back(order);
    }
    for (const Visit *visit : agency.index().visitsOf(patient))
        if (!visit->order && (isOpen(*visit) || present.visit == visit->id))
            found.visits.push_back(visit);
    return found;
}

Result<void> checkComesAfter(const Agency &agency, const VisitOrder &order) {
    if (!order.after.order)
        return {};
    const auto first = firstOrder(agency, order.patient, *order.after.order);
    if (!first)
        return first.error();
    // Round in a circle: what it comes after comes, in the end, after this one.
    const VisitOrder *at = *first;
    for (std::size_t steps = 0; at && steps <= agency.snapshot().visitOrders.size(); ++steps) {
        if (order.id.isSet() && at->id == order.id)
            return problem(ProblemCode::Conflict, "after_order_id", {"after_circle"});
        at = at->after.order ? orderOf(agency, *at->after.order) : nullptr;
    }
    if (!inMinutes(order.after))
        return {};
    if (needsTwo(agency, order.patient, order.twoNurses || (*first)->twoNurses))
        return problem(ProblemCode::Conflict, "after_order_id", {"after_two_nurses"});
    const bool isFollowed = order.id.isSet() && isTaken(agency, afterOrder(order.id), order.id, std::nullopt);
    if (inMinutes((*first)->after) || isFollowed ||
        isTaken(agency, afterOrder((*first)->id), order.id, std::nullopt))
        return problem(ProblemCode::Conflict, "after_order_id", {"after_chain"});
    return {};
}

Result<void> checkComesAfter(const Agency &agency, const Visit &visit) {
    const ComesAfter &after = visit.after;
    bool firstIsTied = false, forTwo = visit.twoNurses;
    const char *field = after.visit ? "after_visit_id" : "after_order_id";
    if (after.order) {
        const auto first = firstOrder(agency, visit.patient, *after.order);
        if (!first)
            return first.error();
        firstIsTied = inMinutes((*first)->after);
        forTwo = forTwo || (*first)->twoNurses;
    } else if (after.visit) {
        const Visit *first = agency.index().visit(*after.visit);
        if (!first)
            return unknown("visit", field, *after.visit);
        if (first->patient != visit.patient)
            return problem(ProblemCode::NotAllowed, field, {"after_other_patient"});
        if (first->status == VisitStatus::Missed || first->status == VisitStatus::Cancelled)
            return problem(ProblemCode::NotAllowed, field, {"after_over"});
        firstIsTied = inMinutes(first->after);
        forTwo = forTwo || first->twoNurses;
    }
    if (!inMinutes(after))
        return {};
    if (needsTwo(agency, visit.patient, forTwo))
        return problem(ProblemCode::Conflict, field, {"after_two_nurses"});
    ComesAfter target;
    target.order = after.order;
    target.visit = after.visit;
    const bool isTakenAlready =
        isTaken(agency, target, std::nullopt, visit.id.isSet() ? std::optional(visit.id) : std::nullopt);
    if (firstIsTied || isTakenAlready)
        return problem(ProblemCode::Conflict, field, {"after_chain"});
    return {};
}

} // namespace kitround::desk
