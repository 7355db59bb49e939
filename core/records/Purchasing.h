#pragma once
// Suppliers, what they sell and how, orders to them and what arrived.
#include "core/base/Date.h"
#include "core/base/Money.h"
#include "core/records/Ids.h"

#include <optional>
#include <string>
#include <vector>

namespace kitround {

struct Supplier {
    SupplierId id;
    std::string code;
    std::string name;
    std::string contact;
    Days promisedLead = Days::of(5);       // order to receipt; used until enough receipts are known
    Days promisedLeadSpread = Days::of(2); // one standard deviation, a guess until learned
    WeekdaySet orderDays = WeekdaySet::mondayToFriday();
    Minutes cutOff = Minutes::of(14 * 60); // local; later counts as the next order day
    Money leastOrder;                      // 0 = none
    std::vector<Date> closedOn;
    bool isActive = true;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Supplier &, const Supplier &) = default;
};

struct PriceBreak {
    Cases from;
    Money perCase;
    friend bool operator==(const PriceBreak &, const PriceBreak &) = default;
};
struct SupplierItem {
    SupplierItemId id;
    SupplierId supplier;
    ItemId item;
    std::string supplierCode;
    PackSize pack;
    Money perCase;
    std::vector<PriceBreak> breaks;
    Cases leastLine = Cases::of(1);
    bool isPreferred = true;
    std::optional<Date> backorderedUntil; // the supplier's own notice
    bool isDiscontinued = false;
    std::int64_t rowVersion = 0;
    friend bool operator==(const SupplierItem &, const SupplierItem &) = default;
};

enum class PurchaseStatus : std::uint8_t { Draft, Sent, PartlyReceived, Received, Cancelled };
struct PurchaseLine {
    ItemId item;
    Cases cases;
    PackSize pack;
    Money perCase;
    Eaches received;                      // sum of receipts, kept by the receiving use case
    std::optional<Date> backorderedUntil; // promised date of the rest
    std::string reason;                   // the sentence it was accepted with
    friend bool operator==(const PurchaseLine &, const PurchaseLine &) = default;
};
struct PurchaseOrder {
    PurchaseOrderId id;
    std::string number;
    SupplierId supplier;
    PurchaseStatus status = PurchaseStatus::Draft;
    std::optional<Date> orderedOn;
    std::optional<Date> expectedOn;
    std::vector<PurchaseLine> lines;
    std::string note;
    std::string approvedBy; // who said yes to going over the month's budget
    std::int64_t rowVersion = 0;
    friend bool operator==(const PurchaseOrder &, const PurchaseOrder &) = default;
};

struct ReceiptLine {
    ItemId item;
    LotId lot;
    Eaches quantity;
    Eaches damaged; // counted in, put into quarantine
    friend bool operator==(const ReceiptLine &, const ReceiptLine &) = default;
};
struct Receipt {
    ReceiptId id;
    std::optional<PurchaseOrderId> order;
    SupplierId supplier;
    LocalTime at;
    std::string packingSlip;
    std::vector<ReceiptLine> lines;
    friend bool operator==(const Receipt &, const Receipt &) = default;
};

} // namespace kitround
