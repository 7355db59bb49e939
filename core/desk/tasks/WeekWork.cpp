// A week's plan becomes the visits nurses make, and what happened on them is closed.
#include "core/calendar/Weeks.h"
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/views/PlanAsStored.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/rounds/travel/Travel.h"

#include <algorithm>
#include <tuple>
#include <unordered_map>

namespace kitround::desk {
namespace {

// What a plan made on an older picture of the agency may not do any more.
Problems wrongWith(const SnapshotIndex &index, const Visit &visit, const DateRange &week) {
    Problems wrong;
    const Patient *patient = index.patient(visit.patient);
    if (!patient)
        return {unknown("patient", "patient_id", visit.patient)};
    if (!visit.on)
        return wrong;
    if (!week.contains(*visit.on))
        wrong.push_back(problem(ProblemCode::OutOfRange, "on",
                                {visit.on->toIso(), week.from.toIso(), (week.to - Days::of(1)).toIso()}));
    if (!visit.startAt)
        wrong.push_back(problem(ProblemCode::Missing, "start_min"));
    if (!visit.nurse)
        wrong.push_back(problem(ProblemCode::Missing, "nurse_id"));
    else if (const Nurse *nurse = index.nurse(*visit.nurse); !nurse)
        wrong.push_back(unknown("nurse", "nurse_id", *visit.nurse));
    else if (!nurse->isActive)
        wrong.push_back(problem(ProblemCode::Conflict, "nurse_id", {"nurse_inactive", nurse->code}));
    if (visit.twoNurses && !visit.secondNurse)
        wrong.push_back(problem(ProblemCode::Missing, "second_nurse_id"));
    if (isExit(patient->status))
        wrong.push_back(problem(ProblemCode::Conflict, "patient_id", {"left_service", patient->code}));
    if (const Hold *hold = index.holdOn(visit.patient, *visit.on);
        hold && !rounds::isUnderWay(index.snapshot(), visit))
        wrong.push_back(problem(ProblemCode::Conflict, "on", {"on_hold", patient->code, hold->from.toIso()}));
    return wrong;
}

// Minutes of travel to each visit from the stop before it, or from where the nurse starts. `visits` are those
// of the plan: new ones are not in the index yet.
void fillTravel(std::vector<PlannedVisit> &planned, const SnapshotIndex &index,
                const std::vector<Visit> &visits) {
    std::ranges::stable_sort(planned, {},
                             [](const PlannedVisit &p) { return std::tuple(p.nurse, p.on, p.startAt); });
    const AgencySettings &settings = index.snapshot().settings;
    const auto placeOf = [](const Address &address) {
        return rounds::TravelPlace{address.point, address.area};
    };
    const auto homeOf = [&](VisitId id) -> std::optional<rounds::TravelPlace> {
        const auto visit = std::ranges::find(visits, id, &Visit::id);
        const Patient *patient = visit == visits.end() ? nullptr : index.patient(visit->patient);
        return patient ? std::optional(placeOf(patient->address)) : std::nullopt;
    };
    for (std::size_t i = 0; i < planned.size(); ++i) {
        PlannedVisit &stop = planned[i];
        const bool isFirst = i == 0 || planned[i - 1].nurse != stop.nurse || planned[i - 1].on != stop.on;
        std::optional<rounds::TravelPlace> from;
        if (!isFirst)
            from = homeOf(planned[i - 1].visit);
        else if (const Nurse *nurse = index.nurse(stop.nurse))
            from = placeOf(nurse->startsAtStoreroom ? settings.storeroom : nurse->base);
        const std::optional<rounds::TravelPlace> to = homeOf(stop.visit);
        if (from && to)
            stop.travelBefore = Minutes::of(rounds::travelTable({*from, *to}, settings).minutesBetween(0, 1));
    }
}

// The visits of one week, checked and saved, as they are stored.
Result<std::vector<Visit>> saveVisits(store::UnitOfWork &unit, const SnapshotIndex &index,
                                      const Desk::PlanRecord &wanted, bool publish) {
    const DateRange week{wanted.weekStart, wanted.weekStart + Days::of(7)};
    Problems wrong;
    for (std::size_t i = 0; i < wanted.visits.size(); ++i)
        for (Problem &p : wrongWith(index, wanted.visits[i], week)) {
            p.row = static_cast<int>(i) + 1;
            wrong.push_back(std::move(p));
        }
    if (!wrong.empty())
        return joined(std::move(wrong));
    std::vector<Visit> visits = visitsAsStored(wanted.visits, index, publish);
    for (Visit &visit : visits) {
        const Visit *before = index.visit(visit.id);
        if (before && *before == visit)
            continue;
        Result<Visit> saved = unit.save(visit);
        if (!saved)
            return saved.error();
        visit = *std::move(saved);
    }
    return visits;
}

// Which visit brings which parcel, once the visits of all weeks are saved.
class Parcels {
public:
    Parcels(store::UnitOfWork &unit, const SnapshotIndex &index) : unit_(unit), index_(index) {}

    // A parcel that a visit is to carry goes with whoever makes the visit, on its day. One whose visit has
    // lost its place waits for another.
    Result<void> attach(const std::vector<Visit> &visits) {
        for (const Delivery &delivery : index_.snapshot().deliveries) {
            if (delivery.status != DeliveryStatus::Promised || delivery.way != DeliveryWay::WithVisit)
                continue;
            const auto own =
                delivery.visit ? std::ranges::find(visits, *delivery.visit, &Visit::id) : visits.end();
            const bool isHere = own != visits.end();
            if (delivery.visit && (!isHere || hasHappened(own->status)))
                continue; // it stands in another week, or somebody has yet to say what became of it
            const Visit *carrier = carrierOf(delivery, visits, isHere ? &*own : nullptr);
            Delivery attached = delivery;
            attached.visit = carrier ? std::optional(carrier->id) : std::nullopt;
            if (carrier) {
                attached.carriedBy = carrier->nurse;
                attached.promisedFor = *carrier->on;
            } else if (isHere) {
                attached.carriedBy.reset();
            }
            if (attached == delivery)
                continue;
            if (Result<Delivery> saved = unit_.save(attached); !saved)
                return saved.error();
            changed_[delivery.id] = attached.visit;
        }
        return {};
    }

    void fillIn(std::vector<PlannedVisit> &places, const std::vector<Visit> &visits) const {
        for (PlannedVisit &place : places) {
            const auto visit = std::ranges::find(visits, place.visit, &Visit::id);
            for (const Delivery *delivery : index_.deliveriesOf(visit->patient))
                if (visitOf(*delivery) == place.visit && delivery->status != DeliveryStatus::Cancelled)
                    place.carries = delivery->id;
        }
    }

private:
    // Its own visit as long as that comes in time, else the patient's first that does; late is better than
    // never. None that has begun: the parcel is not packed.
    const Visit *carrierOf(const Delivery &delivery, const std::vector<Visit> &visits,
                           const Visit *own) const {
        const Date latest = delivery.deliverBy.value_or(delivery.promisedFor);
        const auto isAhead = [&](const Visit &visit) {
            return visit.patient == delivery.patient && visit.on && visit.status == VisitStatus::Published &&
                   !rounds::isUnderWay(index_.snapshot(), visit);
        };
        if (own && isAhead(*own) && *own->on <= latest)
            return own;
        const Visit *first = nullptr;
        for (const Visit &visit : visits)
            if (isAhead(visit) && *visit.on <= latest &&
                (!first || std::pair(visit.on, visit.startAt) < std::pair(first->on, first->startAt)))
                first = &visit;
        return first || !own || !isAhead(*own) ? first : own;
    }
    std::optional<VisitId> visitOf(const Delivery &delivery) const {
        const auto found = changed_.find(delivery.id);
        return found == changed_.end() ? delivery.visit : found->second;
    }

    store::UnitOfWork &unit_;
    const SnapshotIndex &index_;
    std::unordered_map<DeliveryId, std::optional<VisitId>> changed_;
};

// The draft in hand is written on; a published plan gets the next number and the one before steps back.
Result<Plan> nextPlan(store::UnitOfWork &unit, const std::vector<Plan> &versions, Date weekStart,
                      bool publish) {
    Plan plan;
    plan.weekStart = weekStart;
    for (const Plan &version : versions) {
        plan.version = std::max(plan.version, version.version + 1);
        if (!publish || version.status != PlanStatus::Published)
            continue;
        Plan old = version;
        old.status = PlanStatus::Superseded;
        if (Result<Plan> saved = unit.save(old); !saved)
            return saved;
    }
    for (const Plan &version : versions)
        if (version.status == PlanStatus::Draft)
            return version;
    return plan;
}

} // namespace

namespace {

struct Publisher {
    UserId by;
    Instant at;
};

enum class Publishing : std::uint8_t { No, Yes, AsBefore };

struct AcceptedWeek {
    std::vector<Plan> versions; // before
    bool publish = false;
    std::vector<Visit> visits; // as stored
};

Result<AcceptedWeek> acceptWeek(store::AgencyFile &file, store::UnitOfWork &unit, const Agency &agency,
                                const Desk::PlanRecord &wanted, Publishing publishing) {
    Result<std::vector<Plan>> versions = file.planVersions(wanted.weekStart);
    if (!versions)
        return versions.error();
    const Date start = calendar::weekStartOf(wanted.weekStart, agency.settings().weekStart);
    if (start != wanted.weekStart)
        return problem(ProblemCode::OutOfRange, "week_start",
                       {wanted.weekStart.toIso(), start.toIso(), start.toIso()});
    AcceptedWeek week;
    week.versions = *std::move(versions);
    week.publish = publishing == Publishing::Yes || (publishing == Publishing::AsBefore &&
                                                     std::ranges::find(week.versions, PlanStatus::Published,
                                                                       &Plan::status) != week.versions.end());
    Result<std::vector<Visit>> visits = saveVisits(unit, agency.index(), wanted, week.publish);
    if (!visits)
        return visits.error();
    week.visits = *std::move(visits);
    return week;
}

Result<Plan> storePlan(store::UnitOfWork &unit, const Agency &agency, const AcceptedWeek &week,
                       const Desk::PlanRecord &wanted, const Parcels &parcels, const Publisher &publisher) {
    Result<Plan> plan = nextPlan(unit, week.versions, wanted.weekStart, week.publish);
    if (!plan)
        return plan;
    plan->seed = wanted.seed;
    plan->cost = wanted.cost;
    plan->visits = placesAsStored(week.visits);
    parcels.fillIn(plan->visits, week.visits);
    if (week.publish) {
        plan->status = PlanStatus::Published;
        plan->publishedAt = publisher.at;
        plan->publishedBy = publisher.by;
    }
    fillTravel(plan->visits, agency.index(), week.visits);
    return unit.save(*plan);
}

// The parcels once for all weeks: what loses its visit in one may go with a visit of the next.
Result<std::vector<Plan>> storePlans(store::AgencyFile &file, store::UnitOfWork &unit, const Agency &agency,
                                     const std::vector<Desk::PlanRecord> &wanted, Publishing publishing,
                                     const Publisher &publisher) {
    std::vector<AcceptedWeek> weeks;
    std::vector<Visit> published;
    for (const Desk::PlanRecord &record : wanted) {
        Result<AcceptedWeek> week = acceptWeek(file, unit, agency, record, publishing);
        if (!week)
            return week.error();
        if (week->publish)
            published.insert(published.end(), week->visits.begin(), week->visits.end());
        weeks.push_back(*std::move(week));
    }
    Parcels parcels(unit, agency.index());
    if (Result<void> done = parcels.attach(published); !done)
        return done.error();
    std::vector<Plan> plans;
    for (std::size_t i = 0; i < weeks.size(); ++i) {
        Result<Plan> plan = storePlan(unit, agency, weeks[i], wanted[i], parcels, publisher);
        if (!plan)
            return plan.error();
        plans.push_back(*std::move(plan));
    }
    return plans;
}

Result<void> saveTimeOff(store::UnitOfWork &unit, const Desk::CallOutRecord &out, DateRange days) {
    if (days.from >= days.to)
        return {};
    TimeOff off;
    off.nurse = out.nurse;
    off.kind = out.kind;
    off.from = days.from;
    off.to = days.to;
    off.note = out.note;
    const Result<TimeOff> saved = unit.save(off);
    return saved ? Result<void>{} : saved.error();
}

// What she worked that day stands as shifts of their own; nothing worked is a day off, as are those after it.
Result<void> saveAbsence(store::UnitOfWork &unit, const Agency &agency, const Desk::CallOutRecord &out) {
    const Snapshot &snapshot = agency.snapshot();
    std::vector<Shift> worked = shiftsIn({out.on, out.on.plusDays(1)}, snapshot.nurses,
                                         snapshot.shiftPatterns, snapshot.extraShifts, snapshot.timeOff);
    std::erase_if(worked, [&](const Shift &shift) {
        return shift.nurse != out.nurse || !out.until || shift.from >= *out.until;
    });
    const Date end = std::max(out.on, out.lastDay.value_or(out.on)).plusDays(1);
    if (worked.empty())
        return saveTimeOff(unit, out, {out.on, end});
    for (const ExtraShift &extra : snapshot.extraShifts)
        if (extra.nurse == out.nurse && extra.on == out.on)
            if (const Result<void> gone = unit.remove(extra.id, extra.rowVersion); !gone)
                return gone.error();
    for (const Shift &shift : worked) {
        ExtraShift kept;
        kept.nurse = out.nurse;
        kept.on = out.on;
        kept.from = shift.from;
        kept.to = shift.to > shift.from ? std::min(shift.to, *out.until) : *out.until;
        kept.isOnCall = shift.isOnCall;
        if (const Result<ExtraShift> saved = unit.save(kept); !saved)
            return saved.error();
    }
    return saveTimeOff(unit, out, {out.on.plusDays(1), end});
}

} // namespace

Result<Plan> Desk::acceptPlan(Date weekStart, const std::vector<Visit> &visits, std::int64_t seed,
                              double cost, bool publish) {
    Result<std::vector<Plan>> plans = acceptPlans({{weekStart, visits, seed, cost}}, publish);
    if (!plans)
        return plans.error();
    return std::move(plans->front());
}

Result<std::vector<Plan>> Desk::acceptPlans(const std::vector<PlanRecord> &weeks, bool publish) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<std::vector<Plan>> {
        return storePlans(*inner_->file, unit, agency, weeks, publish ? Publishing::Yes : Publishing::No,
                          {inner_->user, inner_->clock->now()});
    });
}

Result<std::vector<Plan>> Desk::acceptCallOut(const CallOutRecord &out,
                                              const std::vector<PlanRecord> &weeks) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<std::vector<Plan>> {
        if (out.kind == TimeOffKind::Leave)
            if (const Result<void> may = inner_->mayDecideLeave("kind"); !may)
                return may.error();
        if (const Result<void> away = saveAbsence(unit, agency, out); !away)
            return away.error();
        return storePlans(*inner_->file, unit, agency, weeks, Publishing::AsBefore,
                          {inner_->user, inner_->clock->now()});
    });
}

Result<Visit> Desk::dropVisit(const Visit &visit, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Visit> {
        const Visit *stored = agency.index().visit(visit.id);
        if (visit.id.isSet() && !stored)
            return unknown("visit", "visit_id", visit.id);
        if (!visit.order)
            return problem(ProblemCode::Missing, "visit_order_id");
        if (stored && hasHappened(stored->status))
            return problem(ProblemCode::NotAllowed, "status", {"closed"});
        if (why.empty())
            return problem(ProblemCode::Missing, "note");
        Visit dropped = stored ? *stored : visit;
        dropped.status = VisitStatus::Cancelled;
        dropped.isDropped = true;
        dropped.note = why;
        if (const Result<void> freed = freeDeliveries(unit, agency, dropped); !freed)
            return freed.error();
        return unit.save(dropped);
    });
}

Result<Visit> Desk::closeVisit(const Visit &visit) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Visit> {
        const Visit *before = agency.index().visit(visit.id);
        if (!before)
            return unknown("visit", "visit_id", visit.id);
        if (visit.status != VisitStatus::Done && visit.status != VisitStatus::Missed)
            return problem(ProblemCode::UnknownChoice, "status", {"", "done, missed"});
        // A visit made all the same is written down; one that was called off cannot be missed as well.
        if (before->status == VisitStatus::Cancelled && visit.status == VisitStatus::Missed)
            return problem(ProblemCode::NotAllowed, "status", {"cancelled"});
        const LocalTime now = inner_->now();
        if (visit.status == VisitStatus::Missed && visit.missReason == MissReason::None)
            return problem(ProblemCode::Missing, "miss_reason");
        if (visit.status == VisitStatus::Done && !visit.startedAt)
            return problem(ProblemCode::Missing, "started_at");
        for (const auto &[moment, field] :
             {std::pair(visit.startedAt, "started_at"), std::pair(visit.endedAt, "ended_at"),
              std::pair(visit.prescriberToldAt, "prescriber_told_at")})
            if (moment && *moment > now)
                return problem(ProblemCode::NotAllowed, field, {"not_yet", toIso(*moment), toIso(now)});
        // The plan of the visit stays as it was; only what happened is taken.
        Visit closed = *before;
        closed.rowVersion = visit.rowVersion;
        closed.status = visit.status;
        closed.startedAt = visit.startedAt;
        closed.endedAt = visit.endedAt;
        closed.driven = visit.driven;
        closed.drivenIsEstimated = visit.driven && visit.drivenIsEstimated;
        closed.missReason = visit.status == VisitStatus::Missed ? visit.missReason : MissReason::None;
        closed.prescriberToldAt = visit.prescriberToldAt;
        closed.note = visit.note;
        closed.nurse = visit.nurse;
        closed.secondNurse = visit.secondNurse;
        Result<Visit> saved = unit.save(closed);
        if (!saved)
            return saved;
        if (closed.status == VisitStatus::Missed)
            if (const Result<void> freed = freeDeliveries(unit, agency, closed); !freed)
                return freed.error();
        const Patient *patient = agency.index().patient(closed.patient);
        if (closed.status == VisitStatus::Done && closed.kind == VisitKind::StartOfCare && patient &&
            patient->status == CareStatus::Referred) {
            Patient active = *patient;
            active.status = CareStatus::Active;
            if (!active.startOfCare)
                active.startOfCare = closed.startedAt->date;
            if (Result<Patient> done = unit.save(active); !done)
                return done.error();
        }
        return saved;
    });
}

Result<std::vector<Plan>> Desk::planVersions(Date weekStart) {
    return inner_->file->planVersions(weekStart);
}

} // namespace kitround::desk
