// Leaving service, a catheter that comes out, and the call list.
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/DeskInner.h"

#include <algorithm>

namespace kitround::desk {
namespace {

Result<void> endHolds(store::UnitOfWork &unit, const Agency &agency, PatientId patient, Date on) {
    for (const Hold *hold : agency.index().holdsOf(patient)) {
        if (hold->to && *hold->to <= on)
            continue;
        if (hold->from > on) {
            if (Result<void> done = unit.remove(hold->id, hold->rowVersion); !done)
                return done;
            continue;
        }
        Hold ended = *hold;
        ended.to = std::max(on, hold->from);
        if (Result<Hold> saved = unit.save(ended); !saved)
            return saved.error();
    }
    return {};
}

// Which open calls an exit makes pointless. A recalled lot in the house stays a call whatever happened; what
// is left of a symptom has to be told to the next carer, but nobody rings a bereaved family about it.
bool isPointlessAfter(CareStatus exit, CautionKind kind) {
    if (kind == CautionKind::RecalledLotAtHome)
        return false;
    return exit == CareStatus::Deceased || kind == CautionKind::Silence ||
           kind == CautionKind::NoMaximumOnOrder || kind == CautionKind::NoOrder;
}

Result<int> closeCalls(store::UnitOfWork &unit, const Agency &agency, const ExitRecord &record,
                       LocalTime now) {
    int closed = 0;
    for (const CallItem &item : agency.snapshot().callItems) {
        if (item.patient != record.patient || item.status == CallItemStatus::Closed ||
            !isPointlessAfter(record.to, item.kind))
            continue;
        CallItem done = item;
        done.status = CallItemStatus::Closed;
        done.closedAt = now;
        done.outcome = "left service: " + record.reason;
        if (Result<CallItem> saved = unit.save(done); !saved)
            return saved.error();
        ++closed;
    }
    return closed;
}

// `inner`: the desk's own, which has no name here.
template <class Inner>
Result<ExitEffect> leave(Inner &inner, store::UnitOfWork &unit, const Agency &agency,
                         const ExitRecord &record) {
    const Patient *before = agency.index().patient(record.patient);
    if (!before)
        return unknown("patient", "patient_id", record.patient);
    if (isExit(before->status))
        return problem(ProblemCode::NotAllowed, "status", {"left_service"});
    if (!isExit(record.to))
        return problem(ProblemCode::UnknownChoice, "status", {"", "discharged, transferred, deceased"});
    if (record.reason.empty())
        return problem(ProblemCode::Missing, "exit_reason");
    if (record.at > inner.nowUtc())
        return problem(ProblemCode::OutOfRange, "exited_at",
                       {toIso(inner.toLocal(record.at)), "", toIso(inner.now())});
    const LocalTime at = inner.toLocal(record.at);
    Patient left = *before;
    left.status = record.to;
    left.exitedAt = record.at;
    left.exitReason = record.reason;
    if (Result<Patient> saved = unit.save(left); !saved)
        return saved.error();
    if (Result<void> done = endHolds(unit, agency, record.patient, at.date); !done)
        return done.error();
    StopCare stop;
    stop.patient = record.patient;
    stop.at = at;
    stop.now = inner.now();
    stop.why = record.reason;
    stop.carParcels = record.carParcels;
    Result<ExitEffect> effect = stopCare(unit, *inner.file, agency, stop);
    if (!effect)
        return effect;
    Result<int> closed = closeCalls(unit, agency, record, inner.now());
    if (!closed)
        return closed.error();
    effect->callsClosed = *closed;
    if (Result<void> done = unit.note(AuditAction::Update, "patient", record.patient.value(), kExitEnds);
        !done)
        return done.error();
    return effect;
}

} // namespace

// The step itself, without its end: what is shown is what happens, by the same rules.
Result<ExitEffect> Desk::previewExit(const ExitRecord &record) {
    if (inner_->file->mode() == store::OpenMode::ReadOnly)
        return problem(ProblemCode::FileReadOnly, "file", {inner_->file->path()});
    Result<AgencyPtr> current = inner_->latest();
    if (!current)
        return current.error();
    store::UnitOfWork unit(*inner_->file, inner_->user, inner_->clock->now());
    return leave(*inner_, unit, **current, record); // never committed
}

Result<ExitEffect> Desk::exitPatient(const ExitRecord &record) {
    return inner_->writeOn(
        [&](store::UnitOfWork &unit, const Agency &agency) { return leave(*inner_, unit, agency, record); });
}

Result<ExitEffect> Desk::removeCatheter(CatheterId catheter, Instant at, const std::string &reason,
                                        CameBack carParcels) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<ExitEffect> {
        const Catheter *before = agency.index().catheter(catheter);
        if (!before)
            return unknown("catheter", "catheter_id", catheter);
        if (before->removedAt)
            return problem(ProblemCode::NotAllowed, "removed_at",
                           {"catheter_removed", toIso(inner_->toLocal(*before->removedAt))});
        if (reason.empty())
            return problem(ProblemCode::Missing, "removal_reason");
        const LocalTime local = inner_->toLocal(at);
        if (at > inner_->nowUtc())
            return problem(ProblemCode::OutOfRange, "removed_at", {toIso(local), "", toIso(inner_->now())});
        if (before->insertedOn && local.date < *before->insertedOn)
            return problem(ProblemCode::EndBeforeStart, "removed_at",
                           {before->insertedOn->toIso(), toIso(local)});
        Catheter out = *before;
        out.removedAt = at;
        out.removalReason = reason;
        if (Result<Catheter> saved = unit.save(out); !saved)
            return saved.error();
        StopCare stop;
        stop.patient = before->patient;
        stop.onlyCatheter = catheter;
        stop.at = local;
        stop.now = inner_->now();
        stop.why = reason;
        stop.keepDischargeVisit = true;
        stop.carParcels = carParcels;
        return stopCare(unit, *inner_->file, agency, stop);
    });
}

Result<CallItem> Desk::raise(const CallItem &item) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<CallItem> {
        if (item.id.isSet())
            return problem(ProblemCode::NotAllowed, "call_item_id", {"stored_already"});
        for (const CallItem &other : agency.snapshot().callItems)
            if (other.subject == item.subject && other.kind == item.kind && other.patient == item.patient)
                return problem(ProblemCode::Duplicate, "subject", {item.subject});
        return unit.save(item);
    });
}

Result<void> Desk::closeCallItem(CallItemId item, const std::string &outcome) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<void> {
        const auto &items = agency.snapshot().callItems;
        const auto found = std::ranges::find(items, item, &CallItem::id);
        if (found == items.end())
            return unknown("call_item", "call_item_id", item);
        if (found->status == CallItemStatus::Closed)
            return problem(ProblemCode::NotAllowed, "status", {"closed"});
        if (outcome.empty())
            return problem(ProblemCode::Missing, "outcome");
        CallItem closed = *found;
        closed.status = CallItemStatus::Closed;
        closed.closedAt = inner_->now();
        closed.outcome = outcome;
        if (Result<CallItem> saved = unit.save(closed); !saved)
            return saved.error();
        return {};
    });
}

} // namespace kitround::desk
