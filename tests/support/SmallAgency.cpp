#include "tests/support/SmallAgency.h"

#include "core/base/Require.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::test {
namespace {

template <class IdType, class Rows>
IdType nextId(const Rows &rows) {
    return IdType(static_cast<std::int64_t>(rows.size()) + 1);
}

Minutes hour(std::int64_t h) {
    return Minutes::of(h * 60);
}

Item kitOf(ItemId id, int volume) {
    Item item;
    item.id = id;
    item.code = "KIT-" + std::to_string(volume);
    item.name = "Drainage kit " + std::to_string(volume) + " mL (invented)";
    item.kind = ItemKind::Kit;
    item.bottleVolume = Millilitres::of(volume);
    item.casePack = {Eaches::of(10)};
    item.unitVolumeMl = volume * 3;
    return item;
}

Item bottleOf(ItemId id, int volume) {
    Item item = kitOf(id, volume);
    item.code = "BOT-" + std::to_string(volume);
    item.name = "Vacuum bottle " + std::to_string(volume) + " mL (invented)";
    item.kind = ItemKind::Bottle;
    item.unitVolumeMl = volume * 2;
    return item;
}

Item dressing(ItemId id) {
    Item item;
    item.id = id;
    item.code = "DRE-1";
    item.name = "Dressing pack (invented)";
    item.kind = ItemKind::Dressing;
    item.casePack = {Eaches::of(20)};
    item.unitVolumeMl = 300;
    item.stockClass = StockClass::C;
    return item;
}

} // namespace

DrainPattern everyDays(int days, Date anchor) {
    DrainPattern p;
    p.kind = DrainPatternKind::EveryNDays;
    p.everyDays = days;
    p.anchor = anchor;
    return p;
}

DrainPattern timesAWeek(int times, WeekdaySet named) {
    DrainPattern p;
    p.kind = DrainPatternKind::TimesAWeek;
    p.timesAWeek = times;
    p.weekdays = named;
    return p;
}

DrainPattern asNeeded(std::optional<int> mostPerDay, std::optional<int> mostPerWeek) {
    DrainPattern p;
    p.kind = DrainPatternKind::AsNeeded;
    p.mostPerDay = mostPerDay;
    p.mostPerWeek = mostPerWeek;
    return p;
}

SmallAgency::SmallAgency(Date asOf) {
    Snapshot &s = snapshot_;
    s.asOf = asOf;
    s.now = {asOf, hour(8)};
    s.logFrom = asOf.plusDays(-180);
    s.settings.agencyName = "Small agency (invented)";
    s.settings.isInvented = true;
    s.settings.storeroom.point = GeoPoint{40.0, -75.0};
    // A month's refill at 3 %: amounts that can be followed by hand.
    s.settings.set(SettingKey::RefillCycleDays, 30);
    s.settings.set(SettingKey::RunOutTargetPermille, 30);

    Payer payer;
    payer.id = kPayer;
    payer.name = "Payer (invented)";
    s.payers.push_back(payer);

    s.items = {kitOf(kKit500, 500), kitOf(kKit1000, 1000), bottleOf(kBottle500, 500),
               bottleOf(kBottle1000, 1000), dressing(kDressing)};

    Supplier supplier;
    supplier.id = kSupplier;
    supplier.code = "SUP";
    supplier.name = "Supplier (invented)";
    s.suppliers.push_back(supplier);
    for (const Item &item : s.items) {
        SupplierItem offer;
        offer.id = nextId<SupplierItemId>(s.supplierItems);
        offer.supplier = kSupplier;
        offer.item = item.id;
        offer.supplierCode = "S-" + item.code;
        offer.pack = item.casePack;
        offer.perCase = Money::of(10000);
        s.supplierItems.push_back(offer);
    }

    Nurse nurse;
    nurse.id = kNurse;
    nurse.code = "N1";
    nurse.familyName = "Nurse";
    nurse.givenName = "Invented";
    for (Skill skill : {Skill::DrainChest, Skill::DrainAbdomen, Skill::Teach, Skill::Assess, Skill::SiteCare})
        nurse.skills.push_back({skill, std::nullopt});
    nurse.base.point = GeoPoint{40.0, -75.0};
    nurse.carSpaceMl = 200000;
    s.nurses.push_back(nurse);
    for (Weekday day : kAllWeekdays) {
        if (!WeekdaySet::mondayToFriday().contains(day))
            continue;
        ShiftPattern shift;
        shift.id = nextId<ShiftPatternId>(s.shiftPatterns);
        shift.nurse = kNurse;
        shift.weekday = day;
        shift.from = hour(8);
        shift.to = hour(17);
        shift.breakLength = Minutes::of(30);
        shift.breakFrom = hour(11);
        shift.breakTo = hour(14);
        shift.validFrom = asOf.plusDays(-365);
        s.shiftPatterns.push_back(shift);
    }
}

Home SmallAgency::addHome(CavitySite site) {
    Patient p;
    p.id = nextId<PatientId>(snapshot_.patients);
    const std::string number = std::to_string(p.id.value());
    p.code = "P" + number;
    p.familyName = "Patient" + number;
    p.givenName = "Invented";
    p.payer = kPayer;
    p.status = CareStatus::Active;
    p.startOfCare = asOf().plusDays(-60);
    p.noAllergiesOn = p.startOfCare;
    p.primaryNurse = kNurse;
    p.patientCompetence = Competence::Alone;
    p.address.street = number + " Invented Street";
    p.address.town = "Sampleton";
    p.address.point = GeoPoint{40.0 + 0.001 * static_cast<double>(p.id.value() % 50), -75.0};
    snapshot_.patients.push_back(p);
    return addCatheter({p.id, {}}, site, site == CavitySite::Chest ? Side::Right : Side::Midline);
}

Home SmallAgency::addCatheter(const Home &home, CavitySite site, Side side) {
    Catheter c;
    c.id = nextId<CatheterId>(snapshot_.catheters);
    c.patient = home.patient;
    c.site = site;
    c.side = side;
    c.insertedOn = asOf().plusDays(-61);
    snapshot_.catheters.push_back(c);
    return {home.patient, c.id};
}

SmallAgency &SmallAgency::order(const Home &home, const DrainPattern &pattern, ItemId kit,
                                const std::function<void(DrainOrder &)> &edit) {
    DrainOrder o;
    o.id = nextId<DrainOrderId>(snapshot_.drainOrders);
    o.catheter = home.catheter;
    o.pattern = pattern;
    o.start = asOf().plusDays(-60);
    o.mostPerSession = Millilitres::of(1000);
    o.kit = kit;
    o.extraBottle = kit == kKit1000 ? kBottle1000 : kBottle500;
    o.prescriber = "Prescriber (invented)";
    o.signedOn = o.start;
    if (edit)
        edit(o);
    snapshot_.drainOrders.push_back(o);
    return *this;
}

SmallAgency &SmallAgency::drained(const Home &home, Date on, std::optional<int> millilitres,
                                  std::vector<Supply> supplies, DrainOutcome outcome) {
    DrainEntry e;
    e.id = nextId<DrainEntryId>(snapshot_.drainEntries);
    e.catheter = home.catheter;
    e.at = {on, hour(9)};
    e.outcome = outcome;
    if (millilitres)
        e.volume = Millilitres::of(*millilitres);
    for (const Supply &s : supplies)
        e.supplies.push_back({s.item, Eaches::of(s.used), Eaches::of(s.lost), std::nullopt});
    snapshot_.drainEntries.push_back(e);
    return *this;
}

SmallAgency &SmallAgency::notDone(const Home &home, Date on) {
    return drained(home, on, std::nullopt, {}, DrainOutcome::NotDone);
}

SmallAgency &SmallAgency::counted(const Home &home, ItemId item, std::int64_t eaches, Date on) {
    HomeCount c;
    c.id = nextId<HomeCountId>(snapshot_.homeCounts);
    c.catheter = home.catheter;
    c.item = item;
    c.at = {on, hour(7)};
    c.counted = Eaches::of(eaches);
    snapshot_.homeCounts.push_back(c);
    return *this;
}

SmallAgency &SmallAgency::delivery(const Home &home, ItemId item, std::int64_t eaches, Date on,
                                   DeliveryStatus status) {
    Delivery d;
    d.id = nextId<DeliveryId>(snapshot_.deliveries);
    d.patient = home.patient;
    d.status = status;
    d.promisedFor = on;
    if (status == DeliveryStatus::InTransit || status == DeliveryStatus::Delivered)
        d.shippedAt = LocalTime{on.plusDays(-1), hour(12)};
    if (status == DeliveryStatus::Delivered) {
        d.deliveredAt = LocalTime{on, hour(12)};
        d.receivedBy = "Relative (invented)";
        d.receiverRelation = "relative";
    }
    d.lines.push_back({home.catheter, item, std::nullopt, Eaches::of(eaches)});
    snapshot_.deliveries.push_back(d);
    return *this;
}

SmallAgency &SmallAgency::hold(const Home &home, Date from, std::optional<Date> to,
                               std::optional<Date> expectedReturn, bool stillDraining) {
    Hold h;
    h.id = nextId<HoldId>(snapshot_.holds);
    h.patient = home.patient;
    h.kind = stillDraining ? HoldKind::Travel : HoldKind::Hospital;
    h.from = from;
    h.to = to;
    h.expectedReturn = expectedReturn;
    h.stillDraining = stillDraining;
    snapshot_.holds.push_back(h);
    return *this;
}

LotId SmallAgency::storeroom(ItemId item, std::int64_t eaches, std::optional<Date> expiresOn) {
    Lot lot;
    lot.id = nextId<LotId>(snapshot_.lots);
    lot.item = item;
    lot.number = "LOT" + std::to_string(lot.id.value());
    lot.expiresOn = expiresOn.value_or(asOf().plusDays(730));
    snapshot_.lots.push_back(lot);
    snapshot_.balances.push_back({Place::storeroom(), item, lot.id, Eaches::of(eaches)});
    return lot.id;
}

SmallAgency &SmallAgency::edit(const std::function<void(Snapshot &)> &change) {
    change(snapshot_);
    return *this;
}

Snapshot SmallAgency::build() const {
    Snapshot s = snapshot_;
    std::ranges::stable_sort(s.drainEntries, {},
                             [](const DrainEntry &e) { return std::pair(e.catheter, e.at); });
    std::ranges::stable_sort(s.homeCounts, {},
                             [](const HomeCount &c) { return std::tuple(c.catheter, c.item, c.at); });

    struct Line {
        std::optional<LocalTime> countedAt;
        Eaches sum;
    };
    std::map<std::pair<CatheterId, ItemId>, Line> lines;
    for (const HomeCount &c : s.homeCounts) // by time, so the last one stays
        lines[{c.catheter, c.item}] = {c.at, c.counted};
    const auto move = [&](CatheterId catheter, ItemId item, LocalTime at, Eaches by) {
        Line &line = lines[{catheter, item}];
        if (!line.countedAt || *line.countedAt < at)
            line.sum += by;
    };
    for (const DrainEntry &e : s.drainEntries)
        for (const BottleUse &u : e.supplies)
            move(e.catheter, u.item, e.at, -(u.used + u.lost));
    for (const Delivery &d : s.deliveries)
        for (const DeliveryLine &l : d.lines) {
            if (d.status == DeliveryStatus::Delivered)
                move(l.catheter, l.item, *d.deliveredAt, l.arrived());
            if (d.status == DeliveryStatus::InTransit)
                s.balances.push_back({Place::transit(d.id), l.item, l.lot, l.quantity});
        }
    for (const auto &[key, line] : lines)
        if (!line.sum.isZero())
            s.balances.push_back({Place::home(key.first), key.second, std::nullopt, line.sum});
    return s;
}

} // namespace kitround::test
