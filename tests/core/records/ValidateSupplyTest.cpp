#include "tests/core/records/BadRecords.h"

namespace kitround {
namespace {

using test::expectAllowed;
using test::expectEachNamed;
using enum ProblemCode;

const Date kDay = Date::of(2026, 3, 2);
const LocalTime kNine{kDay, Minutes::of(540)};

TEST(ValidateTest, Item) {
    Item good;
    good.id = ItemId(7);
    good.code = "KIT-500";
    good.name = "Kit with a 500 mL bottle";
    good.bottleVolume = Millilitres::of(500);
    good.gtin = "19521234000003"; // prefix 952 is kept by GS1 for examples
    good.contents = {{ItemId(8), Eaches::of(1)}};
    expectEachNamed<Item>(
        good,
        {
            {"no code", [](Item &i) { i.code.clear(); }, Missing, "code"},
            {"no name", [](Item &i) { i.name.clear(); }, Missing, "name"},
            {"kit without a bottle", [](Item &i) { i.bottleVolume.reset(); }, Missing, "bottle_volume_ml"},
            {"dressing that holds fluid", [](Item &i) { i.kind = ItemKind::Dressing; }, Conflict,
             "bottle_volume_ml"},
            {"thimble", [](Item &i) { i.bottleVolume = Millilitres::of(5); }, OutOfRange, "bottle_volume_ml"},
            {"13 digits", [](Item &i) { i.gtin = "9521234000006"; }, OutOfRange, "gtin"},
            {"letters", [](Item &i) { i.gtin = "1952123400000A"; }, NotANumber, "gtin"},
            {"wrong check digit", [](Item &i) { i.gtin = "19521234000004"; }, Conflict, "gtin"},
            {"digits swapped", [](Item &i) { i.gtin = "91521234000003"; }, Conflict, "gtin"},
            {"holds itself", [](Item &i) { i.contents[0].item = i.id; }, Conflict, "contents", 1},
            {"holds none of it", [](Item &i) { i.contents[0].count = Eaches::of(0); }, OutOfRange, "contents",
             1},
            {"stands in for itself",
             [](Item &i) {
                 i.substitutes = {{i.id, Eaches::of(1)}};
             },
             Conflict, "substitutes", 1},
            {"empty case", [](Item &i) { i.casePack.eachesPerCase = Eaches::of(0); }, OutOfRange,
             "eaches_per_case"},
            {"negative size", [](Item &i) { i.unitVolumeMl = -1; }, Negative, "unit_volume_ml"},
            {"always there", [](Item &i) { i.serviceLevelPermille = 1000; }, OutOfRange,
             "service_level_permille"},
            {"no life", [](Item &i) { i.shelfLife = Days::of(0); }, OutOfRange, "shelf_life_days"},
            {"negative life", [](Item &i) { i.leastLifeToHome = Days::of(-1); }, Negative,
             "least_life_to_home_days"},
        });
    expectAllowed<Item>(good, "no article number", [](Item &i) { i.gtin.clear(); });
}

TEST(ValidateTest, LotAndHomeCountAndContact) {
    Lot lot;
    lot.item = ItemId(1);
    lot.number = "A1";
    expectEachNamed<Lot>(lot, {
                                  {"no number", [](Lot &l) { l.number.clear(); }, Missing, "number"},
                                  {"no item", [](Lot &l) { l.item = {}; }, Missing, "item_id"},
                              });
    HomeCount count;
    count.catheter = CatheterId(1);
    count.item = ItemId(1);
    count.at = kNine;
    expectEachNamed<HomeCount>(
        count, {
                   {"negative", [](HomeCount &c) { c.counted = Eaches::of(-1); }, Negative, "counted"},
                   {"a lorry", [](HomeCount &c) { c.counted = Eaches::of(10001); }, OutOfRange, "counted"},
                   {"no item", [](HomeCount &c) { c.item = {}; }, Missing, "item_id"},
               });
    expectAllowed<HomeCount>(count, "none left", [](HomeCount &c) { c.counted = Eaches::of(0); });
    RefillContact contact;
    contact.patient = PatientId(1);
    contact.at = kNine;
    expectEachNamed<RefillContact>(
        contact, {{"of nobody", [](RefillContact &c) { c.patient = {}; }, Missing, "patient_id"}});
}

TEST(ValidateTest, StockMovement) {
    StockMovement good;
    good.at = kNine;
    good.item = ItemId(1);
    good.quantity = Eaches::of(10);
    good.from = Place::storeroom();
    good.to = Place::home(CatheterId(1));
    expectEachNamed<StockMovement>(
        good,
        {
            {"nothing", [](StockMovement &m) { m.quantity = Eaches::of(0); }, OutOfRange, "quantity"},
            {"backwards", [](StockMovement &m) { m.quantity = Eaches::of(-5); }, OutOfRange, "quantity"},
            {"on the spot", [](StockMovement &m) { m.to = m.from; }, Conflict, "to_place"},
            {"outside to outside",
             [](StockMovement &m) {
                 m.from = Place::variance();
                 m.to = Place::wasted();
             },
             Conflict, "to_place"},
            {"to no home",
             [](StockMovement &m) {
                 m.to = {PlaceKind::Home, 0};
             },
             Missing, "to_place"},
            {"from storeroom 3",
             [](StockMovement &m) {
                 m.from = {PlaceKind::Storeroom, 3};
             },
             Conflict, "from_place"},
            {"undoes itself",
             [](StockMovement &m) {
                 m.id = MovementId(2);
                 m.undoes = MovementId(2);
             },
             Conflict, "undoes"},
        });
}

TEST(ValidateTest, Delivery) {
    Delivery good;
    good.patient = PatientId(1);
    good.promisedFor = kDay;
    good.lines = {{CatheterId(1), ItemId(1), std::nullopt, Eaches::of(10)}};
    expectEachNamed<Delivery>(
        good,
        {
            {"nothing to bring", [](Delivery &d) { d.lines.clear(); }, Missing, "lines"},
            {"none of it", [](Delivery &d) { d.lines[0].quantity = Eaches::of(0); }, OutOfRange, "quantity",
             1},
            {"for no catheter", [](Delivery &d) { d.lines[0].catheter = {}; }, Missing, "catheter_id", 1},
            {"arrived at no time", [](Delivery &d) { d.status = DeliveryStatus::Delivered; }, Missing,
             "delivered_at"},
            {"arrived but only promised", [](Delivery &d) { d.deliveredAt = kNine; }, Conflict,
             "delivered_at"},
            {"damaged before it arrived", [](Delivery &d) { d.lines[0].damaged = Eaches::of(1); }, OutOfRange,
             "damaged", 1},
            {"more missing than packed",
             [](Delivery &d) {
                 d.status = DeliveryStatus::Delivered;
                 d.deliveredAt = kNine;
                 d.lines[0].damaged = Eaches::of(8);
                 d.lines[0].missing = Eaches::of(3);
             },
             OutOfRange, "missing", 1},
            {"arrived before it left",
             [](Delivery &d) {
                 d.status = DeliveryStatus::Delivered;
                 d.shippedAt = kNine;
                 d.deliveredAt = LocalTime{kDay, Minutes::of(500)};
             },
             EndBeforeStart, "delivered_at"},
        });
    expectAllowed<Delivery>(good, "cancelled and emptied", [](Delivery &d) {
        d.status = DeliveryStatus::Cancelled;
        d.lines.clear();
    });
}

TEST(ValidateTest, Supplier) {
    Supplier good;
    good.code = "S1";
    good.name = "Example supplier";
    expectEachNamed<Supplier>(
        good,
        {
            {"no code", [](Supplier &s) { s.code.clear(); }, Missing, "code"},
            {"no order days", [](Supplier &s) { s.orderDays = {}; }, Missing, "order_days"},
            {"negative lead", [](Supplier &s) { s.promisedLead = Days::of(-1); }, OutOfRange,
             "promised_lead_days"},
            {"cut-off at 25:00", [](Supplier &s) { s.cutOff = Minutes::of(1500); }, OutOfRange, "cut_off"},
            {"negative minimum", [](Supplier &s) { s.leastOrder = Money::of(-1); }, Negative,
             "least_order_minor"},
            {"closed twice",
             [](Supplier &s) {
                 s.closedOn = {kDay, kDay};
             },
             Duplicate, "closed_on", 2},
        });
}

TEST(ValidateTest, SupplierItem) {
    SupplierItem good;
    good.supplier = SupplierId(1);
    good.item = ItemId(1);
    good.breaks = {{Cases::of(5), Money::of(900)}, {Cases::of(10), Money::of(800)}};
    expectEachNamed<SupplierItem>(
        good,
        {
            {"of nobody", [](SupplierItem &s) { s.supplier = {}; }, Missing, "supplier_id"},
            {"empty case", [](SupplierItem &s) { s.pack.eachesPerCase = Eaches::of(0); }, OutOfRange,
             "eaches_per_case"},
            {"paid to take it", [](SupplierItem &s) { s.perCase = Money::of(-1); }, Negative, "price_minor"},
            {"breaks out of order", [](SupplierItem &s) { s.breaks[1].from = Cases::of(5); }, Conflict,
             "break_from_cases", 2},
            {"break from nothing", [](SupplierItem &s) { s.breaks[0].from = Cases::of(0); }, OutOfRange,
             "break_from_cases", 1},
            {"no least line", [](SupplierItem &s) { s.leastLine = Cases::of(0); }, OutOfRange,
             "least_line_cases"},
        });
}

TEST(ValidateTest, PurchaseOrder) {
    PurchaseOrder good;
    good.number = "PO-1";
    good.supplier = SupplierId(1);
    good.status = PurchaseStatus::Sent;
    good.orderedOn = kDay;
    good.expectedOn = kDay.plusDays(5);
    PurchaseLine line;
    line.item = ItemId(1);
    line.cases = Cases::of(2);
    good.lines = {line};
    expectEachNamed<PurchaseOrder>(
        good,
        {
            {"sent without a number", [](PurchaseOrder &o) { o.number.clear(); }, Missing, "number"},
            {"long number", [](PurchaseOrder &o) { o.number.assign(41, '1'); }, TooLong, "number"},
            {"sent on no day", [](PurchaseOrder &o) { o.orderedOn.reset(); }, Missing, "ordered_on"},
            {"sent empty", [](PurchaseOrder &o) { o.lines.clear(); }, Missing, "lines"},
            {"expected before", [](PurchaseOrder &o) { o.expectedOn = kDay.plusDays(-1); }, EndBeforeStart,
             "expected_on"},
            {"no cases", [](PurchaseOrder &o) { o.lines[0].cases = Cases::of(0); }, OutOfRange, "cases", 1},
            {"negative price", [](PurchaseOrder &o) { o.lines[0].perCase = Money::of(-1); }, Negative,
             "price_minor", 1},
            {"negative receipt", [](PurchaseOrder &o) { o.lines[0].received = Eaches::of(-1); }, Negative,
             "received", 1},
        });
    expectAllowed<PurchaseOrder>(good, "more arrived than was ordered",
                                 [](PurchaseOrder &o) { o.lines[0].received = Eaches::of(3); });
    expectAllowed<PurchaseOrder>(good, "an empty draft", [](PurchaseOrder &o) {
        o = PurchaseOrder{};
        o.supplier = SupplierId(1);
    });
}

TEST(ValidateTest, Receipt) {
    Receipt good;
    good.supplier = SupplierId(1);
    good.at = kNine;
    good.lines = {{ItemId(1), LotId(1), Eaches::of(10), Eaches::of(1)}};
    expectEachNamed<Receipt>(
        good, {
                  {"nothing arrived", [](Receipt &r) { r.lines.clear(); }, Missing, "lines"},
                  {"no lot", [](Receipt &r) { r.lines[0].lot = {}; }, Missing, "lot_id", 1},
                  {"none of it",
                   [](Receipt &r) {
                       r.lines[0] = {ItemId(1), LotId(1), {}, {}};
                   },
                   OutOfRange, "quantity", 1},
                  {"more broken than came", [](Receipt &r) { r.lines[0].damaged = Eaches::of(11); },
                   OutOfRange, "damaged", 1},
                  {"negative damage", [](Receipt &r) { r.lines[0].damaged = Eaches::of(-1); }, Negative,
                   "damaged", 1},
              });
}

} // namespace
} // namespace kitround
