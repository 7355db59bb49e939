// Nurses with their weekly shifts, items with who sells them, and the stock an agency begins with.
#include "core/exchange/ListRow.h"
#include "core/records/Validate.h"

#include <algorithm>
#include <cmath>

namespace kitround::exchange {
namespace {

constexpr ListColumn kNurseWho[] = {{"code", true},
                                    {"family_name", true},
                                    {"given_name"},
                                    {"phone"},
                                    {"credential", true, kListWords<Credential>},
                                    {"gender", false, kListWords<Gender>},
                                    {"languages"},
                                    {"skills", false, kListWords<Skill>}};
constexpr ListColumn kNurseWork[] = {{"starts_at_storeroom", false, kYesNo},
                                     {"contract_hours", true},
                                     {"most_visits_a_day"},
                                     {"car_space_ml"},
                                     {"overtime_exempt", false, kYesNo},
                                     {"shift_weekdays", false, kListWords<Weekday>},
                                     {"shift_from"},
                                     {"shift_to"},
                                     {"break_min"},
                                     {"break_from"},
                                     {"break_to"}};
constexpr auto kNurseColumns = joinedColumns(kNurseWho, kAddressColumns, kNurseWork);

constexpr ListColumn kItemColumns[] = {{"code", true},
                                       {"name", true},
                                       {"kind", true, kListWords<ItemKind>},
                                       {"bottle_volume_ml"},
                                       {"gtin"},
                                       {"connector"},
                                       {"contains", false, kListWords<Material>},
                                       {"eaches_per_case", true},
                                       {"send_whole_cases", false, kYesNo},
                                       {"unit_volume_ml"},
                                       {"shelf_life_days"},
                                       {"least_life_on_receipt_days"},
                                       {"least_life_to_home_days"},
                                       {"stock_class", false, kListWords<StockClass>},
                                       {"supplier"},
                                       {"supplier_code"},
                                       {"price_per_case"}};

constexpr ListColumn kCountColumns[] = {{"place", true, kListWords<CountPlace>},
                                        {"patient"},
                                        {"site", false, kListWords<CavitySite>},
                                        {"item", true},
                                        {"lot"},
                                        {"expires_on"},
                                        {"quantity", true},
                                        {"counted_on", true}};

// "drain_chest; teach@2027-01-31": with the last day on which a skill counts, as the nurse's form says it.
std::vector<SkillGrant> readGrants(ListRow &row) {
    std::vector<SkillGrant> grants;
    for (const std::string &part : row.parts("skills")) {
        const std::size_t at = std::min(part.find('@'), part.size());
        SkillGrant grant;
        const auto skill = row.choiceIn<Skill>("skills", part.substr(0, at));
        if (at < part.size()) {
            const std::string day = trimmed(std::string_view(part).substr(at + 1));
            if (const auto last = Date::fromIso(day))
                grant.expiresOn = last->plusDays(1);
            else
                row.fault(ProblemCode::NotADate, "skills", {day});
        }
        if (skill) {
            grant.skill = *skill;
            grants.push_back(grant);
        }
    }
    return grants;
}

std::vector<ShiftPattern> readShifts(ListRow &row, Date today) {
    if (!row.hasAny({"shift_weekdays", "shift_from", "shift_to", "break_min", "break_from", "break_to"}))
        return {};
    ShiftPattern shift;
    (void)row.needed("shift_from");
    (void)row.needed("shift_to");
    shift.from = row.clock("shift_from").value_or(Minutes());
    shift.to = row.clock("shift_to").value_or(Minutes());
    shift.breakLength = Minutes::of(row.smallNumber("break_min", 0));
    shift.breakFrom = row.clock("break_from").value_or(Minutes());
    shift.breakTo = row.clock("break_to").value_or(Minutes());
    shift.validFrom = today;
    shift.nurse = NurseId(1); // of this row
    row.take(validate(shift), {{"from", "shift_from"}, {"to", "shift_to"}});
    shift.nurse = {};
    (void)row.needed("shift_weekdays");
    std::vector<ShiftPattern> shifts;
    for (const Weekday day : row.choices<Weekday>("shift_weekdays")) {
        shift.weekday = day;
        shifts.push_back(shift);
    }
    return shifts;
}

void readFit(ListRow &row, ItemEntry &entry) {
    Item &item = entry.item;
    item.connector = row.text("connector");
    const bool goesOnCatheter = item.kind == ItemKind::Kit || item.kind == ItemKind::Bottle;
    if (asChoice(item.connector) == "any") {
        item.connector.clear();
        entry.fitsAny = true;
    } else if (goesOnCatheter && item.connector.empty()) {
        row.fault(ProblemCode::Missing, "connector");
    }
}

std::optional<SupplierItem> readOffer(ListWork &work, ListRow &row, const Item &item) {
    if (!row.hasAny({"supplier", "supplier_code", "price_per_case"}))
        return std::nullopt;
    SupplierItem offer;
    (void)row.needed("supplier");
    if (const Supplier *supplier = row.record("supplier", "supplier", work.known.suppliers))
        offer.supplier = supplier->id;
    offer.supplierCode = row.text("supplier_code");
    offer.perCase = row.money("price_per_case").value_or(Money());
    offer.pack = item.casePack;
    offer.item = ItemId(1); // of this row
    row.take(validate(offer), {{"supplier_id", "supplier"}, {"price_minor", "price_per_case"}});
    offer.item = {};
    return offer;
}

// The catheter in place at that home whose stock was counted.
std::optional<CatheterId> readHome(const ListWork &work, ListRow &row) {
    (void)row.needed("patient");
    const Patient *patient = row.record("patient", "patient", work.known.patients);
    const auto site = row.choice<CavitySite>("site");
    if (!patient)
        return std::nullopt;
    std::vector<const Catheter *> found;
    for (const Catheter *catheter : work.agency.cathetersOf(patient->id))
        if (work.agency.isInService(*catheter) && (!site || catheter->site == *site))
            found.push_back(catheter);
    if (found.size() == 1)
        return found.front()->id;
    if (found.empty())
        row.fault(ProblemCode::UnknownRecord, "patient", {"catheter in place", patient->code});
    else
        row.fault(ProblemCode::Conflict, "site", {"list_which_catheter", patient->code});
    return std::nullopt;
}

// The opening stock only: where something is on record, somebody counts it under Stock instead.
bool isStockKnown(const SnapshotIndex &agency, const CountEntry &entry) {
    if (!entry.home)
        return std::ranges::any_of(agency.balancesAt(Place::storeroom()), [&](const StockBalance &b) {
            return b.item == entry.item && !b.quantity.isZero();
        });
    return agency.lastCount(*entry.home, entry.item) ||
           !agency.balance(Place::home(*entry.home), entry.item).isZero();
}

void checkCounted(ListRow &row, const CountEntry &entry) {
    if (entry.home) {
        HomeCount count;
        count.catheter = *entry.home;
        count.item = entry.item;
        count.at = {entry.on, Minutes()};
        count.counted = entry.quantity;
        row.take(validate(count), {{"counted", "quantity"}, {"item_id", "item"}});
    } else {
        StockMovement movement;
        movement.item = entry.item;
        movement.at = {entry.on, Minutes()};
        movement.quantity = entry.quantity;
        movement.from = Place::variance();
        movement.to = Place::storeroom();
        row.take(validate(movement), {{"item_id", "item"}});
    }
    if (entry.lotNumber.empty())
        return;
    Lot lot;
    lot.item = entry.item;
    lot.number = entry.lotNumber;
    row.take(validate(lot), {{"number", "lot"}, {"item_id", "item"}});
}

} // namespace

std::span<const ListColumn> nurseColumns() {
    return kNurseColumns;
}
std::span<const ListColumn> itemColumns() {
    return kItemColumns;
}
std::span<const ListColumn> countColumns() {
    return kCountColumns;
}

void readNurseRow(ListWork &work, ListRow &row) {
    NurseEntry entry;
    entry.row = row.row();
    Nurse &nurse = entry.nurse;
    nurse.code = row.text("code");
    row.newCode("code", nurse.code, work.known.nurses.contains(nurse.code), work.codes);
    nurse.familyName = row.text("family_name");
    nurse.givenName = row.text("given_name");
    nurse.phone = row.text("phone");
    nurse.credential = row.neededChoice("credential", Credential::RegisteredNurse);
    nurse.gender = row.choice<Gender>("gender");
    nurse.languages = row.parts("languages");
    nurse.skills = readGrants(row);
    nurse.base = row.address();
    nurse.startsAtStoreroom = row.yes("starts_at_storeroom", false);
    (void)row.needed("contract_hours");
    const double hours = std::clamp(row.real("contract_hours").value_or(0), -1000.0, 1000.0);
    nurse.contractPerWeek = Minutes::of(std::llround(hours * 60));
    nurse.mostVisitsADay = row.smallNumber("most_visits_a_day", nurse.mostVisitsADay);
    nurse.carSpaceMl = row.number("car_space_ml").value_or(0);
    nurse.overtimeExempt = row.yes("overtime_exempt", false);
    row.take(validate(nurse), {{"contract_min", "contract_hours"}});
    entry.shifts = readShifts(row, work.agency.snapshot().asOf);
    work.list.nurses.push_back(std::move(entry));
}

void readItemRow(ListWork &work, ListRow &row) {
    ItemEntry entry;
    entry.row = row.row();
    Item &item = entry.item;
    item.code = row.text("code");
    row.newCode("code", item.code, work.known.items.contains(item.code), work.codes);
    item.name = row.text("name");
    item.kind = row.neededChoice("kind", ItemKind::Other);
    if (const auto volume = row.number("bottle_volume_ml"))
        item.bottleVolume = Millilitres::of(*volume);
    item.gtin = row.text("gtin");
    const bool isGtinKnown = std::ranges::find(work.agency.snapshot().items, item.gtin, &Item::gtin) !=
                             work.agency.snapshot().items.end();
    row.newCode("gtin", item.gtin, isGtinKnown, work.others);
    readFit(row, entry);
    item.contains = row.choices<Material>("contains");
    (void)row.needed("eaches_per_case");
    item.casePack = {Eaches::of(row.number("eaches_per_case").value_or(1))};
    item.sendWholeCases = row.yes("send_whole_cases", false);
    item.unitVolumeMl = row.number("unit_volume_ml").value_or(0);
    if (const auto days = row.number("shelf_life_days"))
        item.shelfLife = Days::of(*days);
    if (const auto days = row.number("least_life_on_receipt_days"))
        item.leastLifeOnReceipt = Days::of(*days);
    if (const auto days = row.number("least_life_to_home_days"))
        item.leastLifeToHome = Days::of(*days);
    item.stockClass = row.choice<StockClass>("stock_class").value_or(item.stockClass);
    row.take(validate(item));
    entry.offer = readOffer(work, row, item);
    work.list.items.push_back(std::move(entry));
}

void readCountRow(ListWork &work, ListRow &row) {
    CountEntry entry;
    entry.row = row.row();
    const CountPlace place = row.neededChoice("place", CountPlace::Storeroom);
    const bool isPlaced = place == CountPlace::Storeroom || (entry.home = readHome(work, row));
    (void)row.needed("item");
    const Item *item = row.record("item", "item", work.known.items);
    if (item)
        entry.item = item->id;
    entry.lotNumber = row.text("lot");
    entry.expiresOn = row.date("expires_on");
    if (entry.expiresOn && entry.lotNumber.empty())
        (void)row.needed("lot");
    (void)row.needed("quantity");
    const auto quantity = row.number("quantity");
    entry.quantity = Eaches::of(quantity.value_or(1));
    (void)row.needed("counted_on");
    entry.on = row.pastDate("counted_on", work.agency.snapshot().asOf).value_or(Date());
    if (item && isPlaced) {
        checkCounted(row, entry);
        if (isStockKnown(work.agency, entry))
            row.fault(ProblemCode::Conflict, "item", {"list_stock_known", item->code});
        const std::string where = entry.home ? std::to_string(entry.home->value()) : std::string();
        const std::string line = where + '\n' + item->code + '\n' + asLotNumber(entry.lotNumber);
        if (const auto [first, isNew] = work.codes.emplace(line, row.row()); !isNew)
            row.fault(ProblemCode::Conflict, "item",
                      {"list_twice", item->code, std::to_string(first->second)});
    }
    work.list.counts.push_back(std::move(entry));
}

} // namespace kitround::exchange
