// One order change, five effects: drain calendar, forecast, refill date, visits due and load, all shown from
// the effective date before anything is saved.
#include "core/calendar/DrainCalendar.h"
#include "core/calendar/Weeks.h"
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/DeskInner.h"
#include "core/forecast/HomeForecast.h"
#include "core/records/Validate.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/safety/Limits.h"
#include "core/safety/OrderQuestions.h"
#include "core/supply/ItemFit.h"
#include "core/supply/Refills.h"

#include <algorithm>
#include <string_view>

namespace kitround::desk {
namespace {

template <class Record, class Wanted>
std::vector<Record> only(const std::vector<Record> &records, Wanted wanted) {
    std::vector<Record> kept;
    std::ranges::copy_if(records, std::back_inserter(kept), wanted);
    return kept;
}

// The agency as it concerns one patient: what the engines need for one home, without copying the other logs.
Snapshot aroundPatient(const SnapshotIndex &index, PatientId patient) {
    const Snapshot &all = index.snapshot();
    const auto ofPatient = [&](const auto &record) { return record.patient == patient; };
    const auto ofCatheter = [&](const auto &record) {
        const Catheter *catheter = index.catheter(record.catheter);
        return catheter && catheter->patient == patient;
    };
    Snapshot s;
    s.asOf = all.asOf;
    s.now = all.now;
    s.logFrom = all.logFrom;
    s.settings = all.settings;
    s.payers = all.payers;
    s.items = all.items;
    s.lots = all.lots;
    s.nurses = all.nurses;
    s.suppliers = all.suppliers;
    s.patients = only(all.patients, [&](const Patient &p) { return p.id == patient; });
    s.catheters = only(all.catheters, ofPatient);
    s.drainOrders = only(all.drainOrders, ofCatheter);
    for (const Catheter &catheter : s.catheters) {
        const auto entries = index.entriesOf(catheter.id);
        s.drainEntries.insert(s.drainEntries.end(), entries.begin(), entries.end());
    }
    s.holds = only(all.holds, ofPatient);
    s.homeCounts = only(all.homeCounts, ofCatheter);
    s.refillContacts = only(all.refillContacts, ofPatient);
    s.deliveries = only(all.deliveries, ofPatient);
    s.balances = only(all.balances, [&](const StockBalance &b) {
        if (b.place.kind != PlaceKind::Home)
            return true;
        const Catheter *catheter = index.catheter(CatheterId(b.place.ref));
        return catheter && catheter->patient == patient;
    });
    s.visitOrders = only(all.visitOrders, ofPatient);
    s.visits = only(all.visits, ofPatient);
    s.callItems = only(all.callItems, ofPatient);
    return s;
}

// Not yet stored orders need an id of their own inside the engines' look-ups.
constexpr DrainOrderId kPreviewId = DrainOrderId(std::int64_t{1} << 62);

void putOrder(Snapshot &snapshot, const DrainOrder &order) {
    const auto at = std::ranges::find(snapshot.drainOrders, order.id, &DrainOrder::id);
    if (at != snapshot.drainOrders.end())
        *at = order;
    else
        snapshot.drainOrders.push_back(order);
}

template <class Value>
void keepEarliest(std::optional<Value> &kept, const std::optional<Value> &other) {
    if (other && (!kept || *other < *kept))
        kept = other;
}

OrderChangePreview::Figures figuresOf(const Snapshot &snapshot, const Catheter &catheter, Date effective) {
    const SnapshotIndex index(snapshot);
    const Date from = std::max(effective, snapshot.asOf);
    OrderChangePreview::Figures figures;
    if (const DrainOrder *order = index.orderInForce(catheter.id, from))
        figures.drainsPerWeek = 7 * calendar::drainsPerDay(order->pattern);
    for (const calendar::PlannedDrain &drain :
         calendar::plannedDrains(index.ordersOf(catheter.id), index.holdsOf(catheter.patient),
                                 {from, from + Days::of(14)}, snapshot.settings.weekStart))
        figures.drains.push_back(drain.on);

    // Another catheter of the same patient shares the delivery, so its forecast belongs to the refill date.
    std::vector<forecast::ItemForecast> forecasts;
    for (const Catheter *other : index.cathetersOf(catheter.patient)) {
        if (!index.isInService(*other))
            continue;
        for (forecast::ItemForecast &item : forecast::forecastHome(index, *other, {})) {
            if (other->id == catheter.id) {
                keepEarliest(figures.supplyEnds, item.plain.supplyEnds);
                keepEarliest(figures.runOutP50, item.runOutP50);
            }
            forecasts.push_back(std::move(item));
        }
    }
    for (const supply::RefillProposal &refill : supply::proposeRefills(index, forecasts))
        if (refill.patient == catheter.patient)
            keepEarliest(figures.refillBy, std::optional(refill.deliverBy));

    const DateRange thisWeek = calendar::weekOf(from, snapshot.settings.weekStart);
    for (const rounds::DueVisit &due : rounds::visitsDue(index, {thisWeek.to, thisWeek.to + Days::of(7)})) {
        if (due.visit.patient != catheter.patient)
            continue;
        ++figures.visitsDueNextWeek;
        figures.pointsNextWeek += visitPoints(snapshot.settings, due.visit.kind);
    }
    return figures;
}

// What may be changed on a version in place: the paper around it, and its end. Anything that changes what the
// home does is a new version.
bool isSameTreatment(const DrainOrder &a, const DrainOrder &b) {
    return a.catheter == b.catheter && a.pattern == b.pattern && a.start == b.start &&
           a.mostPerSession == b.mostPerSession && a.kit == b.kit && a.extraBottle == b.extraBottle &&
           a.allowsSubstitute == b.allowsSubstitute;
}

struct Versions {
    DrainOrder order;
    std::optional<DrainOrder> ends;
};

// The version the new one ends: the one in force on its first day. A later version that exists already is
// never silently overtaken; a version that starts the same day is replaced whole.
Result<Versions> versionsFor(const SnapshotIndex &index, const DrainOrder &wanted) {
    const Catheter *catheter = index.catheter(wanted.catheter);
    if (!catheter)
        return unknown("catheter", "catheter_id", wanted.catheter);
    const Patient *patient = index.patient(catheter->patient);
    if (!patient || isExit(patient->status))
        return problem(ProblemCode::NotAllowed, "catheter_id", {"left_service"});
    if (catheter->removedAt)
        return problem(ProblemCode::NotAllowed, "catheter_id", {"catheter_removed"});
    Versions versions{wanted, std::nullopt};
    if (wanted.id.isSet()) {
        const auto &all = index.snapshot().drainOrders;
        const auto stored = std::ranges::find(all, wanted.id, &DrainOrder::id);
        if (stored == all.end())
            return unknown("drain_order", "drain_order_id", wanted.id);
        if (!isSameTreatment(*stored, wanted))
            return problem(ProblemCode::NotAllowed, "drain_order_id", {"needs_new_version"});
        return versions;
    }
    versions.order.replaces.reset();
    for (const DrainOrder *other : index.ordersOf(wanted.catheter)) {
        const bool isEmpty = other->end && *other->end <= other->start;
        if (isEmpty)
            continue;
        if (other->start > wanted.start && (!wanted.end || other->start < *wanted.end))
            return problem(ProblemCode::Conflict, "start", {"later_order", other->start.toIso()});
        if (other->start <= wanted.start && (!other->end || wanted.start < *other->end)) {
            versions.ends = *other;
            versions.ends->end = wanted.start;
            versions.order.replaces = other->id;
        }
    }
    return versions;
}

Problems warningsFor(const SnapshotIndex &index, const DrainOrder &order) {
    Problems warnings;
    const Catheter *catheter = index.catheter(order.catheter);
    const Patient *patient = catheter ? index.patient(catheter->patient) : nullptr;
    if (!catheter || !patient)
        return warnings;
    for (const std::string_view field : safety::unsaidBy(order))
        warnings.push_back(problem(ProblemCode::Missing, std::string(field)));
    if (order.mostPerSession && *order.mostPerSession > safety::commonMaximum(catheter->site))
        warnings.push_back(problem(ProblemCode::OutOfRange, "most_per_session_ml",
                                   {std::to_string(order.mostPerSession->count()), "",
                                    std::to_string(safety::commonMaximum(catheter->site).count()),
                                    catheter->site == CavitySite::Abdomen ? "abdomen" : "chest"}));
    for (Problem &bar : barred(index, *patient, *catheter, order.kit))
        warnings.push_back(std::move(bar));
    if (order.extraBottle)
        for (Problem &bar : barred(index, *patient, *catheter, *order.extraBottle))
            warnings.push_back(std::move(bar));
    const Item *kit = index.item(order.kit);
    if (kit && supply::isFitUnknown(*kit, *catheter))
        warnings.push_back(problem(ProblemCode::Missing, "connector", {kit->connector}));
    return warnings;
}

} // namespace

Result<OrderChangePreview> Desk::previewOrder(const DrainOrder &newOrder) const {
    if (Problems wrong = validate(newOrder); !wrong.empty())
        return joined(std::move(wrong));
    Result<AgencyPtr> agency = inner_->latest();
    if (!agency)
        return agency.error();
    const SnapshotIndex &index = (*agency)->index();
    const Date today = (*agency)->today();
    if (newOrder.signedOn && *newOrder.signedOn > today) // nobody signs tomorrow
        return problem(ProblemCode::OutOfRange, "signed_on", {newOrder.signedOn->toIso(), "", today.toIso()});
    if (!index.item(newOrder.kit))
        return unknown("item", "kit_id", newOrder.kit);
    if (newOrder.extraBottle && !index.item(*newOrder.extraBottle))
        return unknown("item", "extra_bottle_id", *newOrder.extraBottle);
    Result<Versions> versions = versionsFor(index, newOrder);
    if (!versions)
        return versions.error();
    const Catheter &catheter = *index.catheter(newOrder.catheter);
    OrderChangePreview preview;
    preview.order = versions->order;
    preview.endsOrder = versions->ends;
    Snapshot changed = aroundPatient(index, catheter.patient);
    preview.before = figuresOf(changed, catheter, newOrder.start);
    if (preview.endsOrder)
        putOrder(changed, *preview.endsOrder);
    DrainOrder asIfStored = preview.order;
    if (!asIfStored.id.isSet())
        asIfStored.id = kPreviewId;
    putOrder(changed, asIfStored);
    preview.after = figuresOf(changed, catheter, newOrder.start);
    preview.warnings = warningsFor(index, preview.order);
    return preview;
}

Result<DrainOrder> Desk::acceptOrder(const OrderChangePreview &preview) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<DrainOrder> {
        // What was shown must still be what happens.
        Result<Versions> now = versionsFor(agency.index(), preview.order);
        if (!now)
            return now.error();
        if (now->ends != preview.endsOrder)
            return problem(ProblemCode::ChangedMeanwhile, "drain_order", {"drain_order"});
        if (preview.endsOrder)
            if (Result<DrainOrder> ended = unit.save(*preview.endsOrder); !ended)
                return ended;
        return unit.save(preview.order);
    });
}

} // namespace kitround::desk
