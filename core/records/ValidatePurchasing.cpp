// Suppliers, orders to them and what arrived.
#include "core/records/Checks.h"
#include "core/records/Validate.h"

namespace kitround {
namespace {

constexpr std::int64_t kMostCases = 100'000;
constexpr std::int64_t kMostMoney = 10'000'000'00; // minor units

bool wasSent(PurchaseStatus status) {
    return status != PurchaseStatus::Draft && status != PurchaseStatus::Cancelled;
}

void checkBreaks(Checks &checks, const SupplierItem &offer) {
    Cases before;
    checks.each(offer.breaks, [&](const PriceBreak &b) {
        checks.range("break_from_cases", b.from.count(), 1, kMostCases);
        checks.countTo("break_price_minor", b.perCase.count(), kMostMoney);
        if (b.from.count() >= 1 && b.from <= before)
            checks.add(ProblemCode::Conflict, "break_from_cases", {std::to_string(before.count())});
        before = b.from;
    });
}

} // namespace

Problems validate(const Supplier &supplier) {
    Checks checks;
    checks.requiredText("code", supplier.code, kLongestCode);
    checks.requiredText("name", supplier.name, kLongestLine);
    checks.text("contact", supplier.contact, kLongestLine);
    checks.range("promised_lead_days", supplier.promisedLead.count(), 0, 365);
    checks.range("promised_lead_spread_days", supplier.promisedLeadSpread.count(), 0, 365);
    checks.notEmpty("order_days", supplier.orderDays.isEmpty());
    checks.minuteOfDay("cut_off", supplier.cutOff);
    checks.countTo("least_order_minor", supplier.leastOrder.count(), kMostMoney);
    checks.noTwice("closed_on", supplier.closedOn);
    return checks.take();
}

Problems validate(const SupplierItem &offer) {
    Checks checks;
    checks.known("supplier_id", offer.supplier);
    checks.known("item_id", offer.item);
    checks.text("supplier_code", offer.supplierCode, kLongestCode);
    checks.range("eaches_per_case", offer.pack.eachesPerCase.count(), 1, 100'000);
    checks.countTo("price_minor", offer.perCase.count(), kMostMoney);
    checkBreaks(checks, offer);
    checks.range("least_line_cases", offer.leastLine.count(), 1, kMostCases);
    return checks.take();
}

Problems validate(const PurchaseOrder &order) {
    Checks checks;
    checks.text("number", order.number, kLongestCode);
    checks.known("supplier_id", order.supplier);
    if (wasSent(order.status)) {
        checks.requiredText("number", order.number, order.number.size());
        checks.notEmpty("ordered_on", !order.orderedOn);
        checks.notEmpty("lines", order.lines.empty());
    }
    if (order.orderedOn)
        checks.endNotBefore("expected_on", *order.orderedOn, order.expectedOn);
    checks.each(order.lines, [&](const PurchaseLine &line) {
        checks.known("item_id", line.item);
        checks.range("cases", line.cases.count(), 1, kMostCases);
        checks.range("eaches_per_case", line.pack.eachesPerCase.count(), 1, 100'000);
        checks.countTo("price_minor", line.perCase.count(), kMostMoney);
        if (line.received.isNegative()) // more than was ordered does arrive
            checks.add(ProblemCode::Negative, "received", {std::to_string(line.received.count())});
        checks.text("reason", line.reason, kLongestNotes);
    });
    checks.text("note", order.note, kLongestNotes);
    checks.text("approved_by", order.approvedBy, kLongestLine);
    return checks.take();
}

Problems validate(const Receipt &receipt) {
    Checks checks;
    checks.known("supplier_id", receipt.supplier);
    checks.moment("at", receipt.at);
    checks.text("packing_slip", receipt.packingSlip, kLongestLine);
    checks.notEmpty("lines", receipt.lines.empty());
    checks.each(receipt.lines, [&](const ReceiptLine &line) {
        checks.known("item_id", line.item);
        checks.known("lot_id", line.lot);
        checks.range("quantity", line.quantity.count(), 1, 1'000'000);
        if (line.damaged.isNegative())
            checks.add(ProblemCode::Negative, "damaged", {std::to_string(line.damaged.count())});
        else if (line.damaged > line.quantity)
            checks.range("damaged", line.damaged.count(), 0, line.quantity.count());
    });
    return checks.take();
}

} // namespace kitround
