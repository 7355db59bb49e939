// Who works here and who is cared for, made up.
#include "tests/core/store/World.h"

#include <algorithm>

namespace kitround::store {

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
    p.deliverAtMostBefore = Days::of(number(0, p.contactAtMostBefore.count()));
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
} // namespace kitround::store
