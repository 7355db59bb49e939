#pragma once
// Items, lots, the ledger, counts, deliveries, suppliers and what is bought from them.
#include "core/store/mapping/Mapping.h"

namespace kitround::store {

template <>
struct Mapping<Item> {
    static constexpr const char *table = "item";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("code", r.code);
        v("name", r.name);
        v("kind", r.kind);
        v("bottle_volume_ml", r.bottleVolume);
        v("gtin", r.gtin);
        v("connector", r.connector);
        v("eaches_per_case", r.casePack);
        v("send_whole_cases", r.sendWholeCases);
        v("unit_volume_ml", r.unitVolumeMl);
        v("shelf_life_days", r.shelfLife);
        v("least_life_on_receipt_days", r.leastLifeOnReceipt);
        v("least_life_to_home_days", r.leastLifeToHome);
        v("stock_class", r.stockClass);
        v("service_level_permille", r.serviceLevelPermille);
        v("is_active", r.isActive);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("item_material", r.contains, [](auto &c, auto &material) { c("material", material); });
        v.list("item_content", r.contents, [](auto &c, auto &content) {
            c("content_item_id", content.item);
            c("count", content.count);
        });
        v.list("item_substitute", r.substitutes, [](auto &c, auto &substitute) {
            c("substitute_item_id", substitute.item);
            c("per", substitute.per);
        });
    }
};

template <>
struct Mapping<Lot> {
    static constexpr const char *table = "lot";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("item_id", r.item);
        v("number", r.number);
        v("expires_on", r.expiresOn);
        v("state", r.state);
        v("state_reason", r.stateReason);
        v("is_picked_first", r.isPickedFirst);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<StockMovement> {
    static constexpr const char *table = "stock_movement";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("at", r.at);
        v("item_id", r.item);
        v("lot_id", r.lot);
        v("quantity", r.quantity);
        v("from_kind", r.from.kind);
        v("from_ref", r.from.ref);
        v("to_kind", r.to.kind);
        v("to_ref", r.to.ref);
        v("reason", r.reason);
        v("delivery_id", r.delivery);
        v("receipt_id", r.receipt);
        v("undoes_id", r.undoes);
        v("note", r.note);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<HomeCount> {
    static constexpr const char *table = "home_count";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("catheter_id", r.catheter);
        v("item_id", r.item);
        v("at", r.at);
        v("counted", r.counted);
        v("source", r.source);
        v("note", r.note);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<RefillContact> {
    static constexpr const char *table = "refill_contact";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("at", r.at);
        v("answered_by", r.answeredBy);
        v("answer", r.answer);
        v("reason_for_need", r.reasonForNeed);
        v("note", r.note);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Delivery> {
    static constexpr const char *table = "delivery";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("patient_id", r.patient);
        v("status", r.status);
        v("way", r.way);
        v("carried_by_nurse_id", r.carriedBy);
        v("visit_id", r.visit);
        v("promised_for_on", r.promisedFor);
        v("deliver_by_on", r.deliverBy);
        v("shipped_at", r.shippedAt);
        v("tracking_number", r.trackingNumber);
        v("delivered_at", r.deliveredAt);
        v("received_by", r.receivedBy);
        v("receiver_relation", r.receiverRelation);
        v("cancel_reason", r.cancelReason);
        v("refill_contact_id", r.contact);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("delivery_line", r.lines, [](auto &c, auto &line) {
            c("catheter_id", line.catheter);
            c("item_id", line.item);
            c("lot_id", line.lot);
            c("quantity", line.quantity);
            c("damaged", line.damaged);
            c("missing", line.missing);
        });
    }
};

template <>
struct Mapping<RecallOutcome> {
    static constexpr const char *table = "recall_outcome";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("lot_id", r.lot);
        v("catheter_id", r.catheter);
        v("at", r.at);
        v("told_by", r.toldBy);
        v("spoke_with", r.spokeWith);
        v("answer", r.answer);
        v("set_aside", r.setAside);
        v("replaced", r.replaced);
        v("note", r.note);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Substitution> {
    static constexpr const char *table = "substitution";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("catheter_id", r.catheter);
        v("item_id", r.item);
        v("stand_in_item_id", r.standIn);
        v("approver", r.approver);
        v("approved_by", r.approvedBy);
        v("approved_on", r.approvedOn);
        v("taught_by", r.taughtBy);
        v("taught_on", r.taughtOn);
        v("from_on", r.from);
        v("revert_on", r.revertOn);
        v("reverted_on", r.revertedOn);
        v("note", r.note);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<ShortageAction> {
    static constexpr const char *table = "shortage_action";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("item_id", r.item);
        v("catheter_id", r.catheter);
        v("action", r.action);
        v("owner", r.owner);
        v("opened_at", r.openedAt);
        v("outcome", r.outcome);
        v("closed_at", r.closedAt);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<HomeReturn> {
    static constexpr const char *table = "home_return";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("catheter_id", r.catheter);
        v("item_id", r.item);
        v("lot_id", r.lot);
        v("at", r.at);
        v("quantity", r.quantity);
        v("sealed", r.sealed);
        v("disposition", r.disposition);
        v("write_off_minor", r.writeOff);
        v("decided_by", r.decidedBy);
        v("note", r.note);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<CarPar> {
    static constexpr const char *table = "car_par";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("nurse_id", r.nurse);
        v("item_id", r.item);
        v("par", r.par);
    }
    template <class V, class R>
    static void lists(V &, R &) {}
};

template <>
struct Mapping<Supplier> {
    static constexpr const char *table = "supplier";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("code", r.code);
        v("name", r.name);
        v("contact", r.contact);
        v("promised_lead_days", r.promisedLead);
        v("promised_lead_spread_days", r.promisedLeadSpread);
        v("order_days", r.orderDays);
        v("cut_off_min", r.cutOff);
        v("least_order_minor", r.leastOrder);
        v("is_active", r.isActive);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("supplier_closed_day", r.closedOn, [](auto &c, auto &day) { c("closed_on", day); });
    }
};

template <>
struct Mapping<SupplierItem> {
    static constexpr const char *table = "supplier_item";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("supplier_id", r.supplier);
        v("item_id", r.item);
        v("supplier_code", r.supplierCode);
        v("eaches_per_case", r.pack);
        v("price_minor", r.perCase);
        v("least_line_cases", r.leastLine);
        v("is_preferred", r.isPreferred);
        v("backordered_until_on", r.backorderedUntil);
        v("is_discontinued", r.isDiscontinued);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("supplier_item_break", r.breaks, [](auto &c, auto &step) {
            c("break_from_cases", step.from);
            c("break_price_minor", step.perCase);
        });
    }
};

template <>
struct Mapping<PurchaseOrder> {
    static constexpr const char *table = "purchase_order";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("number", r.number);
        v("supplier_id", r.supplier);
        v("status", r.status);
        v("ordered_on", r.orderedOn);
        v("expected_on", r.expectedOn);
        v("note", r.note);
        v("approved_by", r.approvedBy);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("purchase_line", r.lines, [](auto &c, auto &line) {
            c("item_id", line.item);
            c("cases", line.cases);
            c("eaches_per_case", line.pack);
            c("price_minor", line.perCase);
            c("received", line.received);
            c("backordered_until_on", line.backorderedUntil);
            c("reason", line.reason);
        });
    }
};

template <>
struct Mapping<Receipt> {
    static constexpr const char *table = "receipt";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("purchase_order_id", r.order);
        v("supplier_id", r.supplier);
        v("at", r.at);
        v("packing_slip", r.packingSlip);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("receipt_line", r.lines, [](auto &c, auto &line) {
            c("item_id", line.item);
            c("lot_id", line.lot);
            c("quantity", line.quantity);
            c("damaged", line.damaged);
        });
    }
};

template <>
struct Mapping<MonthClose> {
    static constexpr const char *table = "month_close";
    template <class V, class R>
    static void columns(V &v, R &r) {
        v("month_on", r.month);
        v("is_closed", r.isClosed);
        v("closed_by", r.closedBy);
        v("closed_at", r.closedAt);
        v("reopen_reason", r.reopenReason);
        v("patient_days", r.patientDays);
    }
    template <class V, class R>
    static void lists(V &v, R &r) {
        v.list("month_close_line", r.lines, [](auto &c, auto &line) {
            c("item_id", line.item);
            c("opening", line.opening);
            c("received", line.received);
            c("returned", line.returned);
            c("issued", line.issued);
            c("used", line.used);
            c("wasted", line.wasted);
            c("adjusted", line.adjusted);
            c("closing", line.closing);
            c("expired", line.expired);
            c("home_used", line.homeUsed);
            c("home_wasted", line.homeWasted);
            c("expired_on_hand", line.expiredOnHand);
            c("price_minor", line.perCase);
            c("eaches_per_case", line.pack);
            c("price_source", line.price);
        });
    }
};

} // namespace kitround::store
