#include "core/rounds/search/Moves.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

constexpr std::size_t kLongest = 3;
constexpr double kSlack = 5; // minutes of travel a shorter wait may be worth

Minute travelOf(const WeekProblem &p, const Duty &duty, const std::vector<std::int32_t> &jobs) {
    Minute sum = 0;
    auto place = static_cast<std::size_t>(duty.startPlace);
    for (const std::int32_t job : jobs) {
        const auto next = static_cast<std::size_t>(p.jobs[static_cast<std::size_t>(job)].place);
        sum += p.travel.minutesBetween(place, next);
        place = next;
    }
    return sum + p.travel.minutesBetween(place, static_cast<std::size_t>(duty.endPlace));
}

bool tryOrder(WorkingPlan &plan, std::int32_t duty, const std::vector<std::int32_t> &jobs) {
    const WeekProblem &p = plan.problem();
    if (travelOf(p, p.duties[static_cast<std::size_t>(duty)], jobs) > plan.route(duty).travel + kSlack)
        return false;
    const double before = plan.cost();
    return plan.replace(duty, jobs) && keepIfCheaper(plan, before);
}

bool improveOnce(WorkingPlan &plan, std::int32_t duty) {
    const std::vector<std::int32_t> jobs = plan.route(duty).jobs;
    const std::size_t n = jobs.size();
    std::vector<std::int32_t> rest, trial;
    for (std::size_t length = 1; length <= std::min(kLongest, n); ++length)
        for (std::size_t first = 0; first + length <= n; ++first) {
            const auto begin = jobs.begin() + static_cast<std::ptrdiff_t>(first);
            const auto end = begin + static_cast<std::ptrdiff_t>(length);
            rest.assign(jobs.begin(), begin);
            rest.insert(rest.end(), end, jobs.end());
            std::vector<std::int32_t> part(begin, end);
            for (const bool turned : {false, true}) {
                if (turned && length == 1)
                    break;
                if (turned)
                    std::ranges::reverse(part);
                for (std::size_t to = 0; to <= rest.size(); ++to) {
                    if (to == first && !turned)
                        continue;
                    trial = rest;
                    trial.insert(trial.begin() + static_cast<std::ptrdiff_t>(to), part.begin(), part.end());
                    if (tryOrder(plan, duty, trial))
                        return true;
                }
            }
        }
    return false;
}

} // namespace

bool orOpt(MoveTools &tools, std::int32_t duty) {
    bool any = false;
    while (improveOnce(tools.plan, duty))
        any = true;
    return any;
}

} // namespace kitround::rounds
