// Stock on its way to homes: contact, promise, pick, ship, deliver.
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/tasks/Movements.h"
#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/SupplyWords.h"
#include "core/supply/CarStock.h"
#include "core/supply/Ledger.h"
#include "core/supply/Lots.h"
#include "core/supply/Packing.h"
#include "core/supply/PromisedDay.h"
#include "core/supply/Refills.h"
#include "core/supply/StartUps.h"

#include <algorithm>
#include <cctype>

namespace kitround::desk {
namespace {

// A yes serves for a delivery no later than the payer lets it.
Result<void> checkAge(const Agency &agency, const Patient &patient, const Delivery &delivery,
                      const RefillContact &contact) {
    const Payer *payer = agency.index().payer(patient.payer);
    if (payer && payer->refillRuleApplies &&
        delivery.promisedFor - contact.at.date > payer->contactAtMostBefore)
        return problem(ProblemCode::OutOfRange, "refill_contact_id",
                       {toIso(contact.at), (delivery.promisedFor - payer->contactAtMostBefore).toIso(), ""});
    return {};
}

// A shipment is never automatic: one affirmative answer, of this patient, for this delivery, not older than
// the payer lets it be.
Result<void> checkContact(const Agency &agency, const Patient &patient, const Delivery &delivery) {
    if (!delivery.contact)
        return problem(ProblemCode::Missing, "refill_contact_id");
    const auto &contacts = agency.snapshot().refillContacts;
    const auto contact = std::ranges::find(contacts, *delivery.contact, &RefillContact::id);
    if (contact == contacts.end())
        return unknown("refill_contact", "refill_contact_id", *delivery.contact);
    if (contact->patient != patient.id)
        return problem(ProblemCode::Conflict, "refill_contact_id", {"contact_of_other_patient"});
    if (contact->answer != RefillAnswer::Confirmed)
        return problem(ProblemCode::NotAllowed, "refill_contact_id", {"not_confirmed"});
    for (const Delivery *other : agency.index().deliveriesOf(patient.id))
        if (other->id != delivery.id && other->contact == delivery.contact &&
            other->status != DeliveryStatus::Cancelled)
            return problem(ProblemCode::Conflict, "refill_contact_id", {"contact_used", toIso(contact->at)});
    return checkAge(agency, patient, delivery, *contact);
}

Result<void> checkLines(const Agency &agency, const Patient &patient, const Delivery &delivery) {
    if (delivery.lines.empty())
        return problem(ProblemCode::Missing, "lines");
    Problems wrong;
    for (std::size_t i = 0; i < delivery.lines.size(); ++i) {
        const DeliveryLine &line = delivery.lines[i];
        Problems found;
        const Catheter *catheter = agency.index().catheter(line.catheter);
        if (!catheter)
            found.push_back(unknown("catheter", "catheter_id", line.catheter));
        else if (catheter->patient != patient.id)
            found.push_back(problem(ProblemCode::Conflict, "catheter_id", {"catheter_of_other_patient"}));
        else if (catheter->removedAt)
            found.push_back(problem(ProblemCode::NotAllowed, "catheter_id", {"catheter_removed"}));
        else
            found = barred(agency.index(), patient, *catheter, line.item);
        if (line.quantity.count() <= 0)
            found.push_back(problem(ProblemCode::OutOfRange, "quantity",
                                    {std::to_string(line.quantity.count()), "1", ""}));
        for (Problem &p : found) {
            p.row = static_cast<int>(i) + 1;
            wrong.push_back(std::move(p));
        }
    }
    if (!wrong.empty())
        return joined(std::move(wrong));
    return {};
}

Result<void> checkMayBeSent(const Agency &agency, const Patient &patient, Date on) {
    if (isExit(patient.status))
        return problem(ProblemCode::NotAllowed, "patient_id", {"left_service"});
    const Hold *hold = agency.index().holdOn(patient.id, on);
    if (hold && !hold->stillDraining)
        return problem(ProblemCode::NotAllowed, "promised_for", {"on_hold", hold->from.toIso()});
    return {};
}

// How the delivery travels: a carried one needs a nurse, by name or through its visit.
Result<void> checkWay(const Agency &agency, const Patient &patient, Delivery &delivery) {
    if (delivery.way == DeliveryWay::Courier) {
        if (!patient.allowsCourier)
            return problem(ProblemCode::NotAllowed, "way", {"no_courier"});
        return {};
    }
    if (delivery.visit) {
        const Visit *visit = agency.index().visit(*delivery.visit);
        if (!visit)
            return unknown("visit", "visit_id", *delivery.visit);
        if (visit->patient != patient.id)
            return problem(ProblemCode::Conflict, "visit_id", {"visit_of_other_patient"});
        if (!delivery.carriedBy)
            delivery.carriedBy = visit->nurse;
    }
    return {};
}

std::string folded(const std::string &text) {
    std::string kept;
    for (char c : text)
        if (std::isalnum(static_cast<unsigned char>(c)) || static_cast<unsigned char>(c) >= 0x80)
            kept += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return kept;
}

// Staff may not sign for the patient (42 CFR 424.57(c)(12)).
Result<void> checkReceiver(const Agency &agency, const std::vector<User> &users,
                           const std::string &receivedBy, const std::string &relation) {
    const std::string name = folded(receivedBy);
    if (name.empty())
        return problem(ProblemCode::Missing, "received_by");
    for (const Nurse &nurse : agency.snapshot().nurses)
        if (name == folded(nurse.givenName + nurse.familyName) ||
            name == folded(nurse.familyName + nurse.givenName))
            return problem(ProblemCode::Conflict, "received_by", {"staff", receivedBy});
    for (const User &user : users)
        if (name == folded(user.name))
            return problem(ProblemCode::Conflict, "received_by", {"staff", receivedBy});
    const std::string role = folded(relation);
    for (const char *staff : {"nurse", "staff", "employee", "coordinator", "supplyclerk"})
        if (role == staff)
            return problem(ProblemCode::Conflict, "receiver_relation", {"staff", relation});
    return {};
}

// What stands in for an ordered item goes only with its record: approved, taught, with an end.
Result<void> checkSubstitutions(const SnapshotIndex &index, const Delivery &delivery, Date on) {
    Problems wrong;
    for (std::size_t i = 0; i < delivery.lines.size(); ++i) {
        const DeliveryLine &line = delivery.lines[i];
        if (Result<void> ok = checkSubstitution(index, line.catheter, line.item, on); !ok) {
            wrong.push_back(ok.error());
            wrong.back().row = static_cast<int>(i) + 1;
        }
    }
    if (!wrong.empty())
        return joined(std::move(wrong));
    return {};
}

// The lines with their lots; nothing is packed in part.
Result<std::vector<DeliveryLine>> packedLines(const SnapshotIndex &index, const Delivery &delivery,
                                              Date today) {
    supply::Shelf shelf(index, Place::storeroom());
    const supply::PackedParcel parcel = supply::packParcel(shelf, delivery, today);
    Eaches wanted, missing;
    std::optional<ItemId> lacking;
    for (std::size_t i = 0; i < delivery.lines.size(); ++i)
        if (!lacking && parcel.missing[i].count() > 0)
            lacking = delivery.lines[i].item;
    for (std::size_t i = 0; lacking && i < delivery.lines.size(); ++i)
        if (delivery.lines[i].item == *lacking) {
            wanted += delivery.lines[i].quantity;
            missing += parcel.missing[i];
        }
    if (lacking)
        return tooFew(index, *lacking, wanted, missing);
    std::vector<DeliveryLine> packed;
    for (const supply::PackedLine &line : parcel.lines) {
        packed.push_back(delivery.lines[line.line]);
        packed.back().quantity = line.pick.quantity;
        packed.back().lot = line.pick.lot.isSet() ? std::optional(line.pick.lot) : std::nullopt;
    }
    return packed;
}

Result<void> checkAnswer(const Agency &agency, const RefillContact &contact, LocalTime now) {
    const Patient *patient = agency.index().patient(contact.patient);
    if (!patient)
        return unknown("patient", "patient_id", contact.patient);
    if (isExit(patient->status))
        return problem(ProblemCode::NotAllowed, "patient_id", {"left_service"});
    if (contact.at > now)
        return problem(ProblemCode::NotAllowed, "at", {"not_yet", toIso(contact.at), toIso(now)});
    if (contact.answer == RefillAnswer::Confirmed && contact.answeredBy.empty())
        return problem(ProblemCode::Missing, "answered_by");
    if (Problems missing = recalledNotAsked(agency.index(), contact); !missing.empty())
        return joined(std::move(missing));
    return {};
}

// A yes that is stored together with what is promised on it.
Result<void> checkAgreed(const Agency &agency, const RefillContact &agreed, const Delivery &wanted,
                         LocalTime now) {
    if (Result<void> ok = checkAnswer(agency, agreed, now); !ok)
        return ok;
    if (agreed.patient != wanted.patient)
        return problem(ProblemCode::Conflict, "refill_contact_id", {"contact_of_other_patient"});
    if (agreed.answer != RefillAnswer::Confirmed)
        return problem(ProblemCode::NotAllowed, "answer", {"not_confirmed"});
    return {};
}

// The yes with the reasons for what is not as offered; refused where one is needed and none is given.
Result<RefillContact> withReasons(const Agency &agency, const RefillContact &agreed, const Delivery &wanted,
                                  const supply::RefillProposal &offer, const OfferReasons &why) {
    RefillContact kept = agreed;
    const auto keep = [&](const std::string &text) { kept.note += (kept.note.empty() ? "" : "\n") + text; };
    if (!supply::overOffer(agency.index(), offer, wanted).empty()) {
        if (folded(why.more).empty())
            return problem(ProblemCode::Missing, "why_more");
        keep(moreThanOffered(why.more));
    }
    const auto breaks = allBreaks(supply::dayBreaks(agency.index(), offer, wanted), why.shown);
    if (breaks.empty())
        return kept;
    if (folded(why.day).empty())
        return problem(ProblemCode::Missing, "why_day");
    keep(dayAgainstRules(agency.index(), offer, breaks, why.day));
    return kept;
}

// The same of a first delivery, by what its starter set and its first drain are.
Result<RefillContact> withFirstReasons(const RefillContact &agreed, const Delivery &wanted,
                                       const supply::StartUp &start, const OfferReasons &why) {
    RefillContact kept = agreed;
    const auto keep = [&](const std::string &text) { kept.note += (kept.note.empty() ? "" : "\n") + text; };
    Problems missing;
    if (supply::isMoreThanStarter(start, wanted)) {
        if (folded(why.more).empty())
            missing.push_back(problem(ProblemCode::Missing, "why_more"));
        else
            keep(moreThanOffered(why.more));
    }
    if (supply::comesAfterFirstDrain(start, wanted)) {
        if (folded(why.day).empty())
            missing.push_back(problem(ProblemCode::Missing, "why_day"));
        else
            keep(afterFirstDrain(*start.firstDrain, why.day));
    }
    if (!missing.empty())
        return joined(std::move(missing));
    return kept;
}

// All of a promise but its yes.
Result<Delivery> storePromise(store::UnitOfWork &unit, const Agency &agency, const Delivery &wanted,
                              LocalTime now) {
    if (wanted.id.isSet())
        return problem(ProblemCode::NotAllowed, "delivery_id", {"stored_already"});
    const Patient *patient = agency.index().patient(wanted.patient);
    if (!patient)
        return unknown("patient", "patient_id", wanted.patient);
    if (wanted.promisedFor < now.date)
        return problem(ProblemCode::OutOfRange, "promised_for",
                       {wanted.promisedFor.toIso(), now.date.toIso(), ""});
    if (Result<void> ok = checkMayBeSent(agency, *patient, wanted.promisedFor); !ok)
        return ok.error();
    if (Result<void> ok = checkLines(agency, *patient, wanted); !ok)
        return ok.error();
    Delivery delivery = wanted;
    delivery.status = DeliveryStatus::Promised;
    for (DeliveryLine &line : delivery.lines)
        line.lot.reset();
    if (Result<void> ok = checkWay(agency, *patient, delivery); !ok)
        return ok.error();
    return unit.save(delivery);
}

} // namespace

Result<RefillContact> Desk::recordContact(const RefillContact &contact) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<RefillContact> {
        if (Result<void> ok = checkAnswer(agency, contact, inner_->now()); !ok)
            return ok.error();
        return unit.save(contact);
    });
}

Result<Delivery> Desk::promise(const Delivery &wanted) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        const Patient *patient = agency.index().patient(wanted.patient);
        if (!patient)
            return unknown("patient", "patient_id", wanted.patient);
        if (Result<void> ok = checkContact(agency, *patient, wanted); !ok)
            return ok.error();
        return storePromise(unit, agency, wanted, inner_->now());
    });
}

Result<Delivery> Desk::promiseOffer(const RefillContact &agreed, const Delivery &wanted,
                                    const supply::RefillProposal &offer, const OfferReasons &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        if (Result<void> ok = checkAgreed(agency, agreed, wanted, inner_->now()); !ok)
            return ok.error();
        if (folded(agreed.reasonForNeed).empty())
            return problem(ProblemCode::Missing, "reason_for_need");
        if (const Patient *patient = agency.index().patient(wanted.patient))
            if (Result<void> ok = checkAge(agency, *patient, wanted, agreed); !ok)
                return ok.error();
        Result<RefillContact> kept = withReasons(agency, agreed, wanted, offer, why);
        if (!kept)
            return kept.error();
        Result<RefillContact> contact = unit.save(*kept);
        if (!contact)
            return contact.error();
        Delivery delivery = wanted;
        delivery.contact = contact->id;
        return storePromise(unit, agency, delivery, inner_->now());
    });
}

Result<Delivery> Desk::promiseFirst(const RefillContact &agreed, const Delivery &wanted,
                                    const supply::StartUp &start, const OfferReasons &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        if (Result<void> ok = checkAgreed(agency, agreed, wanted, inner_->now()); !ok)
            return ok.error();
        Result<RefillContact> kept = withFirstReasons(agreed, wanted, start, why);
        if (!kept)
            return kept.error();
        Result<RefillContact> contact = unit.save(*kept);
        if (!contact)
            return contact.error();
        Delivery delivery = wanted;
        delivery.contact = contact->id;
        return storePromise(unit, agency, delivery, inner_->now());
    });
}

Result<Delivery> Desk::pick(DeliveryId id) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        const Delivery *before = agency.index().delivery(id);
        if (!before)
            return unknown("delivery", "delivery_id", id);
        if (before->status != DeliveryStatus::Promised)
            return notInState(*before);
        const LocalTime now = inner_->now();
        const Date arrives = supply::arrivalOf(*before, now.date);
        const Patient *patient = agency.index().patient(before->patient);
        if (patient)
            if (Result<void> ok = checkMayBeSent(agency, *patient, arrives); !ok)
                return ok.error();
        if (before->way == DeliveryWay::WithVisit && !before->carriedBy)
            return problem(ProblemCode::Missing, "carried_by");
        if (Result<void> ok = checkSubstitutions(agency.index(), *before, arrives); !ok)
            return ok.error();
        Result<std::vector<DeliveryLine>> lines = packedLines(agency.index(), *before, now.date);
        if (!lines)
            return lines.error();
        Delivery picked = *before;
        picked.lines = *lines;
        picked.status = DeliveryStatus::Picked;
        for (const DeliveryLine &line : picked.lines) {
            StockMovement movement = moved(now, Place::storeroom(), placeOf(picked), line.item, line.lot,
                                           line.quantity, MovementReason::Issue);
            movement.delivery = id;
            if (Result<StockMovement> done = unit.post(movement); !done)
                return done.error();
        }
        return unit.save(picked);
    });
}

Result<Delivery> Desk::ship(DeliveryId id) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        const Delivery *before = agency.index().delivery(id);
        if (!before)
            return unknown("delivery", "delivery_id", id);
        if (before->status != DeliveryStatus::Picked)
            return notInState(*before);
        const Patient *patient = agency.index().patient(before->patient);
        if (patient)
            if (Result<void> ok =
                    checkMayBeSent(agency, *patient, supply::arrivalOf(*before, inner_->now().date));
                !ok)
                return ok.error();
        Delivery shipped = *before;
        shipped.status = DeliveryStatus::InTransit;
        shipped.shippedAt = inner_->now();
        return unit.save(shipped);
    });
}

Result<Delivery> Desk::setTracking(DeliveryId id, const std::string &number) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        const Delivery *before = agency.index().delivery(id);
        if (!before)
            return unknown("delivery", "delivery_id", id);
        if (before->way != DeliveryWay::Courier)
            return problem(ProblemCode::NotAllowed, "tracking_number", {"not_by_courier"});
        if (!before->shippedAt)
            return problem(ProblemCode::NotAllowed, "tracking_number", {"not_shipped"});
        Delivery tracked = *before;
        tracked.trackingNumber = number;
        return unit.save(tracked);
    });
}

Result<Delivery> Desk::deliver(DeliveryId id, LocalTime at, const std::string &receivedBy,
                               const std::string &relation, const Arrived &arrived) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        const Delivery *before = agency.index().delivery(id);
        if (!before)
            return unknown("delivery", "delivery_id", id);
        const bool isOnItsWay =
            before->status == DeliveryStatus::InTransit ||
            (before->status == DeliveryStatus::Picked && before->way == DeliveryWay::WithVisit);
        if (!isOnItsWay)
            return notInState(*before);
        if (at > inner_->now())
            return problem(ProblemCode::NotAllowed, "delivered_at",
                           {"not_yet", toIso(at), toIso(inner_->now())});
        if (before->shippedAt && at < *before->shippedAt)
            return problem(ProblemCode::Conflict, "delivered_at",
                           {"arrived_before_left", toIso(*before->shippedAt)});
        Result<std::vector<User>> users = inner_->file->users();
        if (!users)
            return users.error();
        if (Result<void> ok = checkReceiver(agency, *users, receivedBy, relation); !ok)
            return ok.error();
        Result<std::vector<DeliveryLine>> lines = bookArrival(unit, agency, *before, arrived, at);
        if (!lines)
            return lines.error();
        Delivery delivered = *before;
        delivered.lines = *std::move(lines);
        delivered.status = DeliveryStatus::Delivered;
        delivered.deliveredAt = at;
        delivered.receivedBy = receivedBy;
        delivered.receiverRelation = relation;
        return unit.save(delivered);
    });
}

Result<Delivery> Desk::cancelDelivery(DeliveryId id, const std::string &why, CameBack where) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        const Delivery *before = agency.index().delivery(id);
        if (!before)
            return unknown("delivery", "delivery_id", id);
        if (before->status == DeliveryStatus::Delivered || before->status == DeliveryStatus::Cancelled)
            return notInState(*before);
        if (why.empty())
            return problem(ProblemCode::Missing, "cancel_reason");
        if (where == CameBack::InCar && !supply::carHolding(*before))
            return problem(ProblemCode::NotAllowed, "status", {"not_in_car"});
        return cancel(unit, *inner_->file, agency.index(), *before, {why, inner_->now(), where});
    });
}

Result<std::vector<StockMovement>> Desk::movementsOfLot(LotId lot) {
    return inner_->file->movementsOfLot(lot);
}
Result<std::vector<StockMovement>> Desk::movementsAt(const Place &place, ItemId item) {
    return inner_->file->movementsAt(place, item);
}

} // namespace kitround::desk
