// What the coordinator and the nurse manager decide: who is named for a patient, leave, kept what-ifs, areas
// closed to referrals.
#include "core/desk/tasks/TeamWork.h"
#include "core/caseload/AsNeeded.h"
#include "core/caseload/Assignment.h"
#include "core/desk/tasks/ComesAfterRules.h"
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/EventsDue.h"

#include <algorithm>

namespace kitround::desk {
namespace {

bool overlap(const IntakeClosure &a, const IntakeClosure &b) {
    return (!b.to || a.from < *b.to) && (!a.to || b.from < *a.to);
}

} // namespace

Result<void> checkNamed(const SnapshotIndex &index, Date today, PatientId patient, NurseId id,
                        const char *field) {
    const Nurse *nurse = index.nurse(id);
    if (!nurse)
        return unknown("nurse", field, id);
    if (!nurse->isActive)
        return problem(ProblemCode::NotAllowed, field, {"nurse_inactive", nurse->code});
    const auto lacking = caseload::lackingSkills(index, patient, *nurse, today);
    if (lacking.empty())
        return {};
    const caseload::LackingSkill &first = lacking.front();
    if (first.expiredOn)
        return problem(
            ProblemCode::NotAllowed, field,
            {"skill_expired", words(first.skill).toStdString(), first.expiredOn->toIso(), nurse->code});
    return problem(ProblemCode::NotAllowed, field,
                   {"skill_lacking", words(first.skill).toStdString(), nurse->code});
}

Result<void> checkAssignment(const Agency &agency, const Patient *before, const Patient &after) {
    // Only what is named now: a skill that ran out later is on the list of deadlines instead.
    const auto isNew = [&](std::optional<NurseId> Patient::*which) {
        return (after.*which) && (!before || before->*which != after.*which);
    };
    if (isNew(&Patient::primaryNurse))
        if (Result<void> ok =
                checkNamed(agency.index(), agency.today(), after.id, *after.primaryNurse, "primary_nurse_id");
            !ok)
            return ok;
    if (isNew(&Patient::backupNurse))
        return checkNamed(agency.index(), agency.today(), after.id, *after.backupNurse, "backup_nurse_id");
    return {};
}

Result<Visit> Desk::addVisit(const Visit &visit) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Visit> {
        const Patient *patient = agency.index().patient(visit.patient);
        if (!patient)
            return unknown("patient", "patient_id", visit.patient);
        if (isExit(patient->status))
            return problem(ProblemCode::NotAllowed, "patient_id", {"left_service"});
        if (visit.dueFrom < agency.today())
            return problem(ProblemCode::OutOfRange, "due_from",
                           {visit.dueFrom.toIso(), agency.today().toIso(), ""});
        if (visit.kind == VisitKind::AsNeeded) {
            const auto left = caseload::asNeededLeft(agency.index(), visit.patient, visit.dueFrom);
            if (!left)
                return problem(ProblemCode::NotAllowed, "kind", {"no_as_needed_order"});
            if (left->left() <= 0)
                return problem(ProblemCode::NotAllowed, "kind",
                               {"as_needed_used", std::to_string(left->allowed)});
        }
        // Of no order: the ordered visits of the week stay owed beside it.
        Visit due = rounds::blankVisit(agency.index(), *patient, visit.kind, {visit.dueFrom, visit.dueTo});
        due.status = VisitStatus::Due;
        due.note = visit.note;
        due.after = visit.after;
        if (Result<void> ok = checkComesAfter(agency, due); !ok)
            return ok.error();
        return unit.save(due);
    });
}

Result<void> Desk::Inner::mayDecideLeave(const char *field) const {
    const Result<User> who = me();
    if (!who)
        return who.error();
    if (who->role == UserRole::NurseManager)
        return {};
    return problem(ProblemCode::NotAllowed, field,
                   {"manager_only", who->name, words(who->role).toStdString()});
}

Result<TimeOff> Desk::save(const TimeOff &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<TimeOff> {
        const auto &all = agency.snapshot().timeOff;
        const auto before = std::ranges::find(all, record.id, &TimeOff::id);
        const bool isStored = record.id.isSet() && before != all.end();
        if (isStored && before->status != record.status)
            return problem(ProblemCode::NotAllowed, "status", {"use_decision"});
        // What was agreed to is what was asked for: other days are another request.
        if (isStored && before->status != LeaveStatus::Requested && before->decidedAt &&
            (before->from != record.from || before->to != record.to || before->nurse != record.nurse))
            return problem(ProblemCode::NotAllowed, "from", {"leave_decided"});
        const bool isAsItWas = isStored && before->kind == record.kind && before->nurse == record.nurse &&
                               before->from == record.from && before->to == record.to;
        if (!isStored && record.status == LeaveStatus::Requested && record.kind != TimeOffKind::Leave)
            return problem(ProblemCode::NotAllowed, "status", {"asks_nobody"});
        if (!isAsItWas && record.kind == TimeOffKind::Leave && record.status == LeaveStatus::Approved)
            if (Result<void> may = inner_->mayDecideLeave("status"); !may)
                return may.error();
        TimeOff saved = record;
        if (!isStored && saved.status == LeaveStatus::Requested && !saved.askedOn)
            saved.askedOn = agency.today();
        return unit.save(saved);
    });
}

Result<TimeOff> Desk::decideLeave(TimeOffId request, bool approve, const std::string &note) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<TimeOff> {
        const auto &all = agency.snapshot().timeOff;
        const auto found = std::ranges::find(all, request, &TimeOff::id);
        if (found == all.end())
            return unknown("time_off", "id", request);
        if (found->status != LeaveStatus::Requested)
            return problem(ProblemCode::NotAllowed, "status", {"closed"});
        if (Result<void> may = inner_->mayDecideLeave("decided_by_id"); !may)
            return may.error();
        TimeOff decided = *found;
        decided.status = approve ? LeaveStatus::Approved : LeaveStatus::Declined;
        decided.decidedBy = inner_->user;
        decided.decidedAt = inner_->nowUtc();
        decided.decisionNote = note;
        return unit.save(decided);
    });
}

Result<KeptWhatIf> Desk::save(const KeptWhatIf &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.save(record); });
}
Result<void> Desk::remove(const KeptWhatIf &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.remove(record.id, record.rowVersion); });
}

Result<IntakeClosure> Desk::save(const IntakeClosure &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<IntakeClosure> {
        for (const IntakeClosure &other : agency.snapshot().intakeClosures)
            if (other.id != record.id && other.area == record.area && other.from != other.to &&
                overlap(other, record))
                return problem(ProblemCode::Conflict, "from", {"area_closed", other.from.toIso()});
        return unit.save(record);
    });
}

} // namespace kitround::desk
