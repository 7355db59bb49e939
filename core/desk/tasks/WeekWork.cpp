// A week's plan becomes the visits nurses make, and what happened on them is closed.
#include "core/calendar/Weeks.h"
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/views/PatientCalls.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/rounds/travel/Travel.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {
namespace {

bool isClosed(VisitStatus status) {
    return status == VisitStatus::Done || status == VisitStatus::Missed || status == VisitStatus::Cancelled;
}
bool isSamePlacement(const Visit &a, const Visit &b) {
    return a.on == b.on && a.startAt == b.startAt && a.nurse == b.nurse && a.secondNurse == b.secondNurse;
}

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

class Accepting {
public:
    // `carried`: deliveries that have their visit by now, in this week or another of the same step.
    using Carried = std::vector<std::pair<DeliveryId, VisitId>>;
    Accepting(store::UnitOfWork &unit, const Agency &agency, Date weekStart, bool publish, Carried &carried)
        : unit_(unit), index_(agency.index()), week_{weekStart, weekStart + Days::of(7)}, publish_(publish),
          carried_(carried) {}

    Result<std::vector<Visit>> saveVisits(const std::vector<Visit> &visits) {
        Problems wrong;
        for (std::size_t i = 0; i < visits.size(); ++i)
            for (Problem &p : wrongWith(index_, visits[i], week_)) {
                p.row = static_cast<int>(i) + 1;
                wrong.push_back(std::move(p));
            }
        if (!wrong.empty())
            return joined(std::move(wrong));
        std::vector<Visit> stored;
        for (const Visit &visit : visits) {
            const Visit *before = index_.visit(visit.id);
            if (before && isClosed(before->status)) {
                stored.push_back(*before); // it happened; no plan changes it
                continue;
            }
            if (!visit.id.isSet() && !visit.on)
                continue; // still owed: the order says so again the next time it is asked
            const Visit wanted = withStatus(visit, before);
            if (before && *before == wanted) {
                stored.push_back(*before);
                continue;
            }
            Result<Visit> saved = unit_.save(wanted);
            if (!saved)
                return saved.error();
            stored.push_back(*saved);
        }
        return stored;
    }

    // A parcel that a visit is to carry goes with whoever makes the visit, on its day. One whose visit has
    // lost its place waits for another.
    Result<void> attachDeliveries(const std::vector<Visit> &visits) {
        for (const Delivery &delivery : index_.snapshot().deliveries) {
            if (delivery.status != DeliveryStatus::Promised || delivery.way != DeliveryWay::WithVisit ||
                isAttached(delivery.id))
                continue;
            const auto own =
                delivery.visit ? std::ranges::find(visits, *delivery.visit, &Visit::id) : visits.end();
            const bool isHere = own != visits.end();
            if (delivery.visit && (!isHere || isClosed(own->status)))
                continue; // it stands in another week, or somebody has yet to say what became of it
            const Visit *carrier = carrierOf(delivery, visits, isHere ? &*own : nullptr);
            Delivery attached = delivery;
            attached.visit = carrier ? std::optional(carrier->id) : std::nullopt;
            if (carrier) {
                carried_.push_back({delivery.id, carrier->id});
                attached.carriedBy = carrier->nurse;
                attached.promisedFor = *carrier->on;
            } else if (isHere) {
                attached.carriedBy.reset();
            }
            if (attached == delivery)
                continue;
            if (Result<Delivery> saved = unit_.save(attached); !saved)
                return saved.error();
        }
        return {};
    }

    std::vector<PlannedVisit> planned(const std::vector<Visit> &visits) const {
        std::vector<PlannedVisit> list;
        for (const Visit &visit : visits) {
            if (!visit.on || !visit.startAt || !visit.nurse || visit.status == VisitStatus::Cancelled)
                continue;
            PlannedVisit planned;
            planned.visit = visit.id;
            planned.on = *visit.on;
            planned.startAt = *visit.startAt;
            planned.nurse = *visit.nurse;
            planned.secondNurse = visit.secondNurse;
            for (const Delivery *delivery : index_.deliveriesOf(visit.patient))
                if (delivery->visit == visit.id && delivery->status != DeliveryStatus::Cancelled &&
                    !isAttached(delivery->id))
                    planned.carries = delivery->id;
            for (const auto &[delivery, carrier] : carried_)
                if (carrier == visit.id)
                    planned.carries = delivery;
            list.push_back(planned);
        }
        return list;
    }

private:
    // Its own visit as long as that comes in time, else the patient's first that does; late is better than
    // never.
    static const Visit *carrierOf(const Delivery &delivery, const std::vector<Visit> &visits,
                                  const Visit *own) {
        const Date latest = delivery.deliverBy.value_or(delivery.promisedFor);
        const auto isPlanned = [&](const Visit &visit) {
            return visit.patient == delivery.patient && visit.on && visit.status == VisitStatus::Published;
        };
        if (own && isPlanned(*own) && *own->on <= latest)
            return own;
        const Visit *first = nullptr;
        for (const Visit &visit : visits)
            if (isPlanned(visit) && *visit.on <= latest &&
                (!first || std::pair(visit.on, visit.startAt) < std::pair(first->on, first->startAt)))
                first = &visit;
        return first || !own || !isPlanned(*own) ? first : own;
    }
    bool isAttached(DeliveryId id) const {
        return std::ranges::any_of(carried_, [&](const auto &pair) { return pair.first == id; });
    }
    // A draft leaves what is published as it is, as long as it stands where it was.
    Visit withStatus(Visit visit, const Visit *before) const {
        if (!visit.on) {
            visit.status = VisitStatus::Due;
            visit.startAt.reset();
            visit.nurse.reset();
            visit.secondNurse.reset();
        } else if (publish_) {
            visit.status = VisitStatus::Published;
        } else {
            const bool stands =
                before && before->status == VisitStatus::Published && isSamePlacement(*before, visit);
            visit.status = stands ? VisitStatus::Published : VisitStatus::Drafted;
        }
        return visit;
    }

    store::UnitOfWork &unit_;
    const SnapshotIndex &index_;
    DateRange week_;
    bool publish_;
    Carried &carried_;
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

Result<Plan> storePlan(store::UnitOfWork &unit, const Agency &agency, const std::vector<Plan> &versions,
                       const Desk::PlanRecord &wanted, bool publish, Accepting::Carried &carried,
                       const Publisher &publisher) {
    const Date start = calendar::weekStartOf(wanted.weekStart, agency.settings().weekStart);
    if (start != wanted.weekStart)
        return problem(ProblemCode::OutOfRange, "week_start",
                       {wanted.weekStart.toIso(), start.toIso(), start.toIso()});
    Accepting accepting(unit, agency, wanted.weekStart, publish, carried);
    Result<std::vector<Visit>> stored = accepting.saveVisits(wanted.visits);
    if (!stored)
        return stored.error();
    if (publish)
        if (Result<void> done = accepting.attachDeliveries(*stored); !done)
            return done.error();
    Result<Plan> plan = nextPlan(unit, versions, wanted.weekStart, publish);
    if (!plan)
        return plan;
    plan->seed = wanted.seed;
    plan->cost = wanted.cost;
    plan->visits = accepting.planned(*stored);
    if (publish) {
        plan->status = PlanStatus::Published;
        plan->publishedAt = publisher.at;
        plan->publishedBy = publisher.by;
    }
    fillTravel(plan->visits, agency.index(), *stored);
    return unit.save(*plan);
}

enum class Publishing : std::uint8_t { No, Yes, AsBefore };

// One week after the other: a delivery carried in one is not free in the next.
Result<std::vector<Plan>> storePlans(store::AgencyFile &file, store::UnitOfWork &unit, const Agency &agency,
                                     const std::vector<Desk::PlanRecord> &weeks, Publishing publishing,
                                     const Publisher &publisher) {
    std::vector<Plan> plans;
    Accepting::Carried carried;
    for (const Desk::PlanRecord &week : weeks) {
        const Result<std::vector<Plan>> versions = file.planVersions(week.weekStart);
        if (!versions)
            return versions.error();
        const bool publish =
            publishing == Publishing::Yes ||
            (publishing == Publishing::AsBefore &&
             std::ranges::find(*versions, PlanStatus::Published, &Plan::status) != versions->end());
        Result<Plan> plan = storePlan(unit, agency, *versions, week, publish, carried, publisher);
        if (!plan)
            return plan.error();
        plans.push_back(*std::move(plan));
    }
    return plans;
}

// What she worked that day stands as shifts of their own; nothing worked is a day off.
Result<void> saveAbsence(store::UnitOfWork &unit, const Agency &agency, const Desk::CallOutRecord &out) {
    const Snapshot &snapshot = agency.snapshot();
    std::vector<Shift> worked = shiftsIn({out.on, out.on.plusDays(1)}, snapshot.nurses,
                                         snapshot.shiftPatterns, snapshot.extraShifts, snapshot.timeOff);
    std::erase_if(worked, [&](const Shift &shift) {
        return shift.nurse != out.nurse || !out.until || shift.from >= *out.until;
    });
    if (worked.empty()) {
        TimeOff off;
        off.nurse = out.nurse;
        off.kind = out.kind;
        off.from = out.on;
        off.to = out.on.plusDays(1);
        off.note = out.note;
        const Result<TimeOff> saved = unit.save(off);
        return saved ? Result<void>{} : saved.error();
    }
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
    return {};
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
        if (stored && isClosed(stored->status))
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

Result<PlanTold> Desk::tellPlan(const PlanTold &told) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PlanTold> {
        if (!agency.index().nurse(told.nurse))
            return unknown("nurse", "nurse_id", told.nurse);
        if (told.on < agency.today())
            return problem(ProblemCode::OutOfRange, "told_for",
                           {told.on.toIso(), agency.today().toIso(), ""});
        PlanTold now = told;
        now.at = inner_->now();
        return unit.save(now);
    });
}

Result<PatientTold> Desk::tellPatient(const PatientTold &told) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PatientTold> {
        if (!agency.index().patient(told.patient))
            return unknown("patient", "patient_id", told.patient);
        const CallFit fit = callFit(agency, told);
        if (fit == CallFit::MovedOn)
            return problem(ProblemCode::Conflict, "visits", {"visits_moved_on"});
        if (fit == CallFit::Known)
            return problem(ProblemCode::NotAllowed, "patient_id", {"not_to_phone"});
        PatientTold now = told;
        now.at = inner_->now();
        now.by = inner_->user;
        return unit.save(now);
    });
}

Result<PatientTold> Desk::takeBackCall(PatientToldId call, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PatientTold> {
        const auto &calls = agency.snapshot().patientTold;
        const auto found = std::ranges::find(calls, call, &PatientTold::id);
        if (found == calls.end())
            return unknown("patient_told", "id", call);
        if (found->isTakenBack())
            return problem(ProblemCode::NotAllowed, "id", {"already"});
        PatientTold back = *found;
        back.takenBackAt = inner_->now();
        back.takenBackBy = inner_->user;
        back.takenBackWhy = why;
        return unit.save(back);
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
                return problem(ProblemCode::OutOfRange, field, {toIso(*moment), "", toIso(now)});
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
