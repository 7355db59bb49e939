// Back from a plan to the visits it stands for, and from stored visits to their plan.
#include "core/base/Index.h"
#include "core/rounds/problem/CostModel.h"
#include "core/rounds/problem/Riders.h"
#include "core/rounds/problem/WeekBuilder.h"

namespace kitround::rounds {
namespace {

std::int32_t dutyOf(const WeekProblem &problem, std::optional<NurseId> nurse, Date on) {
    if (!nurse)
        return -1;
    const auto day = static_cast<std::int32_t>((on - problem.firstDay).count());
    for (std::size_t d = 0; d < problem.duties.size(); ++d)
        if (problem.duties[d].day == day && problem.nurses[at(problem.duties[d].nurse)].id == *nurse)
            return static_cast<std::int32_t>(d);
    return -1;
}

} // namespace

WeekPlan planOf(const WeekProblem &problem, const std::vector<DueVisit> &due) {
    WeekPlan plan;
    plan.placements.resize(problem.jobs.size());
    for (std::size_t i = 0; i < due.size() && i < plan.placements.size(); ++i) {
        const Visit &visit = due[i].visit;
        const bool isPlanned = visit.status == VisitStatus::Drafted || visit.status == VisitStatus::Published;
        if (!isPlanned || !visit.on || !visit.startAt)
            continue;
        Placement &placement = plan.placements[i];
        placement.duty = dutyOf(problem, visit.nurse, *visit.on);
        if (placement.duty < 0)
            continue; // the nurse is off that day now: to be placed again
        placement.start = minuteOf(*visit.startAt);
        if (problem.jobs[i].twoNurses)
            placement.secondDuty = dutyOf(problem, visit.secondNurse, *visit.on);
    }
    RiderMatcher(problem).assign(plan.placements, plan.riderJob);
    plan.cost = evaluate(problem, plan).parts.total();
    return plan;
}

std::vector<Visit> visitsOf(const WeekProblem &problem, const WeekPlan &plan,
                            const std::vector<DueVisit> &due) {
    std::vector<Visit> visits;
    visits.reserve(due.size());
    for (std::size_t i = 0; i < due.size(); ++i) {
        Visit visit = due[i].visit;
        const Placement &placement = plan.placements[i];
        const auto nurseOf = [&](std::int32_t duty) -> std::optional<NurseId> {
            if (duty < 0)
                return std::nullopt;
            return problem.nurses[at(problem.duties[at(duty)].nurse)].id;
        };
        std::optional<Date> on;
        std::optional<Minutes> startAt;
        if (placement.isPlaced()) {
            on = problem.firstDay.plusDays(problem.duties[at(placement.duty)].day);
            startAt = Minutes::of(placement.start);
        }
        const std::optional<NurseId> nurse = nurseOf(placement.duty);
        const std::optional<NurseId> second = nurseOf(placement.secondDuty);
        const bool isAsPublished = visit.status == VisitStatus::Published && visit.on == on &&
                                   visit.startAt == startAt && visit.nurse == nurse &&
                                   visit.secondNurse == second;
        if (!isAsPublished)
            visit.status = placement.isPlaced() ? VisitStatus::Drafted : VisitStatus::Due;
        visit.on = on;
        visit.startAt = startAt;
        visit.nurse = nurse;
        visit.secondNurse = second;
        visits.push_back(std::move(visit));
    }
    return visits;
}

} // namespace kitround::rounds
