// What nurses and homes were told of changed visits is written down, and put back where that was a slip.
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/views/PatientCalls.h"

#include <algorithm>

namespace kitround::desk {
namespace {

struct TakingBack {
    LocalTime at;
    UserId by;
    std::string why;
};
// On record with when, by whom and why; the caller stores it.
template <class Told>
Result<Told> takenBack(const std::vector<Told> &all, const char *table, decltype(Told::id) id,
                       const TakingBack &how) {
    const auto found = std::ranges::find(all, id, &Told::id);
    if (found == all.end())
        return unknown(table, "id", id);
    if (found->isTakenBack())
        return problem(ProblemCode::NotAllowed, "id", {"already"});
    Told back = *found;
    back.takenBackAt = how.at;
    back.takenBackBy = how.by;
    back.takenBackWhy = how.why;
    return back;
}

} // namespace

Result<PlanTold> Desk::tellPlan(const PlanTold &told) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PlanTold> {
        if (told.id.isSet())
            return problem(ProblemCode::NotAllowed, "id", {"stored"}); // it is kept as it was told
        if (!agency.index().nurse(told.nurse))
            return unknown("nurse", "nurse_id", told.nurse);
        if (told.on < agency.today())
            return problem(ProblemCode::OutOfRange, "told_for",
                           {told.on.toIso(), agency.today().toIso(), ""});
        PlanTold now = told;
        now.at = inner_->now();
        now.takenBackAt.reset();
        now.takenBackBy.reset();
        now.takenBackWhy.clear();
        return unit.save(now);
    });
}

Result<PlanTold> Desk::takeBackTold(PlanToldId told, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PlanTold> {
        auto back =
            takenBack(agency.snapshot().planTold, "plan_told", told, {inner_->now(), inner_->user, why});
        return back ? unit.save(*std::move(back)) : back;
    });
}

Result<PatientTold> Desk::tellPatient(const PatientTold &told) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PatientTold> {
        if (told.id.isSet())
            return problem(ProblemCode::NotAllowed, "id", {"stored"}); // a call is kept as it was made
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
        now.takenBackAt.reset();
        now.takenBackBy.reset();
        now.takenBackWhy.clear();
        return unit.save(now);
    });
}

Result<PatientTold> Desk::takeBackCall(PatientToldId call, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<PatientTold> {
        auto back = takenBack(agency.snapshot().patientTold, "patient_told", call,
                              {inner_->now(), inner_->user, why});
        return back ? unit.save(*std::move(back)) : back;
    });
}

} // namespace kitround::desk
