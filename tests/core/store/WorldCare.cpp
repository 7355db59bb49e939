// Orders, visits, drains, and what became of plans, made up.
#include "tests/core/store/World.h"

namespace kitround::store {

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

} // namespace kitround::store
