#include "core/supply/OrderNumbers.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <set>

namespace kitround::supply {
namespace {

constexpr std::int64_t kSeriesEnds = 1'000'000; // more than anybody orders in a year

// What follows the head, where it is a number and nothing else.
std::optional<std::int64_t> numberAfter(const std::string &head, const std::string &text) {
    if (!text.starts_with(head))
        return std::nullopt;
    std::int64_t number = 0;
    const char *end = text.data() + text.size();
    const auto read = std::from_chars(text.data() + head.size(), end, number);
    return read.ec == std::errc() && read.ptr == end ? std::optional(number) : std::nullopt;
}

} // namespace

std::string nextOrderNumber(const Snapshot &agency, std::span<const PurchaseOrder> drafts) {
    const std::string head = "PO-" + std::to_string(agency.asOf.year()) + "-";
    std::int64_t next = 1;
    std::set<std::int64_t> taken;
    for (const std::span<const PurchaseOrder> orders : {std::span(agency.purchaseOrders), drafts})
        for (const PurchaseOrder &order : orders)
            if (const auto number = numberAfter(head, order.number)) {
                taken.insert(*number);
                if (*number < kSeriesEnds)
                    next = std::max(next, *number + 1);
            }
    while (taken.contains(next))
        ++next;
    std::string tail = std::to_string(next);
    tail.insert(0, tail.size() < 4 ? 4 - tail.size() : 0, '0');
    return head + tail;
}

} // namespace kitround::supply
