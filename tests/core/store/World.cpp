#include "tests/core/store/World.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <tuple>

namespace kitround::store {

std::string WorldBuilder::word() {
    static const std::vector<std::string> words = {
        "plain", "O'Neil",      "say \"so\"", "Zo\u00eb \u6771\u4eac",
        "a\\b",  "line\nbreak", "tab\there",  "; DROP TABLE patient; --",
        "100 %", "?1 :name",    "\U0001F54A", "x"};
    return pick(words);
}
std::string WorldBuilder::text() {
    return flip() ? word() + " " + word() : std::string();
}
std::string WorldBuilder::code() {
    return "C" + std::to_string(++codes_) + "'" + std::to_string(number(0, 99));
}

std::vector<std::string> WorldBuilder::languages() {
    std::vector<std::string> tags = {"en", "es", "zh-Hant", "pl"};
    random_.shuffle(tags);
    tags.resize(random_.below(tags.size() + 1));
    return tags;
}

std::pair<ItemId, std::optional<LotId>> WorldBuilder::itemAndLot() {
    if (flip())
        return {pick(world_.items).id, std::nullopt};
    const Lot &lot = pick(world_.lots);
    return {lot.item, lot.id};
}

NurseId WorldBuilder::nurseOtherThan(NurseId nurse) {
    for (;;)
        if (const NurseId other = pick(world_.nurses).id; other != nurse)
            return other;
}

void WorldBuilder::fill(Address &a) {
    a = {word(),          word(),       std::to_string(number(10000, 99999)),
         text(),          std::nullopt, any<PointQuality>(3),
         any<AreaKind>(3)};
    if (flip())
        a.point = GeoPoint{random_.uniform() * 180 - 90, random_.uniform() * 360 - 180};
}

AgencySettings WorldBuilder::settings() {
    AgencySettings s;
    s.agencyName = word();
    s.phone = "+1 555 0100";
    s.orderContact = text();
    s.usedBottleRules = text();
    s.timeZone = "America/Chicago";
    s.weekStart = flip() ? Weekday::Sunday : Weekday::Monday;
    s.currency = "EUR";
    s.distanceUnit = flip() ? DistanceUnit::Miles : DistanceUnit::Kilometres;
    s.holidaysAreWorked = flip();
    s.visitingDays = WeekdaySet::fromBits(unsigned(number(1, 127)));
    fill(s.storeroom);
    if (flip())
        s.ownHolidays = {Date::of(2026, 3, 4), Date::of(2026, 2, 3)}; // the order given is kept
    s.isInvented = flip();
    s.demoToday = maybe([&] { return day(); });
    for (SettingKey key :
         {SettingKey::CourierCostMinor, SettingKey::LeadDays, SettingKey::CostChanged, SettingKey::CountDaysA,
          SettingKey::CountSecondPersonMinor, SettingKey::SupplyBudgetMinor})
        s.set(key, number(infoOf(key).least, infoOf(key).most));
    return s;
}

Patient WorldBuilder::patient() {
    Patient made;
    fill(made);
    return made;
}
StockMovement WorldBuilder::movement() {
    StockMovement made;
    fill(made);
    return made;
}

template <class R>
void WorldBuilder::add(UnitOfWork &unit, std::vector<R> &records, int times) {
    for (int i = 0; i < times && refusal_.empty(); ++i) {
        R record;
        fill(record);
        const auto saved = [&] {
            if constexpr (std::is_same_v<R, StockMovement>)
                return unit.post(record);
            else
                return unit.save(record);
        }();
        if (saved)
            records.push_back(*saved);
        else
            refusal_ = debugText(saved.error());
    }
}
template <class R>
void WorldBuilder::alter(UnitOfWork &unit, std::vector<R> &records) {
    for (R &record : records) {
        if (!flip() || !refusal_.empty())
            continue;
        R changed = record;
        fill(changed);
        const auto saved = unit.save(changed);
        if (saved)
            record = *saved;
        else
            refusal_ = debugText(saved.error());
    }
}

void WorldBuilder::grow(UnitOfWork &unit, int times) {
    add(unit, world_.users, times);
    add(unit, world_.payers, times);
    add(unit, world_.nurses, times + 1); // two, so that a second differs
    add(unit, world_.shiftPatterns, times);
    add(unit, world_.extraShifts, times);
    add(unit, world_.timeOff, times);
    add(unit, world_.keptWhatIfs, times);
    add(unit, world_.intakeClosures, times);
    add(unit, world_.decisionNotes, times);
    add(unit, world_.patients, times);
    add(unit, world_.catheters, times);
    add(unit, world_.authorisations, times);
    add(unit, world_.holds, times);
    add(unit, world_.items, times);
    add(unit, world_.lots, times);
    add(unit, world_.suppliers, times);
    add(unit, world_.supplierItems, times);
    add(unit, world_.visitOrders, times);
    add(unit, world_.visits, times);
    add(unit, world_.drainOrders, times);
    add(unit, world_.drainEntries, times);
    add(unit, world_.homeCounts, times);
    add(unit, world_.refillContacts, times);
    add(unit, world_.deliveries, times);
    add(unit, world_.recallOutcomes, times);
    add(unit, world_.substitutions, times);
    add(unit, world_.shortageActions, times);
    add(unit, world_.homeReturns, times);
    add(unit, world_.carPars, times);
    add(unit, world_.purchaseOrders, times);
    add(unit, world_.receipts, times);
    add(unit, world_.monthCloses, times);
    add(unit, world_.movements, 2 * times);
    add(unit, world_.plans, times);
    add(unit, world_.planTold, times);
    add(unit, world_.patientTold, times);
    add(unit, world_.callItems, times);
    add(unit, world_.phoneCalls, times);
    add(unit, world_.incidents, times);
    add(unit, world_.handOvers, times);
    add(unit, world_.watchEntries, times);
    add(unit, world_.orderAnswers, times);
}
void WorldBuilder::change(UnitOfWork &unit) {
    alter(unit, world_.users);
    alter(unit, world_.payers);
    alter(unit, world_.nurses);
    alter(unit, world_.shiftPatterns);
    alter(unit, world_.extraShifts);
    alter(unit, world_.timeOff);
    alter(unit, world_.keptWhatIfs);
    alter(unit, world_.intakeClosures);
    alter(unit, world_.decisionNotes);
    alter(unit, world_.patients);
    alter(unit, world_.catheters);
    alter(unit, world_.authorisations);
    alter(unit, world_.holds);
    alter(unit, world_.items);
    alter(unit, world_.lots);
    alter(unit, world_.suppliers);
    alter(unit, world_.supplierItems);
    alter(unit, world_.visitOrders);
    alter(unit, world_.visits);
    alter(unit, world_.drainOrders);
    alter(unit, world_.drainEntries);
    alter(unit, world_.homeCounts);
    alter(unit, world_.deliveries);
    alter(unit, world_.substitutions);
    alter(unit, world_.shortageActions);
    alter(unit, world_.carPars);
    alter(unit, world_.purchaseOrders);
    alter(unit, world_.monthCloses);
    alter(unit, world_.plans);
    alter(unit, world_.planTold);
    alter(unit, world_.patientTold);
    alter(unit, world_.callItems);
    alter(unit, world_.phoneCalls);
    alter(unit, world_.incidents);
    alter(unit, world_.handOvers);
    alter(unit, world_.watchEntries);
}

User firstUser() {
    User user;
    user.name = "Robin (invented)";
    return user;
}
AgencySettings plainSettings() {
    AgencySettings settings;
    settings.agencyName = "Invented agency";
    settings.isInvented = true;
    return settings;
}
std::unique_ptr<AgencyFile> makeFile(const std::string &path) {
    auto file = AgencyFile::create(path, plainSettings(), firstUser(), kMoment);
    EXPECT_TRUE(file) << debugText(file.error());
    return std::move(*file);
}
std::unique_ptr<AgencyFile> mustOpen(const std::string &path, OpenMode mode) {
    auto file = AgencyFile::open(path, mode);
    EXPECT_TRUE(file) << debugText(file.error());
    return std::move(*file);
}

SmallAgency addSmallAgency(AgencyFile &file) {
    UnitOfWork unit(file, kFirstUser, kMoment);
    SmallAgency agency;
    agency.payer.name = "Payer (invented)";
    agency.payer = unit.save(agency.payer).value();
    agency.patient.code = "P1";
    agency.patient.familyName = "Example";
    agency.patient.payer = agency.payer.id;
    agency.patient = unit.save(agency.patient).value();
    agency.catheter.patient = agency.patient.id;
    agency.catheter = unit.save(agency.catheter).value();
    agency.item.code = "KIT";
    agency.item.name = "Kit";
    agency.item.bottleVolume = Millilitres::of(1000);
    agency.item = unit.save(agency.item).value();
    agency.lot.item = agency.item.id;
    agency.lot.number = "L1";
    agency.lot = unit.save(agency.lot).value();
    agency.nurse.code = "N1";
    agency.nurse.familyName = "Sample";
    agency.nurse = unit.save(agency.nurse).value();
    const auto done = unit.commit();
    EXPECT_TRUE(done) << debugText(done.error());
    return agency;
}
DrainEntry plainEntry(const SmallAgency &agency, LocalTime at) {
    DrainEntry entry;
    entry.catheter = agency.catheter.id;
    entry.at = at;
    entry.volume = Millilitres::of(400);
    entry.supplies = {{agency.item.id, Eaches::of(1), Eaches::of(0), agency.lot.id}};
    entry.symptoms = {Symptom::Cough};
    return entry;
}
StockMovement plainMovement(const SmallAgency &agency, LocalTime at, std::int64_t quantity) {
    StockMovement movement;
    movement.at = at;
    movement.item = agency.item.id;
    movement.lot = agency.lot.id;
    movement.quantity = Eaches::of(quantity);
    movement.from = Place::storeroom();
    movement.to = Place::home(agency.catheter.id);
    return movement;
}
std::string wordsOf(const Problems &problems) {
    std::string words;
    for (const Problem &problem : problems)
        words += debugText(problem) + "\n";
    return words;
}

} // namespace kitround::store
