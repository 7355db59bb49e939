// Articles, suppliers and every way stock goes, made up.
#include "tests/core/store/World.h"

#include <tuple>

namespace kitround::store {

void WorldBuilder::fill(Item &i) {
    i.code = code();
    i.name = word();
    i.kind = any<ItemKind>(4);
    i.bottleVolume.reset();
    if (i.kind == ItemKind::Kit || i.kind == ItemKind::Bottle)
        i.bottleVolume = Millilitres::of(flip() ? 500 : 1000);
    i.gtin.clear();
    if (flip()) {
        i.gtin = std::to_string(1'000'000'000'000 + ++codes_);
        int sum = 0;
        for (std::size_t at = 0; at < 13; ++at)
            sum += (i.gtin[at] - '0') * (at % 2 == 0 ? 3 : 1);
        i.gtin += std::to_string((10 - sum % 10) % 10);
    }
    i.connector = flip() ? "fit B" : "";
    i.contains = someOf<Material>(4);
    i.contents.clear();
    i.substitutes.clear();
    for (const Item &other : world_.items)
        if (other.id != i.id && i.contents.size() < 3 && flip()) {
            i.contents.push_back({other.id, Eaches::of(number(1, 9))});
            i.substitutes.push_back({other.id, Eaches::of(number(1, 3))});
        }
    i.casePack = {Eaches::of(number(1, 20))};
    i.sendWholeCases = flip();
    i.unitVolumeMl = number(0, 9000);
    i.shelfLife = maybe([&] { return Days::of(number(1, 1000)); });
    i.leastLifeOnReceipt = Days::of(number(0, 300));
    i.leastLifeToHome = Days::of(number(0, 100));
    i.stockClass = any<StockClass>(3);
    i.serviceLevelPermille = maybe([&] { return number(500, 999); });
    i.isActive = flip();
}
void WorldBuilder::fill(Lot &l) {
    if (!l.id.isSet())
        l.item = pick(world_.items).id; // movements hold a lot to its item
    l.number = code();
    l.expiresOn = maybe([&] { return day(); });
    l.state = any<LotState>(3);
    l.stateReason = text();
    l.isPickedFirst = flip();
}
void WorldBuilder::fill(Supplier &s) {
    s.code = code();
    s.name = word();
    s.contact = text();
    s.promisedLead = Days::of(number(0, 30));
    s.promisedLeadSpread = Days::of(number(0, 10));
    s.orderDays = WeekdaySet::fromBits(unsigned(number(1, 127)));
    s.cutOff = Minutes::of(number(0, 1439));
    s.leastOrder = Money::of(number(0, 100000));
    s.closedOn = {};
    if (flip())
        s.closedOn = {Date::of(2026, 12, 25), Date::of(2026, 7, 3)};
    s.isActive = flip();
}
void WorldBuilder::fill(SupplierItem &s) {
    s.supplier = pick(world_.suppliers).id;
    s.item = pick(world_.items).id;
    s.supplierCode = code();
    s.pack = {Eaches::of(number(1, 40))};
    s.perCase = Money::of(number(0, 100000));
    s.breaks.clear();
    if (flip())
        s.breaks = {{Cases::of(5), Money::of(900)}, {Cases::of(20), Money::of(800)}};
    s.leastLine = Cases::of(number(1, 9));
    s.isPreferred = flip();
    s.backorderedUntil = maybe([&] { return day(); });
    s.isDiscontinued = flip();
}
void WorldBuilder::fill(RefillContact &c) {
    c.patient = pick(world_.patients).id;
    c.at = moment();
    c.answeredBy = text();
    c.answer = any<RefillAnswer>(3);
    c.reasonForNeed = text();
    c.note = text();
}
void WorldBuilder::fill(Delivery &d) {
    d.patient = pick(world_.patients).id;
    d.status = any<DeliveryStatus>(5);
    d.way = any<DeliveryWay>(2);
    d.carriedBy = maybe([&] { return pick(world_.nurses).id; });
    d.visit = maybe([&] { return pick(world_.visits).id; });
    d.promisedFor = day();
    d.deliverBy = maybe([&] { return day(); });
    d.shippedAt = maybe([&] { return moment(); });
    d.deliveredAt.reset();
    if (d.status == DeliveryStatus::Delivered)
        d.deliveredAt = LocalTime{Date::of(2027, 1, 2), Minutes::of(number(0, 1439))};
    d.trackingNumber = text();
    d.receivedBy = text();
    d.receiverRelation = text();
    d.cancelReason = text();
    d.lines.clear();
    for (std::int64_t i = number(1, 4); i > 0; --i) {
        const auto [item, lot] = itemAndLot();
        d.lines.push_back({pick(world_.catheters).id, item, lot, Eaches::of(number(3, 30))});
        if (d.status != DeliveryStatus::Delivered)
            continue;
        d.lines.back().damaged = Eaches::of(number(0, 2));
        d.lines.back().missing = Eaches::of(number(0, 1));
    }
    d.contact = maybe([&] { return pick(world_.refillContacts).id; });
}
void WorldBuilder::fill(RecallOutcome &o) {
    o.lot = pick(world_.lots).id;
    o.catheter = pick(world_.catheters).id;
    o.at = moment();
    o.toldBy = word();
    o.answer = any<RecallAnswer>(5);
    o.spokeWith = isReached(o.answer) ? word() : text();
    o.setAside = Eaches::of(o.answer == RecallAnswer::SetAside ? number(0, 20) : 0);
    o.replaced = Eaches::of(number(0, 20));
    o.note = text();
}
void WorldBuilder::fill(Substitution &s) {
    s.catheter = pick(world_.catheters).id;
    s.item = pick(world_.items).id;
    do
        s.standIn = pick(world_.items).id;
    while (s.standIn == s.item);
    s.approver = any<Approver>(2);
    s.approvedBy = word();
    s.approvedOn = day();
    s.taughtBy = word();
    s.taughtOn = s.approvedOn;
    s.from = s.approvedOn.plusDays(number(0, 5));
    s.revertOn = s.from.plusDays(number(1, 60));
    s.revertedOn = maybe([&] { return s.from.plusDays(number(0, 80)); });
    s.note = text();
}
void WorldBuilder::fill(ShortageAction &a) {
    a.item = pick(world_.items).id;
    a.catheter = maybe([&] { return pick(world_.catheters).id; });
    a.action = word();
    a.owner = word();
    a.openedAt = moment();
    a.outcome = word();
    a.closedAt = maybe([&] { return LocalTime{a.openedAt.date.plusDays(1), Minutes::of(9)}; });
}
void WorldBuilder::fill(HomeReturn &r) {
    std::tie(r.item, r.lot) = itemAndLot();
    r.catheter = pick(world_.catheters).id;
    r.at = moment();
    r.quantity = Eaches::of(number(1, 20));
    r.sealed = Eaches::of(number(0, r.quantity.count()));
    r.disposition = any<Disposition>(4);
    r.writeOff = Money::of(number(0, 50'000));
    r.decidedBy = word();
    r.note = text();
}
void WorldBuilder::fill(CarPar &p) {
    if (!p.id.isSet()) { // one a nurse and item: each item is given out once
        p.item = world_.items[world_.carPars.size()].id;
        p.nurse = pick(world_.nurses).id;
    }
    p.par = Eaches::of(number(0, 30));
}
void WorldBuilder::fill(PurchaseOrder &o) {
    o.number = code();
    o.supplier = pick(world_.suppliers).id;
    o.status = any<PurchaseStatus>(5);
    o.orderedOn = day();
    o.expectedOn = maybe([&] { return o.orderedOn->plusDays(number(0, 20)); });
    o.lines.clear();
    for (std::int64_t i = number(1, 4); i > 0; --i)
        o.lines.push_back({pick(world_.items).id,
                           Cases::of(number(1, 20)),
                           {Eaches::of(number(1, 20))},
                           Money::of(number(0, 9999)),
                           Eaches::of(number(0, 50)),
                           maybe([&] { return day(); }),
                           text()});
    o.note = text();
    o.approvedBy = text();
}
void WorldBuilder::fill(Receipt &r) {
    r.order = maybe([&] { return pick(world_.purchaseOrders).id; });
    r.supplier = pick(world_.suppliers).id;
    r.at = moment();
    r.packingSlip = text();
    r.lines.clear();
    for (std::int64_t i = number(1, 4); i > 0; --i) {
        const Lot &lot = pick(world_.lots);
        const std::int64_t quantity = number(1, 100);
        r.lines.push_back({lot.item, lot.id, Eaches::of(quantity), Eaches::of(number(0, quantity))});
    }
}
// Months long before every movement, so that none of those is refused.
void WorldBuilder::fill(MonthClose &m) {
    if (!m.id.isSet())
        m.month =
            monthOf(Date::of(2001, 1, 1).plusDays(31 * static_cast<std::int64_t>(world_.monthCloses.size())));
    m.isClosed = flip();
    m.closedBy = word();
    m.closedAt = moment();
    m.reopenReason = m.isClosed ? text() : word();
    m.patientDays = number(0, 2000);
    m.lines.clear();
    for (std::int64_t i = number(1, 4); i > 0; --i) {
        MonthLine line;
        line.item = pick(world_.items).id;
        for (Eaches *count :
             {&line.opening, &line.received, &line.returned, &line.issued, &line.used, &line.wasted,
              &line.adjusted, &line.expired, &line.homeUsed, &line.homeWasted, &line.expiredOnHand})
            *count = Eaches::of(number(-5, 90));
        line.closing = line.opening + line.received - line.returned - line.issued - line.used - line.wasted +
                       line.adjusted;
        line.perCase = Money::of(number(0, 9999));
        line.pack = {Eaches::of(number(1, 20))};
        line.price = any<PriceSource>(3);
        m.lines.push_back(line);
    }
}
Place WorldBuilder::place() {
    switch (any<PlaceKind>(10)) {
    case PlaceKind::Supplier:
        return flip() ? Place::supplier(pick(world_.suppliers).id) : Place{PlaceKind::Supplier, 0};
    case PlaceKind::Storeroom:
        return Place::storeroom();
    case PlaceKind::Quarantine:
        return Place::quarantine();
    case PlaceKind::Car:
        return Place::car(pick(world_.nurses).id);
    case PlaceKind::Transit:
        return Place::transit(pick(world_.deliveries).id);
    case PlaceKind::Home:
        return Place::home(pick(world_.catheters).id);
    case PlaceKind::Used:
        return Place::used(pick(world_.drainEntries).id);
    case PlaceKind::Wasted:
        return flip() ? Place::wasted() : Place{PlaceKind::Wasted, pick(world_.drainEntries).id.value()};
    case PlaceKind::Returned:
        return Place::returned();
    default:
        return Place::variance();
    }
}
void WorldBuilder::fill(StockMovement &m) {
    m.at = moment();
    std::tie(m.item, m.lot) = itemAndLot();
    m.quantity = Eaches::of(number(1, 40));
    do {
        m.from = place();
        m.to = place();
    } while (m.from == m.to || (!isInside(m.from.kind) && !isInside(m.to.kind)));
    m.reason = any<MovementReason>(10);
    m.delivery = maybe([&] { return pick(world_.deliveries).id; });
    m.receipt = maybe([&] { return pick(world_.receipts).id; });
    m.undoes.reset();
    if (!world_.movements.empty() && flip())
        m.undoes = pick(world_.movements).id;
    m.note = text();
}
} // namespace kitround::store
