#pragma once
// The running numbers of purchase orders, where nobody typed one.
#include "core/records/Snapshot.h"

#include <span>
#include <string>

namespace kitround::supply {

// "PO-2026-0042": the number after the highest of the year, of orders stored and of these. A number typed so
// high that it is none of the series (a million and more) is passed over, and never given again.
std::string nextOrderNumber(const Snapshot &agency, std::span<const PurchaseOrder> drafts = {});

} // namespace kitround::supply
