#include "sample-db/TextParts.h"

#include <algorithm>
#include <charconv>

namespace kitround::sample {
namespace {

constexpr std::pair<std::string_view, ItemKind> kKinds[] = {{"kit", ItemKind::Kit},
                                                            {"bottle", ItemKind::Bottle},
                                                            {"dressing", ItemKind::Dressing},
                                                            {"other", ItemKind::Other}};
constexpr std::pair<std::string_view, StockClass> kClasses[] = {
    {"A", StockClass::A}, {"B", StockClass::B}, {"C", StockClass::C}};
constexpr std::pair<std::string_view, LotState> kLotStates[] = {
    {"usable", LotState::Usable}, {"quarantined", LotState::Quarantined}, {"recalled", LotState::Recalled}};
constexpr std::pair<std::string_view, PurchaseStatus> kPurchaseStates[] = {
    {"draft", PurchaseStatus::Draft},
    {"sent", PurchaseStatus::Sent},
    {"partly", PurchaseStatus::PartlyReceived},
    {"received", PurchaseStatus::Received},
    {"cancelled", PurchaseStatus::Cancelled}};

// Items may name items further down, so codes come first.
void readItems(TextReading &r) {
    const TextTable table = r.table("items.csv");
    std::int64_t next = 0;
    for (const TextRow &row : table.rows())
        r.items[row.text("code")] = ItemId(++next);
    for (const TextRow &row : table.rows()) {
        Item item;
        item.code = row.text("code");
        item.name = row.text("name");
        item.kind = row.choice<ItemKind>("kind", kKinds, ItemKind::Other);
        if (row.has("ml"))
            item.bottleVolume = Millilitres::of(row.number("ml"));
        item.gtin = row.text("gtin");
        item.connector = row.text("connector");
        for (const std::string &word : row.list("contains"))
            item.contains.push_back(row.choiceOf<Material>(word, "contains", kMaterials, Material::Latex));
        for (const auto &[code, count] : countedWords(row, "contents"))
            item.contents.push_back({row.known(r.items, code, "contents"), Eaches::of(count)});
        for (const auto &[code, count] : countedWords(row, "substitutes"))
            item.substitutes.push_back({row.known(r.items, code, "substitutes"), Eaches::of(count)});
        item.casePack = {Eaches::of(row.number("pack", 1))};
        item.sendWholeCases = row.yes("whole_cases");
        item.unitVolumeMl = row.number("unit_ml");
        if (row.has("shelf_days"))
            item.shelfLife = Days::of(row.number("shelf_days"));
        item.stockClass = row.choice<StockClass>("class", kClasses, StockClass::B);
        added(r.parts.scenario.items, std::move(item));
    }
}

void readSuppliers(TextReading &r) {
    const TextTable table = r.table("suppliers.csv");
    for (const TextRow &row : table.rows()) {
        Supplier supplier;
        supplier.code = row.text("code");
        supplier.name = row.text("name");
        supplier.contact = row.text("contact");
        supplier.promisedLead = Days::of(row.number("lead_days", 5));
        supplier.promisedLeadSpread = Days::of(row.number("lead_spread", 2));
        supplier.orderDays = row.days("order_days");
        supplier.cutOff = row.clock("cut_off");
        supplier.leastOrder = Money::of(row.number("least_order_cents"));
        for (const std::string &word : row.list("closed", ';')) {
            if (const auto day = relativeDate(word, r.today))
                supplier.closedOn.push_back(*day);
            else
                row.fault(ProblemCode::NotADate, "closed", word);
        }
        const std::string code = supplier.code;
        r.suppliers[code] = added(r.parts.scenario.suppliers, std::move(supplier)).id;
    }
    const TextTable offers = r.table("offers.csv");
    for (const TextRow &row : offers.rows()) {
        SupplierItem offer;
        offer.supplier = row.ref(r.suppliers, "supplier");
        offer.item = row.ref(r.items, "item");
        offer.supplierCode = row.text("code");
        offer.pack = {Eaches::of(row.number("pack", 1))};
        offer.perCase = Money::of(row.number("case_cents"));
        if (row.has("break_from"))
            offer.breaks.push_back(
                {Cases::of(row.number("break_from")), Money::of(row.number("break_cents"))});
        offer.leastLine = Cases::of(row.number("least_cases", 1));
        offer.isPreferred = row.yes("preferred");
        offer.backorderedUntil = row.maybeDate("backordered_until");
        offer.isDiscontinued = row.yes("discontinued");
        added(r.parts.scenario.supplierItems, std::move(offer));
    }
}

void readLots(TextReading &r) {
    const TextTable table = r.table("lots.csv");
    for (const TextRow &row : table.rows()) {
        Lot lot;
        lot.item = row.ref(r.items, "item");
        lot.number = row.text("number");
        lot.expiresOn = row.maybeDate("expires");
        lot.state = row.choice<LotState>("state", kLotStates, LotState::Usable);
        lot.stateReason = row.text("reason");
        const std::string number = lot.number;
        const LotId id = added(r.parts.scenario.lots, std::move(lot)).id;
        r.lots[number] = id;
        if (const auto on = row.maybeDate("withdrawn_on"))
            r.parts.history.withdrawals.push_back({id, *on});
    }
}

// The rows of one order stand together; a row is a line, or a further part of it that came in another lot.
void readPurchases(TextReading &r) {
    const TextTable table = r.table("purchases.csv");
    auto &orders = r.parts.scenario.purchaseOrders;
    std::vector<Arrival> &all = r.parts.history.arrivals;
    for (const TextRow &row : table.rows()) {
        const std::string number = row.text("number");
        const SupplierId supplier = row.ref(r.suppliers, "supplier");
        const ItemId item = row.ref(r.items, "item");
        const bool isOrder = number != "opening";
        if (isOrder && (orders.empty() || orders.back().number != number)) {
            PurchaseOrder order;
            order.number = number;
            order.supplier = supplier;
            order.status = row.choice<PurchaseStatus>("status", kPurchaseStates, PurchaseStatus::Received);
            order.orderedOn = row.maybeDate("ordered");
            order.expectedOn = row.maybeDate("expected");
            order.note = row.text("note");
            added(orders, std::move(order));
        }
        const Eaches quantity = Eaches::of(row.number("eaches"));
        if (isOrder && row.has("cases")) {
            const auto &offers = r.parts.scenario.supplierItems;
            const auto offer = std::ranges::find_if(
                offers, [&](const SupplierItem &o) { return o.supplier == supplier && o.item == item; });
            if (offer == offers.end()) {
                row.fault(ProblemCode::UnknownRecord, "item", row.text("item"));
                continue;
            }
            orders.back().lines.push_back({item, Cases::of(row.number("cases")), offer->pack, offer->perCase,
                                           quantity, row.maybeDate("backordered_until"), ""});
        } else if (isOrder) {
            orders.back().lines.back().received += quantity;
        }
        if (!row.has("received_on"))
            continue;
        const Date on = row.date("received_on");
        const std::optional<PurchaseOrderId> id = isOrder ? std::optional(orders.back().id) : std::nullopt;
        const ArrivalLine line{item, row.ref(r.lots, "lot"), quantity, Eaches::of(row.number("damaged"))};
        if (all.empty() || all.back().on != on || all.back().order != id || all.back().supplier != supplier)
            all.push_back({on, id, supplier, {}});
        all.back().lines.push_back(line);
    }
}

void readCars(TextReading &r) {
    const TextTable table = r.table("cars.csv");
    for (const TextRow &row : table.rows()) {
        const NurseId nurse = row.ref(r.nurses, "nurse");
        const ItemId item = row.ref(r.items, "item");
        if (const Eaches carried = Eaches::of(row.number("count", 1)); carried.count() > 0)
            r.parts.history.cars.push_back({nurse, item, carried});
        if (row.has("par")) {
            CarPar par;
            par.nurse = nurse;
            par.item = item;
            par.par = Eaches::of(row.number("par"));
            added(r.parts.scenario.carPars, std::move(par));
        }
    }
}

} // namespace

std::vector<std::pair<std::string, std::int64_t>> countedWords(const TextRow &row, std::string_view column) {
    std::vector<std::pair<std::string, std::int64_t>> found;
    for (const std::string &word : row.list(column)) {
        const auto parts = words(word, '*');
        std::int64_t count = 1;
        if (parts.size() == 2) {
            const char *end = parts[1].data() + parts[1].size();
            if (std::from_chars(parts[1].data(), end, count).ptr != end)
                row.fault(ProblemCode::NotANumber, column, word);
        }
        found.emplace_back(parts.empty() ? "" : parts[0], count);
    }
    return found;
}

void readStock(TextReading &reading) {
    readItems(reading);
    readSuppliers(reading);
    readLots(reading);
    readPurchases(reading);
    readCars(reading);
}

} // namespace kitround::sample
