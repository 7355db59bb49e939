// Items, lots, the stock ledger and what goes to homes.
#include "core/records/Checks.h"
#include "core/records/Gtin.h"
#include "core/records/Validate.h"

#include <algorithm>

namespace kitround {
namespace {

constexpr std::int64_t kMostEaches = 1'000'000;

void checkGtin(Checks &checks, const std::string &gtin) {
    if (gtin.empty())
        return;
    if (!std::ranges::all_of(gtin, [](char c) { return c >= '0' && c <= '9'; }))
        checks.add(ProblemCode::NotANumber, "gtin", {gtin});
    else if (gtin.size() != 14)
        checks.add(ProblemCode::OutOfRange, "gtin", {std::to_string(gtin.size()), "14", "14"});
    else if (const char right = gs1CheckDigit(std::string_view(gtin).substr(0, 13)); gtin.back() != right)
        checks.add(ProblemCode::Conflict, "gtin", {"check_digit", std::string(1, right)});
}

void checkBottle(Checks &checks, const Item &item) {
    const bool holdsFluid = item.kind == ItemKind::Kit || item.kind == ItemKind::Bottle;
    if (item.bottleVolume)
        checks.range("bottle_volume_ml", item.bottleVolume->count(), 50, 5000);
    else if (holdsFluid)
        checks.add(ProblemCode::Missing, "bottle_volume_ml");
    if (item.bottleVolume && !holdsFluid)
        checks.add(ProblemCode::Conflict, "bottle_volume_ml", {"kind"});
}

// A list of other items with how many of each.
void checkParts(Checks &checks, const Item &owner, std::string_view field, ItemId part, Eaches count) {
    checks.known(field, part);
    if (part.isSet() && part == owner.id)
        checks.add(ProblemCode::Conflict, field, {"id"});
    checks.range(field, count.count(), 1, 1000);
}

bool needsRef(PlaceKind kind) {
    return kind == PlaceKind::Car || kind == PlaceKind::Transit || kind == PlaceKind::Home;
}

void checkPlace(Checks &checks, std::string_view field, const Place &place) {
    if (needsRef(place.kind) && place.ref <= 0)
        checks.add(ProblemCode::Missing, field);
    if ((place.kind == PlaceKind::Storeroom || place.kind == PlaceKind::Quarantine) && place.ref != 0)
        checks.add(ProblemCode::Conflict, field, {std::to_string(place.ref)});
}

void checkDeliveryState(Checks &checks, const Delivery &delivery) {
    if (delivery.status == DeliveryStatus::Delivered && !delivery.deliveredAt)
        checks.add(ProblemCode::Missing, "delivered_at");
    if (delivery.status != DeliveryStatus::Delivered && delivery.deliveredAt)
        checks.add(ProblemCode::Conflict, "delivered_at", {"status"});
    if (delivery.status != DeliveryStatus::Cancelled)
        checks.notEmpty("lines", delivery.lines.empty());
    checks.moment("shipped_at", delivery.shippedAt);
    checks.moment("delivered_at", delivery.deliveredAt);
    if (delivery.shippedAt)
        checks.endNotBefore("delivered_at", *delivery.shippedAt, delivery.deliveredAt);
}

} // namespace

Problems validate(const Item &item) {
    Checks checks;
    checks.requiredText("code", item.code, kLongestCode);
    checks.requiredText("name", item.name, kLongestLine);
    checkBottle(checks, item);
    checkGtin(checks, item.gtin);
    checks.text("connector", item.connector, kLongestCode);
    checks.noTwice("contains", item.contains);
    checks.each(item.contents,
                [&](const KitContent &c) { checkParts(checks, item, "contents", c.item, c.count); });
    checks.each(item.substitutes,
                [&](const Substitute &s) { checkParts(checks, item, "substitutes", s.item, s.per); });
    checks.range("eaches_per_case", item.casePack.eachesPerCase.count(), 1, 100'000);
    checks.countTo("unit_volume_ml", item.unitVolumeMl, 1'000'000);
    if (item.shelfLife)
        checks.range("shelf_life_days", item.shelfLife->count(), 1, 3653);
    checks.countTo("least_life_on_receipt_days", item.leastLifeOnReceipt.count(), 3653);
    checks.countTo("least_life_to_home_days", item.leastLifeToHome.count(), 3653);
    if (item.serviceLevelPermille)
        checks.range("service_level_permille", *item.serviceLevelPermille, 500, 999);
    return checks.take();
}

Problems validate(const Lot &lot) {
    Checks checks;
    checks.known("item_id", lot.item);
    checks.requiredText("number", lot.number, kLongestCode);
    checks.text("state_reason", lot.stateReason, kLongestLine);
    return checks.take();
}

Problems validate(const StockMovement &movement) {
    Checks checks;
    checks.known("item_id", movement.item);
    checks.moment("at", movement.at);
    checks.range("quantity", movement.quantity.count(), 1, kMostEaches);
    checkPlace(checks, "from_place", movement.from);
    checkPlace(checks, "to_place", movement.to);
    if (movement.from == movement.to)
        checks.add(ProblemCode::Conflict, "to_place", {"from_place"});
    else if (!isInside(movement.from.kind) && !isInside(movement.to.kind)) // moves nothing of ours
        checks.add(ProblemCode::Conflict, "to_place", {"from_place"});
    if (movement.id.isSet() && movement.undoes == movement.id)
        checks.add(ProblemCode::Conflict, "undoes", {"id"});
    checks.text("note", movement.note, kLongestNotes);
    return checks.take();
}

Problems validate(const HomeCount &count) {
    Checks checks;
    checks.known("catheter_id", count.catheter);
    checks.known("item_id", count.item);
    checks.moment("at", count.at);
    checks.countTo("counted", count.counted.count(), 10'000);
    checks.text("note", count.note, kLongestNotes);
    return checks.take();
}

Problems validate(const RefillContact &contact) {
    Checks checks;
    checks.known("patient_id", contact.patient);
    checks.moment("at", contact.at);
    checks.text("answered_by", contact.answeredBy, kLongestLine);
    checks.text("reason_for_need", contact.reasonForNeed, kLongestNotes);
    checks.text("note", contact.note, kLongestNotes);
    return checks.take();
}

Problems validate(const Delivery &delivery) {
    Checks checks;
    checks.known("patient_id", delivery.patient);
    checkDeliveryState(checks, delivery);
    checks.text("tracking_number", delivery.trackingNumber, kLongestLine);
    checks.text("received_by", delivery.receivedBy, kLongestLine);
    checks.text("receiver_relation", delivery.receiverRelation, kLongestLine);
    checks.text("cancel_reason", delivery.cancelReason, kLongestLine);
    checks.each(delivery.lines, [&](const DeliveryLine &line) {
        checks.known("catheter_id", line.catheter);
        checks.known("item_id", line.item);
        checks.range("quantity", line.quantity.count(), 1, 10'000);
        const std::int64_t most = delivery.status == DeliveryStatus::Delivered
                                      ? std::max<std::int64_t>(line.quantity.count(), 0)
                                      : 0;
        checks.range("damaged", line.damaged.count(), 0, most);
        checks.range("missing", line.missing.count(), 0,
                     std::max<std::int64_t>(most - line.damaged.count(), 0));
    });
    return checks.take();
}

} // namespace kitround
