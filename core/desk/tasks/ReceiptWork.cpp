// A receipt that was booked by mistake: undone by contrary movements while what came is where it was put.
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/tasks/HomeLine.h"
#include "core/supply/Ledger.h"

#include <algorithm>

namespace kitround::desk {
namespace {

struct Put { // what the receipt left at one of our places
    Place place;
    ItemId item;
    LotId lot;
    Eaches quantity;
};

std::vector<Put> putBy(const std::vector<StockMovement> &movements) {
    std::vector<Put> all;
    const auto add = [&](const StockMovement &m, const Place &place, Eaches quantity) {
        if (place.kind == PlaceKind::Supplier || !m.lot)
            return;
        const auto same =
            std::ranges::find_if(all, [&](const Put &p) { return p.place == place && p.lot == *m.lot; });
        if (same == all.end())
            all.push_back({place, m.item, *m.lot, quantity});
        else
            same->quantity += quantity;
    };
    for (const StockMovement &m : movements) {
        add(m, m.to, m.quantity);
        add(m, m.from, Eaches{} - m.quantity);
    }
    return all;
}

// Eaches of one lot are all alike: as many as came must be where the receipt put them.
Result<void> standsWhereItWasPut(store::AgencyFile &file, const SnapshotIndex &index,
                                 const std::vector<StockMovement> &movements, LocalTime now) {
    for (const Put &put : putBy(movements)) {
        Result<std::vector<StockMovement>> ofLot = file.movementsOfLot(put.lot);
        if (!ofLot)
            return ofLot.error();
        const Eaches there = std::max(ledgerAt(*ofLot, put.place, now), Eaches{});
        if (there >= put.quantity)
            continue;
        const Item *item = index.item(put.item);
        const Lot *lot = index.lot(put.lot);
        return problem(ProblemCode::NotAllowed, "quantity",
                       {"receipt_moved", item ? item->name : std::string(), lot ? lot->number : std::string(),
                        std::to_string((put.quantity - there).count())});
    }
    return {};
}

// Filled from the first line on, so emptied from the last.
PurchaseOrder withoutReceipt(PurchaseOrder order, const Receipt &receipt) {
    for (const ReceiptLine &line : receipt.lines) {
        Eaches left = line.quantity;
        for (auto ordered = order.lines.rbegin(); ordered != order.lines.rend(); ++ordered) {
            if (ordered->item != line.item)
                continue;
            const Eaches taken = std::min(ordered->received, left);
            ordered->received -= taken;
            left -= taken;
        }
    }
    if (order.status == PurchaseStatus::Cancelled)
        return order;
    const bool isComplete = std::ranges::all_of(order.lines, [](const PurchaseLine &line) {
        return line.received >= toEaches(line.cases, line.pack);
    });
    const bool hasSome =
        std::ranges::any_of(order.lines, [](const PurchaseLine &line) { return line.received.count() > 0; });
    order.status = isComplete ? PurchaseStatus::Received
                   : hasSome  ? PurchaseStatus::PartlyReceived
                              : PurchaseStatus::Sent;
    return order;
}

} // namespace

Result<Receipt> Desk::reverseReceipt(ReceiptId id, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Receipt> {
        const auto &receipts = agency.snapshot().receipts;
        const auto receipt = std::ranges::find(receipts, id, &Receipt::id);
        if (receipt == receipts.end())
            return unknown("receipt", "receipt_id", id);
        if (why.empty())
            return problem(ProblemCode::Missing, "why");
        Result<std::vector<StockMovement>> movements = inner_->file->movementsOfReceipt(id);
        if (!movements)
            return movements.error();
        const LocalTime now = inner_->now();
        const std::vector<StockMovement> standing = stillStanding(*movements);
        if (Result<void> ok = standsWhereItWasPut(*inner_->file, agency.index(), standing, now); !ok)
            return ok.error();
        for (StockMovement &contrary : supply::undoing(standing, now)) {
            contrary.note = why;
            if (Result<StockMovement> done = unit.post(contrary); !done)
                return done.error();
        }
        if (receipt->order) {
            const PurchaseOrder *order = agency.index().purchaseOrder(*receipt->order);
            if (!order)
                return unknown("purchase_order", "purchase_order_id", *receipt->order);
            if (Result<PurchaseOrder> saved = unit.save(withoutReceipt(*order, *receipt)); !saved)
                return saved.error();
        }
        return *receipt;
    });
}

} // namespace kitround::desk
