#include "core/rounds/search/Moves.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

constexpr std::size_t at(std::int32_t i) {
    return static_cast<std::size_t>(i);
}

// What evenness, overtime and waiting may win beyond travel and fit.
constexpr double kSlack = 15;

Minute travelOf(const WeekProblem &p, const Duty &duty, const std::vector<std::int32_t> &jobs) {
    Minute sum = 0;
    std::int32_t place = duty.startPlace;
    for (const std::int32_t job : jobs) {
        sum += p.travel.minutesBetween(at(place), at(p.jobs[at(job)].place));
        place = p.jobs[at(job)].place;
    }
    return jobs.empty() ? 0 : sum + p.travel.minutesBetween(at(place), at(duty.endPlace));
}

// Two-nurse visits stay with their nurses, so a tail must hold none.
bool mayPass(const WorkingPlan &plan, const std::vector<std::int32_t> &jobs, std::size_t from,
             std::int32_t duty) {
    return std::all_of(jobs.begin() + static_cast<std::ptrdiff_t>(from), jobs.end(), [&](std::int32_t job) {
        return !plan.problem().jobs[at(job)].twoNurses && plan.allows(job, duty);
    });
}

double fitOf(const WorkingPlan &plan, const std::vector<std::int32_t> &jobs, std::size_t from,
             std::int32_t duty) {
    double sum = 0;
    for (std::size_t i = from; i < jobs.size(); ++i)
        sum += plan.fit(jobs[i], duty);
    return sum;
}

bool trySwap(MoveTools &tools, std::int32_t a, std::size_t i, std::int32_t b, std::size_t k) {
    WorkingPlan &plan = tools.plan;
    const WeekProblem &p = plan.problem();
    const std::vector<std::int32_t> &jobsA = plan.route(a).jobs;
    const std::vector<std::int32_t> &jobsB = plan.route(b).jobs;
    const Duty &dutyA = p.duties[at(a)];
    const Duty &dutyB = p.duties[at(b)];
    const std::size_t lengthA = i + jobsB.size() - k;
    const std::size_t lengthB = k + jobsA.size() - i;
    if (static_cast<int>(lengthA) > dutyA.mostVisits || static_cast<int>(lengthB) > dutyB.mostVisits)
        return false;
    std::vector<std::int32_t> newA(jobsA.begin(), jobsA.begin() + static_cast<std::ptrdiff_t>(i));
    newA.insert(newA.end(), jobsB.begin() + static_cast<std::ptrdiff_t>(k), jobsB.end());
    std::vector<std::int32_t> newB(jobsB.begin(), jobsB.begin() + static_cast<std::ptrdiff_t>(k));
    newB.insert(newB.end(), jobsA.begin() + static_cast<std::ptrdiff_t>(i), jobsA.end());
    const Minute travel =
        travelOf(p, dutyA, newA) + travelOf(p, dutyB, newB) - plan.route(a).travel - plan.route(b).travel;
    const double fit = fitOf(plan, jobsA, i, b) + fitOf(plan, jobsB, k, a) - fitOf(plan, jobsA, i, a) -
                       fitOf(plan, jobsB, k, b);
    if (p.weights.travelMinute * travel + fit > kSlack)
        return false;
    const double before = plan.cost();
    if (!plan.replace(a, newA, b, newB))
        return false;
    return keepIfCheaper(plan, before);
}

bool swapWith(MoveTools &tools, std::int32_t a, std::int32_t b) {
    const WorkingPlan &plan = tools.plan;
    for (std::size_t i = 0; i <= plan.route(a).jobs.size(); ++i) {
        if (!mayPass(plan, plan.route(a).jobs, i, b))
            continue;
        for (std::size_t k = 0; k <= plan.route(b).jobs.size(); ++k) {
            const bool isNothing = i == plan.route(a).jobs.size() && k == plan.route(b).jobs.size();
            if (!isNothing && mayPass(plan, plan.route(b).jobs, k, a) && trySwap(tools, a, i, b, k))
                return true;
        }
    }
    return false;
}

} // namespace

bool swapTails(MoveTools &tools, std::int32_t duty) {
    const WeekProblem &p = tools.plan.problem();
    bool any = false;
    for (std::size_t d = 0; d < p.duties.size(); ++d) {
        const auto other = static_cast<std::int32_t>(d);
        if (other != duty && p.duties[d].day == p.duties[at(duty)].day)
            any = swapWith(tools, duty, other) || any;
    }
    return any;
}

} // namespace kitround::rounds
