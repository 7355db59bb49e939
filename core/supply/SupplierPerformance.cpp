#include "core/supply/SupplierPerformance.h"

#include "core/supply/ObservedLeads.h"
#include "core/supply/OrderTerms.h"

#include <algorithm>
#include <map>

namespace kitround::supply {
namespace {

struct OrderSeen {
    Date first;
    Eaches inFirst, ordered;
    std::map<Date, Eaches> byDay;
};

std::map<PurchaseOrderId, OrderSeen> ordersSeen(const SnapshotIndex &agency, SupplierId supplier) {
    std::map<PurchaseOrderId, OrderSeen> seen;
    for (const Receipt &receipt : agency.snapshot().receipts) {
        const PurchaseOrder *order = receipt.order ? agency.purchaseOrder(*receipt.order) : nullptr;
        if (!order || order->supplier != supplier)
            continue;
        for (const ReceiptLine &line : receipt.lines)
            seen[order->id].byDay[receipt.at.date] += line.quantity;
    }
    for (auto &[id, order] : seen) {
        order.first = order.byDay.begin()->first;
        order.inFirst = order.byDay.begin()->second;
        for (const PurchaseLine &line : agency.purchaseOrder(id)->lines)
            order.ordered += toEaches(line.cases, line.pack);
    }
    return seen;
}

Money listPrice(const SnapshotIndex &agency, SupplierId supplier, const PurchaseLine &line) {
    const auto &offers = agency.snapshot().supplierItems;
    const auto offer = std::ranges::find_if(offers, [&](const SupplierItem &o) {
        return o.supplier == supplier && o.item == line.item && o.pack == line.pack;
    });
    const Money perCase = offer == offers.end() ? line.perCase : priceFor(*offer, line.cases);
    return perCase * line.cases.count();
}

bool isCompleteBy(const OrderSeen &order, Date day) {
    Eaches came;
    for (const auto &[on, quantity] : order.byDay)
        if (on <= day)
            came += quantity;
    return came >= order.ordered;
}

} // namespace

std::vector<SupplierPerformance> supplierPerformance(const SnapshotIndex &agency) {
    std::vector<SupplierPerformance> all;
    for (const Supplier &supplier : agency.snapshot().suppliers) {
        SupplierPerformance p;
        p.supplier = supplier.id;
        const std::vector<double> leads = observedLeadDays(agency, supplier.id);
        p.leads = static_cast<std::int64_t>(leads.size());
        if (!leads.empty()) {
            p.leadMean = meanOf(leads);
            p.leadSpread = spreadOf(leads);
        }
        p.promised = supplier.promisedLead;
        Eaches ordered, first;
        std::int64_t inTime = 0;
        for (const auto &[id, seen] : ordersSeen(agency, supplier.id)) {
            const PurchaseOrder &order = *agency.purchaseOrder(id);
            ++p.orders;
            ordered += seen.ordered;
            first += std::min(seen.inFirst, seen.ordered);
            if (order.expectedOn) {
                ++p.withDay;
                inTime += isCompleteBy(seen, *order.expectedOn) ? 1 : 0;
            }
            for (const PurchaseLine &line : order.lines) {
                p.paid += line.perCase * line.cases.count();
                p.listed += listPrice(agency, supplier.id, line);
            }
        }
        if (ordered.count() > 0)
            p.fillRate = static_cast<double>(first.count()) / static_cast<double>(ordered.count());
        if (p.withDay > 0)
            p.onTime = static_cast<double>(inTime) / static_cast<double>(p.withDay);
        all.push_back(p);
    }
    std::ranges::stable_sort(all, {}, &SupplierPerformance::supplier);
    return all;
}

} // namespace kitround::supply
