#include "core/supply/ObservedLeads.h"

#include "core/base/Require.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace kitround::supply {
namespace {

using FirstReceipts = std::map<std::pair<PurchaseOrderId, ItemId>, Date>;

FirstReceipts firstReceiptsFrom(const SnapshotIndex &agency, SupplierId supplier) {
    FirstReceipts first;
    for (const Receipt &receipt : agency.snapshot().receipts) {
        if (!receipt.order || receipt.supplier != supplier)
            continue;
        for (const ReceiptLine &line : receipt.lines) {
            const auto [at, isNew] = first.try_emplace({*receipt.order, line.item}, receipt.at.date);
            if (!isNew)
                at->second = std::min(at->second, receipt.at.date);
        }
    }
    return first;
}

} // namespace

std::vector<double> observedLeadDays(const SnapshotIndex &agency, SupplierId supplier) {
    std::map<PurchaseOrderId, std::pair<double, int>> byOrder;
    for (const auto &[key, receivedOn] : firstReceiptsFrom(agency, supplier)) {
        const PurchaseOrder *order = agency.purchaseOrder(key.first);
        if (!order || !order->orderedOn || receivedOn < *order->orderedOn)
            continue;
        auto &[sum, lines] = byOrder[key.first];
        sum += static_cast<double>((receivedOn - *order->orderedOn).count());
        ++lines;
    }
    std::vector<double> days;
    for (const auto &[order, seen] : byOrder)
        days.push_back(seen.first / seen.second);
    return days;
}

double meanOf(std::span<const double> values) {
    KITROUND_REQUIRE(!values.empty());
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double spreadOf(std::span<const double> values) {
    if (values.size() < 2)
        return 0;
    const double mean = meanOf(values);
    double sum = 0;
    for (const double v : values)
        sum += (v - mean) * (v - mean);
    return std::sqrt(sum / static_cast<double>(values.size() - 1));
}

} // namespace kitround::supply
