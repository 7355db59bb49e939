// The storeroom: orders to suppliers, what arrives, counts, and lots taken out of use.
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/tasks/HomeLine.h"
#include "core/desk/tasks/Movements.h"
#include "core/desk/views/ReceiveScan.h"
#include "core/desk/views/StockView.h"
#include "core/supply/Budget.h"
#include "core/supply/CarStock.h"
#include "core/supply/LeadTimes.h"
#include "core/supply/Ledger.h"
#include "core/supply/OrderNumbers.h"
#include "core/supply/OrderTerms.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const PurchaseOrder *findOrder(const Agency &agency, PurchaseOrderId id) {
    return agency.index().purchaseOrder(id);
}

std::string codeOf(PurchaseStatus status) {
    switch (status) {
    case PurchaseStatus::Draft:
        return "draft";
    case PurchaseStatus::Sent:
        return "sent";
    case PurchaseStatus::PartlyReceived:
        return "partly_received";
    case PurchaseStatus::Received:
        return "received";
    case PurchaseStatus::Cancelled:
        return "cancelled";
    }
    return "";
}
Problem notInState(const PurchaseOrder &order) {
    return problem(ProblemCode::NotAllowed, "status", {codeOf(order.status)});
}

// After sending, only what the supplier tells may change: when the rest comes.
bool onlyDatesDiffer(PurchaseOrder a, PurchaseOrder b) {
    for (PurchaseOrder *order : {&a, &b}) {
        order->expectedOn.reset();
        order->note.clear();
        order->rowVersion = 0;
        for (PurchaseLine &line : order->lines)
            line.backorderedUntil.reset();
    }
    return a == b;
}

class Receiving {
public:
    Receiving(store::UnitOfWork &unit, const Agency &agency, const ReceiveRecord &record)
        : unit_(unit), agency_(agency), record_(record) {}

    Result<Received> run(LocalTime now) {
        if (Result<void> ok = checkHead(now); !ok)
            return ok.error();
        Problems wrong;
        for (std::size_t i = 0; i < record_.lines.size(); ++i)
            for (Problem &p : receiveProblems(agency_, record_.lines[i], record_.at.date)) {
                p.row = static_cast<int>(i) + 1;
                wrong.push_back(std::move(p));
            }
        if (!wrong.empty())
            return joined(std::move(wrong));
        return store();
    }

private:
    Result<void> checkHead(LocalTime now) {
        if (!agency_.index().supplier(record_.supplier))
            return unknown("supplier", "supplier_id", record_.supplier);
        if (record_.at > now)
            return problem(ProblemCode::NotAllowed, "received_at",
                           {"not_yet", toIso(record_.at), toIso(now)});
        if (record_.lines.empty())
            return problem(ProblemCode::Missing, "lines");
        if (!record_.order)
            return {};
        const PurchaseOrder *order = findOrder(agency_, *record_.order);
        if (!order)
            return unknown("purchase_order", "purchase_order_id", *record_.order);
        if (order->supplier != record_.supplier)
            return problem(ProblemCode::Conflict, "supplier_id", {"order_of_other_supplier", order->number});
        if (order->status != PurchaseStatus::Sent && order->status != PurchaseStatus::PartlyReceived)
            return notInState(*order);
        if (order->orderedOn && record_.at.date < *order->orderedOn)
            return problem(ProblemCode::Conflict, "received_at",
                           {"before_its_order", order->number, order->orderedOn->toIso()});
        order_ = *order;
        return {};
    }

    Result<Received> store() {
        Received received;
        Receipt receipt;
        receipt.order = record_.order;
        receipt.supplier = record_.supplier;
        receipt.at = record_.at;
        receipt.packingSlip = record_.packingSlip;
        for (const ReceiveLine &line : record_.lines) {
            Result<Lot> lot = lotOnRecord(unit_, agency_, lots_, line.item, line.lotNumber, line.expiresOn);
            if (!lot)
                return lot.error();
            lots_.push_back(*lot);
            receipt.lines.push_back({line.item, lot->id, line.quantity, line.damaged});
            if (lot->state == LotState::Quarantined)
                received.flags.push_back(
                    problem(ProblemCode::Conflict, "lot_number", {"quarantined", lot->number}));
        }
        Result<Receipt> saved = unit_.save(receipt);
        if (!saved)
            return saved.error();
        received.receipt = *saved;
        for (std::size_t i = 0; i < saved->lines.size(); ++i)
            if (Result<void> done = post(saved->lines[i], lots_[i], saved->id); !done)
                return done.error();
        if (order_)
            if (Result<void> done = count(); !done)
                return done.error();
        for (Problem &flag : beyondOrder(agency_, record_))
            received.flags.push_back(std::move(flag));
        return received;
    }

    // Everything arrives at the storeroom; what may not be used goes on to quarantine at once. The reason
    // tells a damaged each (never comes back) from one held with its whole lot (comes back when the lot is
    // released).
    Result<void> post(const ReceiptLine &line, const Lot &lot, ReceiptId receipt) {
        const Eaches good = line.quantity - line.damaged;
        std::vector<StockMovement> movements;
        if (line.damaged.count() > 0)
            movements.push_back(moved(record_.at, Place::supplier(record_.supplier), Place::quarantine(),
                                      line.item, line.lot, line.damaged, MovementReason::Receipt));
        if (good.count() > 0) {
            movements.push_back(moved(record_.at, Place::supplier(record_.supplier), Place::storeroom(),
                                      line.item, line.lot, good, MovementReason::Receipt));
            if (lot.state != LotState::Usable)
                movements.push_back(moved(record_.at, Place::storeroom(), Place::quarantine(), line.item,
                                          line.lot, good, MovementReason::Quarantine));
        }
        for (StockMovement &movement : movements) {
            movement.receipt = receipt;
            if (Result<StockMovement> done = unit_.post(movement); !done)
                return renamed(done.error(), "at", "received_at");
        }
        return {};
    }

    // What came, against what was ordered. A damaged each has arrived: it is claimed, not still to come.
    Result<void> count() {
        for (const ReceiveLine &line : record_.lines) {
            Eaches left = line.quantity;
            PurchaseLine *last = nullptr;
            for (PurchaseLine &ordered : order_->lines) {
                if (ordered.item != line.item)
                    continue;
                last = &ordered;
                const Eaches open =
                    std::max(toEaches(ordered.cases, ordered.pack) - ordered.received, Eaches{});
                const Eaches taken = std::min(open, left);
                ordered.received += taken;
                left -= taken;
            }
            if (last)
                last->received += left;
        }
        bool isComplete = true;
        for (PurchaseLine &line : order_->lines) {
            const bool isDone = line.received >= toEaches(line.cases, line.pack);
            isComplete = isComplete && isDone;
            if (isDone)
                line.backorderedUntil.reset();
        }
        order_->status = isComplete ? PurchaseStatus::Received : PurchaseStatus::PartlyReceived;
        Result<PurchaseOrder> saved = unit_.save(*order_);
        return saved ? Result<void>() : saved.error();
    }

    store::UnitOfWork &unit_;
    const Agency &agency_;
    const ReceiveRecord &record_;
    std::optional<PurchaseOrder> order_;
    std::vector<Lot> lots_; // by line
};

// Packed parcels that still stand with us are opened again: the lot goes out of use, the promise stays.
Result<void> unpackParcelsWith(store::UnitOfWork &unit, store::AgencyFile &file, const Agency &agency,
                               LotId lot, LocalTime now) {
    for (const Delivery &delivery : agency.snapshot().deliveries) {
        const bool holdsLot =
            std::ranges::any_of(delivery.lines, [&](const DeliveryLine &line) { return line.lot == lot; });
        if (delivery.status != DeliveryStatus::Picked || !holdsLot)
            continue;
        Result<Delivery> unpacked = putBack(unit, file, agency.index(), delivery, now);
        if (!unpacked)
            return unpacked.error();
        if (Result<Delivery> saved = unit.save(*unpacked); !saved)
            return saved.error();
        if (const auto nurse = supply::carHolding(delivery))
            if (Result<void> done = stillInCar(unit, agency.index(), delivery.lines, *nurse, now); !done)
                return done;
    }
    return {};
}

Eaches sumAt(const std::vector<StockMovement> &movements, const Place &place) {
    Eaches sum;
    for (const StockMovement &m : movements) {
        if (m.to == place)
            sum += m.quantity;
        if (m.from == place)
            sum -= m.quantity;
    }
    return sum;
}

// The lot's storeroom stock to quarantine, or what was held with the lot back to the shelf. What a nurse's
// car carries is still in it, whatever is decided here.
Result<void> moveLot(store::UnitOfWork &unit, store::AgencyFile &file, const Lot &lot, bool toQuarantine,
                     LocalTime now) {
    Result<std::vector<StockMovement>> all = file.movementsOfLot(lot.id); // with what this unit posted
    if (!all)
        return all.error();
    const auto post = [&](const Place &from, const Place &to, Eaches quantity) -> Result<void> {
        if (quantity.count() <= 0)
            return {};
        Result<StockMovement> done =
            unit.post(moved(now, from, to, lot.item, lot.id, quantity, MovementReason::Quarantine));
        return done ? Result<void>() : done.error();
    };
    if (!toQuarantine) {
        // What a reversed receipt held has left with it.
        std::vector<StockMovement> held = stillStanding(*all);
        std::erase_if(held, [](const StockMovement &m) { return m.reason != MovementReason::Quarantine; });
        // What was written off or given back since is gone: of the damaged first.
        return post(Place::quarantine(), Place::storeroom(),
                    std::min(sumAt(held, Place::quarantine()), sumAt(*all, Place::quarantine())));
    }
    return post(Place::storeroom(), Place::quarantine(), sumAt(*all, Place::storeroom()));
}

// Money beyond the month's budget is approved by a person with a name.
Result<void> checkBudget(const Agency &agency, const PurchaseOrder &order, Money drafts,
                         const Result<User> &me) {
    const supply::BudgetState state = supply::budgetOf(agency.index(), agency.today());
    const Money over = state.overBy(drafts + supply::totalOf(order));
    if (over.isZero())
        return {};
    if (order.approvedBy.empty())
        return problem(ProblemCode::Missing, "approved_by",
                       {"over_budget", std::to_string(over.count()), std::to_string(state.budget.count()),
                        state.month.toIso()});
    if (!me)
        return me.error();
    if (order.approvedBy == me->name && me->role != UserRole::NurseManager)
        return problem(ProblemCode::Conflict, "approved_by", {"approver_is_user", me->name});
    return {};
}

Money otherDrafts(const Agency &agency, PurchaseOrderId but) {
    Money sum;
    for (const PurchaseOrder &order : agency.snapshot().purchaseOrders)
        if (order.status == PurchaseStatus::Draft && order.id != but)
            sum += supply::totalOf(order);
    return sum;
}

} // namespace

Result<Lot> lotOnRecord(store::UnitOfWork &unit, const Agency &agency, std::span<const Lot> made, ItemId item,
                        const std::string &number, std::optional<Date> expiresOn) {
    for (const Lot &lot : made)
        if (lot.item == item && isSameLotNumber(lot.number, number))
            return lot;
    Lot lot;
    if (const Lot *known = lotNumbered(agency.snapshot(), item, number)) {
        if (known->expiresOn || !expiresOn)
            return *known;
        lot = *known;
    } else {
        lot.item = item;
        lot.number = number;
    }
    lot.expiresOn = expiresOn;
    return unit.save(lot);
}

Result<PurchaseOrder> Desk::saveOrder(const PurchaseOrder &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PurchaseOrder> {
        PurchaseOrder order = record;
        if (order.id.isSet()) {
            const PurchaseOrder *before = findOrder(agency, order.id);
            if (!before)
                return unknown("purchase_order", "purchase_order_id", order.id);
            if (before->status == PurchaseStatus::Received || before->status == PurchaseStatus::Cancelled)
                return notInState(*before);
            if (before->status != PurchaseStatus::Draft && !onlyDatesDiffer(*before, order))
                return notInState(*before);
            if (order.status != before->status)
                return problem(ProblemCode::NotAllowed, "status", {codeOf(before->status)});
        } else {
            order.status = PurchaseStatus::Draft;
            if (order.number.empty())
                order.number = supply::nextOrderNumber(agency.snapshot());
        }
        if (order.status == PurchaseStatus::Draft)
            if (Result<void> ok = checkBudget(agency, order, otherDrafts(agency, order.id), inner_->me());
                !ok)
                return ok.error();
        return unit.save(order);
    });
}

Result<PurchaseOrder> Desk::sendOrder(PurchaseOrderId id, const std::string &approvedBy) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PurchaseOrder> {
        const PurchaseOrder *before = findOrder(agency, id);
        if (!before)
            return unknown("purchase_order", "purchase_order_id", id);
        if (before->status != PurchaseStatus::Draft)
            return notInState(*before);
        if (before->lines.empty())
            return problem(ProblemCode::Missing, "lines");
        const Supplier *supplier = agency.index().supplier(before->supplier);
        if (!supplier)
            return unknown("supplier", "supplier_id", before->supplier);
        const LocalTime now = inner_->now();
        PurchaseOrder sent = *before;
        if (!approvedBy.empty())
            sent.approvedBy = approvedBy;
        if (Result<void> ok = checkBudget(agency, sent, {}, inner_->me()); !ok)
            return ok.error();
        sent.status = PurchaseStatus::Sent;
        sent.orderedOn = now.date;
        sent.expectedOn = supply::arrivalIfSent(supplier, now, supply::leadTimeOf(agency.index(), *supplier));
        return unit.save(sent);
    });
}

Result<PurchaseOrder> Desk::cancelOrder(PurchaseOrderId id, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PurchaseOrder> {
        const PurchaseOrder *before = findOrder(agency, id);
        if (!before)
            return unknown("purchase_order", "purchase_order_id", id);
        if (before->status == PurchaseStatus::Received || before->status == PurchaseStatus::Cancelled)
            return notInState(*before);
        if (why.empty())
            return problem(ProblemCode::Missing, "why");
        PurchaseOrder cancelled = *before;
        cancelled.status = PurchaseStatus::Cancelled;
        cancelled.note += cancelled.note.empty() ? why : "\n" + why;
        return unit.save(cancelled);
    });
}

Result<Received> Desk::receive(const ReceiveRecord &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) {
        return Receiving(unit, agency, record).run(inner_->now());
    });
}

Result<Lot> Desk::setLotState(LotId id, LotState state, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Lot> {
        const Lot *before = agency.index().lot(id);
        if (!before)
            return unknown("lot", "lot_id", id);
        if (before->state == state)
            return problem(ProblemCode::NotAllowed, "state", {"already"});
        if (why.empty())
            return problem(ProblemCode::Missing, "state_reason");
        Lot lot = *before;
        lot.state = state;
        lot.stateReason = why;
        Result<Lot> saved = unit.save(lot);
        if (!saved)
            return saved;
        const LocalTime now = inner_->now();
        const bool toQuarantine = state != LotState::Usable;
        if (toQuarantine)
            if (Result<void> done = unpackParcelsWith(unit, *inner_->file, agency, id, now); !done)
                return done.error();
        if (Result<void> done = moveLot(unit, *inner_->file, *saved, toQuarantine, now); !done)
            return done.error();
        return saved;
    });
}

} // namespace kitround::desk
