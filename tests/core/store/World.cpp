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

void WorldBuilder::fill(User &u) {
    u.name = code();
    u.role = any<UserRole>(4);
    u.passwordHash = flip() ? "pbkdf2$1000$abc=$def=" : "";
    u.isActive = flip();
}
void WorldBuilder::fill(Payer &p) {
    p.name = code();
    p.refillRuleApplies = flip();
    p.contactAtMostBefore = Days::of(number(0, 60));
    p.deliverAtMostBefore = Days::of(number(0, 60));
    p.mostDaysHeld = Days::of(number(1, 90));
}
void WorldBuilder::fill(Nurse &n) {
    n.code = code();
    n.familyName = word();
    n.givenName = text();
    n.phone = "+1 555 0100";
    n.credential = any<Credential>(3);
    n.gender = maybe([&] { return any<Gender>(3); });
    n.languages = languages();
    n.skills.clear();
    for (Skill skill : someOf<Skill>(kSkillCount))
        n.skills.push_back({skill, maybe([&] { return day(); })});
    fill(n.base);
    n.startsAtStoreroom = flip();
    n.contractPerWeek = Minutes::of(number(0, 3000));
    n.mostVisitsADay = int(number(1, 12));
    n.carSpaceMl = number(0, 500000);
    n.overtimeExempt = flip();
    n.isActive = flip();
    n.user = maybe([&] { return pick(world_.users).id; });
}
void WorldBuilder::fill(ShiftPattern &s) {
    s.nurse = pick(world_.nurses).id;
    s.weekday = any<Weekday>(7);
    s.from = Minutes::of(number(0, 600));
    s.to = Minutes::of(number(900, 1440));
    s.breakLength = Minutes::of(flip() ? 30 : 0);
    s.breakFrom = Minutes::of(number(660, 700));
    s.breakTo = Minutes::of(number(740, 800));
    s.isOnCall = flip();
    s.validFrom = day();
    s.validTo = maybe([&] { return s.validFrom.plusDays(number(1, 90)); });
}
void WorldBuilder::fill(ExtraShift &s) {
    s.nurse = pick(world_.nurses).id;
    s.on = day();
    s.from = Minutes::of(number(0, 600));
    s.to = Minutes::of(number(601, 1440));
    s.replacesPattern = flip();
    s.isOnCall = flip();
}
void WorldBuilder::fill(TimeOff &t) {
    t.nurse = pick(world_.nurses).id;
    t.kind = any<TimeOffKind>(4);
    t.from = day();
    t.to = t.from.plusDays(number(1, 20));
    t.note = text();
    t.status = any<LeaveStatus>(3);
    t.askedOn = maybe([&] { return day(); });
    t.decidedBy.reset();
    t.decidedAt.reset();
    if (t.status != LeaveStatus::Requested) {
        t.decidedBy = maybe([&] { return pick(world_.users).id; });
        t.decidedAt = maybe([&] { return instant(); });
    }
    t.decisionNote = text();
}
void WorldBuilder::fill(KeptWhatIf &k) {
    k.name = code() + word();
    k.weekStart = day();
    k.kind = any<WhatIfKind>(5);
    k.nurse = maybe([&] { return pick(world_.nurses).id; });
    k.awayFrom = maybe([&] { return day(); });
    k.awayTo.reset();
    if (k.awayFrom)
        k.awayTo = maybe([&] { return k.awayFrom->plusDays(number(1, 20)); });
    k.referrals = int(number(0, 60));
    k.seed = number(0, 1'000'000);
    k.on = maybe([&] { return day(); });
    k.from = maybe([&] { return Minutes::of(number(0, 600)); });
    k.to = maybe([&] { return Minutes::of(number(601, 1440)); });
    k.setting = k.kind == WhatIfKind::Setting ? std::string(settingTable()[random_.below(kSettingCount)].name)
                                              : std::string();
    k.value = number(-1000, 1000);
    k.keptOn = day();
    k.saidThen = text();
}
void WorldBuilder::fill(IntakeClosure &c) {
    c.area = any<AreaKind>(3);
    c.from = day();
    c.to = maybe([&] { return c.from.plusDays(number(0, 60)); });
    c.reason = word();
}
void WorldBuilder::fill(DecisionNote &d) {
    d.weekStart = day();
    d.kind = any<DecisionKind>(5);
    d.text = word();
    d.by = pick(world_.users).id;
    d.at = moment();
    d.closedOn = maybe([&] { return d.at.date.plusDays(number(0, 60)); });
    d.outcome = d.closedOn ? word() : text();
}
void WorldBuilder::fill(HandOver &h) {
    h.handedBy = pick(world_.users).id;
    h.handedAt = instant();
    h.note = text();
    h.items.clear();
    for (std::int64_t i = number(1, 4); i > 0; --i) {
        HandOverItem item;
        item.topic = any<HandOverTopic>(5);
        item.subject = code();
        item.patient = maybe([&] { return pick(world_.patients).id; });
        item.what = word();
        if (const UserId other = pick(world_.users).id; other != h.handedBy && flip()) {
            item.acceptedBy = other;
            item.acceptedAt = instant();
        }
        h.items.push_back(std::move(item));
    }
}
void WorldBuilder::fill(WatchEntry &w) {
    if (!w.id.isSet()) { // one that is open a patient: each closes but the patient's first
        w.patient = pick(world_.patients).id;
        w.since = moment();
    }
    w.known = several([&] { return code(); });
    w.ownerUser.reset();
    w.ownerNurse.reset();
    if (flip())
        w.ownerUser = pick(world_.users).id;
    else
        w.ownerNurse = pick(world_.nurses).id;
    w.nextStep = word();
    w.nextOn = day();
    w.snoozedTo = maybe([&] { return day(); });
    w.snoozeReason = w.snoozedTo ? word() : text();
    const bool isFirst = std::ranges::none_of(world_.watchEntries, [&](const WatchEntry &other) {
        return other.id != w.id && other.patient == w.patient && !other.closedAt;
    });
    w.closedAt.reset();
    if (!isFirst || flip())
        w.closedAt = LocalTime{w.since.date.plusDays(number(1, 9)), Minutes::of(number(0, 1439))};
    w.outcome = w.closedAt ? word() : text();
}
void WorldBuilder::fill(OrderAnswer &a) {
    a.order = pick(world_.drainOrders).id;
    a.at = moment();
    a.answeredBy = word();
    a.words = word();
    a.takenBy = pick(world_.users).id;
}
void WorldBuilder::fill(Patient &p) {
    p.code = code();
    p.familyName = word();
    p.givenName = text();
    p.bornOn = maybe([&] { return Date::of(1940, 2, 29).plusDays(number(0, 20000)); });
    p.gender = maybe([&] { return any<Gender>(3); });
    p.phone = "+1 555 0101";
    fill(p.address);
    p.languages = languages();
    p.nurseGenderWish = maybe([&] { return any<Gender>(3); });
    p.payer = flip() ? pick(world_.payers).id : PayerId();
    p.status = any<CareStatus>(5);
    p.referredAt = maybe([&] { return instant(); });
    p.homeFrom = maybe([&] { return instant(); });
    p.startOfCare = maybe([&] { return day(); });
    p.exitedAt.reset();
    if (isExit(p.status))
        p.exitedAt = Instant::fromUnixSeconds(1'798'761'599 + number(0, 86400));
    p.exitReason = text();
    p.primaryNurse = maybe([&] { return pick(world_.nurses).id; });
    p.backupNurse.reset();
    p.barredNurses.clear();
    if (p.primaryNurse && flip())
        p.backupNurse = nurseOtherThan(*p.primaryNurse);
    else if (p.primaryNurse)
        p.barredNurses = {nurseOtherThan(*p.primaryNurse)};
    p.allergies = someOf<Material>(4);
    p.noAllergiesOn.reset();
    if (p.allergies.empty())
        p.noAllergiesOn = maybe([&] { return day(); });
    p.patientCompetence = any<Competence>(4);
    p.caregiverCompetence = any<Competence>(4);
    p.competenceOn = maybe([&] { return day(); });
    p.acuity = maybe([&] { return any<Acuity>(3); });
    p.emergencyPriority = maybe([&] { return any<EmergencyPriority>(3); });
    p.needsTwoNurses = flip();
    p.allowsCourier = flip();
    p.windows = several([&] {
        const std::int64_t from = number(0, 1000);
        return VisitWindow{any<Weekday>(7), Minutes::of(from), Minutes::of(number(from + 1, 1440)), flip()};
    });
    p.notes = text();
}
void WorldBuilder::fill(Catheter &c) {
    c.patient = pick(world_.patients).id;
    c.site = any<CavitySite>(2);
    c.side = any<Side>(3);
    c.connector = flip() ? "fit A" : "";
    c.insertedOn = maybe([&] { return Date::of(2025, 1, 1).plusDays(number(0, 300)); });
    c.removedAt = maybe([&] { return instant(); });
    c.removalReason = text();
}
void WorldBuilder::fill(Authorisation &a) {
    a.patient = pick(world_.patients).id;
    a.reference = text();
    a.from = day();
    a.to = a.from.plusDays(number(1, 60));
    a.visitsAllowed = number(0, 100);
}
void WorldBuilder::fill(Hold &h) {
    h.patient = pick(world_.patients).id;
    h.kind = any<HoldKind>(4);
    h.from = day();
    h.expectedReturn = maybe([&] { return h.from.plusDays(number(0, 20)); });
    h.to = maybe([&] { return h.from.plusDays(number(0, 20)); });
    h.stillDraining = flip();
    h.reason = text();
}
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
void WorldBuilder::fill(VisitOrder &o) {
    o.patient = pick(world_.patients).id;
    o.kind = any<VisitKind>(kVisitKindCount);
    o.start = day();
    o.end = maybe([&] { return o.start.plusDays(number(0, 60)); });
    o.segments = {{1, int(number(1, 2)), int(number(1, 8)), false, ""}};
    if (flip())
        o.segments.push_back({0, 2, 0, true, "leak at the site"});
    o.allowedDays = WeekdaySet::fromBits(unsigned(flip() ? 0 : 0x7f));
    o.length = maybe([&] { return Minutes::of(number(5, 200)); });
    o.needs = SkillSet::fromBits(unsigned(number(0, 63)));
    o.leastGap = maybe([&] { return Days::of(number(0, 3)); });
    o.mostGap = maybe([&] { return Days::of(number(3, 9)); });
    o.twoNurses = flip();
    o.prescriber = text();
    o.after = {};
    if (!world_.visitOrders.empty() && flip()) {
        o.after.order = pick(world_.visitOrders).id;
        if (o.after.order == o.id)
            o.after.order.reset();
        else
            fillGap(o.after);
    }
}
void WorldBuilder::fill(Visit &v) {
    v.patient = pick(world_.patients).id;
    v.order = maybe([&] { return pick(world_.visitOrders).id; });
    v.kind = any<VisitKind>(kVisitKindCount);
    v.status = any<VisitStatus>(6);
    v.dueFrom = day();
    v.dueTo = v.dueFrom.plusDays(number(1, 7));
    v.length = Minutes::of(number(5, 200));
    v.needs = SkillSet::fromBits(unsigned(number(0, 63)));
    v.twoNurses = flip();
    v.on = v.dueFrom;
    v.startAt = Minutes::of(number(0, 1439));
    v.nurse = pick(world_.nurses).id;
    v.secondNurse = maybe([&] { return nurseOtherThan(*v.nurse); });
    if (v.status == VisitStatus::Due && flip()) {
        v.on.reset();
        v.startAt.reset();
        v.nurse.reset();
        v.secondNurse.reset();
    }
    v.dayIsLocked = flip();
    v.nurseIsLocked = flip();
    v.timeIsLocked = flip();
    v.startedAt = maybe([&] { return moment(); });
    v.endedAt.reset();
    if (v.startedAt)
        v.endedAt = LocalTime{v.startedAt->date.plusDays(1), Minutes::of(3)};
    v.driven = maybe([&] { return Metres::of(number(0, 90000)); });
    v.drivenIsEstimated = v.driven && flip();
    v.missReason = v.status == VisitStatus::Missed || v.status == VisitStatus::Cancelled ? any<MissReason>(7)
                                                                                         : MissReason::None;
    v.prescriberToldAt = maybe([&] { return moment(); });
    v.note = text();
    v.after = {};
    if (!v.order && !world_.visitOrders.empty() && flip()) {
        if (flip() && !world_.visits.empty() && pick(world_.visits).id != v.id)
            v.after.visit =
                world_.visits.front().id == v.id ? world_.visits.back().id : world_.visits.front().id;
        else
            v.after.order = pick(world_.visitOrders).id;
        if (v.after.visit == v.id)
            v.after.visit.reset();
        if (v.after.isSet())
            fillGap(v.after);
    }
    v.isDropped = v.status == VisitStatus::Cancelled && v.order && flip();
}
void WorldBuilder::fillGap(ComesAfter &after) {
    after.unit = any<GapUnit>(2);
    after.least = int(number(0, 6));
    after.most = after.least + int(number(0, 20));
    after.byAnother = flip();
}
void WorldBuilder::fill(DrainOrder &o) {
    o.catheter = pick(world_.catheters).id;
    o.pattern = {};
    o.pattern.kind = any<DrainPatternKind>(3);
    o.pattern.everyDays = int(number(1, 60));
    o.pattern.anchor = day();
    o.pattern.timesAWeek = int(number(1, 7));
    if (o.pattern.kind != DrainPatternKind::TimesAWeek)
        o.pattern.weekdays = WeekdaySet::fromBits(unsigned(number(0, 127)));
    o.pattern.mostPerDay = maybe([&] { return int(number(1, 2)); });
    o.pattern.mostPerWeek = maybe([&] { return int(number(2, 9)); });
    o.start = day();
    o.end = maybe([&] { return o.start.plusDays(number(0, 60)); });
    o.mostPerSession = maybe([&] { return Millilitres::of(number(1, 2000)); });
    o.kit = pick(world_.items).id;
    o.extraBottle = maybe([&] { return pick(world_.items).id; });
    o.allowsSubstitute = flip();
    o.prescriber = text();
    o.isVerbal = flip();
    o.signedOn = maybe([&] { return day(); });
    o.callParameters = text();
    o.replaces.reset();
    if (!world_.drainOrders.empty() && flip())
        if (const DrainOrderId other = pick(world_.drainOrders).id; other != o.id)
            o.replaces = other;
}
void WorldBuilder::fill(DrainEntry &e) {
    e.catheter = pick(world_.catheters).id;
    e.at = moment();
    e.timeIsKnown = flip();
    e.outcome = any<DrainOutcome>(3);
    const bool drained = e.outcome == DrainOutcome::Drained;
    e.volume = maybe([&] { return Millilitres::of(drained ? number(0, 2500) : 0); });
    e.supplies.clear();
    for (int i = 0; i < 3; ++i) {
        const auto [item, lot] = itemAndLot();
        const BottleUse use{item, Eaches::of(e.outcome == DrainOutcome::NotDone ? 0 : number(0, 3)),
                            Eaches::of(number(0, 2)), lot};
        const bool isThere = std::any_of(e.supplies.begin(), e.supplies.end(), [&](const BottleUse &other) {
            return other.item == use.item && other.lot == use.lot;
        });
        if (!isThere && flip())
            e.supplies.push_back(use);
    }
    e.symptoms = someOf<Symptom>(kSymptomCount);
    e.source = any<EntrySource>(4);
    e.visit = maybe([&] { return pick(world_.visits).id; });
    e.note = text();
    e.corrects.reset();
    if (!world_.drainEntries.empty() && flip())
        if (const DrainEntryId other = pick(world_.drainEntries).id; other != e.id)
            e.corrects = other;
    e.isVoid = flip();
}
void WorldBuilder::fill(HomeCount &c) {
    c.catheter = pick(world_.catheters).id;
    c.item = pick(world_.items).id;
    c.at = moment();
    c.counted = Eaches::of(number(0, 40));
    c.source = any<EntrySource>(4);
    c.note = text();
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
        d.lines.push_back({pick(world_.catheters).id, item, lot, Eaches::of(number(1, 30))});
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
void WorldBuilder::fill(Plan &p) {
    if (!p.id.isSet()) {
        p.weekStart = Date::of(2026, 1, 4).plusDays(7 * number(0, 20));
        p.version = int(++codes_);
    }
    p.status = any<PlanStatus>(3);
    p.publishedAt = instant();
    p.publishedBy = maybe([&] { return pick(world_.users).id; });
    p.seed = number(-5, 1'000'000'000'000);
    p.cost = random_.uniform() * 10000;
    p.visits.clear();
    for (const Visit &visit : world_.visits) {
        if (p.visits.size() >= 5)
            break;
        const NurseId nurse = pick(world_.nurses).id;
        p.visits.push_back({visit.id, p.weekStart.plusDays(number(0, 6)), Minutes::of(number(0, 1439)), nurse,
                            maybe([&] { return nurseOtherThan(nurse); }), Minutes::of(number(0, 90)),
                            maybe([&] { return pick(world_.deliveries).id; })});
    }
    random_.shuffle(p.visits);
}
void WorldBuilder::fill(PlanTold &t) {
    t.nurse = pick(world_.nurses).id;
    t.on = day();
    t.at = moment();
    t.by = word();
    t.note = text();
    t.takenBackAt = maybe([&] { return moment(); });
    t.takenBackBy = t.takenBackAt ? std::optional(pick(world_.users).id) : std::nullopt;
    t.takenBackWhy = t.takenBackAt ? word() : std::string();
    t.visits.clear();
    for (std::int64_t i = number(0, 3); i > 0; --i)
        t.visits.push_back({pick(world_.visits).id, Minutes::of(number(0, 1439))});
}
void WorldBuilder::fill(PatientTold &t) {
    t.patient = pick(world_.patients).id;
    t.at = moment();
    t.reached = any<Reached>(4);
    t.by = pick(world_.users).id;
    t.note = text();
    t.takenBackAt = maybe([&] { return moment(); });
    t.takenBackBy = t.takenBackAt ? std::optional(pick(world_.users).id) : std::nullopt;
    t.takenBackWhy = t.takenBackAt ? word() : std::string();
    t.visits.clear();
    for (std::int64_t i = number(1, 3); i > 0; --i) {
        ToldPlace told{pick(world_.visits).id, {}};
        if (flip()) {
            const NurseId nurse = pick(world_.nurses).id;
            told.place = {day(), Minutes::of(number(0, 1439)), nurse,
                          maybe([&] { return nurseOtherThan(nurse); })};
        }
        t.visits.push_back(told);
    }
}
void WorldBuilder::fill(CallItem &c) {
    c.patient = pick(world_.patients).id;
    c.catheter = maybe([&] { return pick(world_.catheters).id; });
    c.kind = any<CautionKind>(13);
    c.urgency = any<CautionUrgency>(4);
    c.subject = code();
    c.raisedAt = moment();
    c.evidence = several([&] { return text(); });
    c.status = any<CallItemStatus>(2);
    c.owner = text();
    c.closedAt.reset();
    if (c.status == CallItemStatus::Closed)
        c.closedAt = LocalTime{c.raisedAt.date.plusDays(1), Minutes::of(9)};
    c.outcome = word();
}
void WorldBuilder::fill(PhoneCall &c) {
    c.patient = maybe([&] { return pick(world_.patients).id; });
    c.at = moment();
    c.caller = text();
    c.topic = any<CallTopic>(3);
    c.words = text();
    c.owner = text();
    c.closedAt = maybe([&] { return LocalTime{c.at.date.plusDays(1), Minutes::of(9)}; });
    c.outcome = text();
}
void WorldBuilder::fill(Incident &i) {
    const auto later = [&](std::int64_t days) {
        return maybe([&, days] { return i.at.date.plusDays(days); });
    };
    i.kind = any<IncidentKind>(6);
    i.harm = any<IncidentHarm>(5);
    i.patient = maybe([&] { return pick(world_.patients).id; });
    i.lot = maybe([&] { return pick(world_.lots).id; });
    i.device = text();
    i.at = moment();
    i.learnedOn = i.at.date.plusDays(1);
    i.facts = word();
    i.keptPlace = text();
    i.prescriberToldOn = later(1);
    i.supplierToldOn = later(2);
    i.told = text();
    i.owner = word();
    i.reportDueOn = later(10);
    i.reportedOn = later(3);
    i.closedOn = i.reportDueOn && !i.reportedOn ? std::nullopt : later(20);
    i.outcome = word();
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
