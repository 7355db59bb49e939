#include "core/supply/OpenOrders.h"

#include "core/supply/Ledger.h"

#include <algorithm>
#include <tuple>

namespace kitround::supply {
namespace {

bool isOpen(const PurchaseOrder &order) {
    return order.status == PurchaseStatus::Sent || order.status == PurchaseStatus::PartlyReceived;
}

Date expectedOf(const SnapshotIndex &agency, const PurchaseOrder &order, const PurchaseLine &line) {
    const Date today = agency.snapshot().asOf;
    const Supplier *supplier = agency.supplier(order.supplier);
    Date expected = order.orderedOn.value_or(today) + (supplier ? supplier->promisedLead : Days{});
    if (order.expectedOn)
        expected = *order.expectedOn;
    if (line.backorderedUntil)
        expected = *line.backorderedUntil;
    return std::max(expected, today.plusDays(1));
}

} // namespace

std::vector<OpenLine> openLines(const SnapshotIndex &agency) {
    std::vector<OpenLine> lines;
    for (const PurchaseOrder &order : agency.snapshot().purchaseOrders) {
        if (!isOpen(order))
            continue;
        for (const PurchaseLine &line : order.lines) {
            const Eaches open = toEaches(line.cases, line.pack) - line.received;
            if (open.count() > 0)
                lines.push_back({order.id, order.supplier, line.item, open, expectedOf(agency, order, line),
                                 line.backorderedUntil.has_value()});
        }
    }
    std::ranges::stable_sort(lines, {},
                             [](const OpenLine &l) { return std::tuple(l.expectedOn, l.order, l.item); });
    return lines;
}

Eaches arrivingBefore(const SnapshotIndex &agency, ItemId item, Date day) {
    Eaches sum;
    for (const OpenLine &line : openLines(agency))
        if (line.item == item && line.expectedOn < day)
            sum += line.quantity;
    return sum;
}

} // namespace kitround::supply
