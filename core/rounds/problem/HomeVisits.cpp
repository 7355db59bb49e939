#include "core/rounds/problem/HomeVisits.h"

#include "core/base/Index.h"

#include <algorithm>

namespace kitround::rounds {

HomeVisits::HomeVisits(const WeekProblem &problem) : besides_(problem.jobs.size()) {
    std::vector<std::pair<PatientId, std::int32_t>> visits; // sorted: made for every plan that is judged
    visits.reserve(problem.jobs.size());
    for (std::size_t j = 0; j < problem.jobs.size(); ++j)
        if (problem.jobs[j].patient.isSet() && problem.jobs[j].kind != VisitKind::Phone)
            visits.emplace_back(problem.jobs[j].patient, static_cast<std::int32_t>(j));
    std::ranges::sort(visits);
    const auto areOfOneSeries = [&](std::int32_t one, std::int32_t other) {
        return problem.jobs[at(one)].series >= 0 &&
               problem.jobs[at(one)].series == problem.jobs[at(other)].series;
    };
    for (auto first = visits.begin(); first != visits.end();) {
        const auto end =
            std::find_if(first, visits.end(), [&](const auto &visit) { return visit.first != first->first; });
        for (auto one = first; one != end; ++one)
            for (auto other = first; other != end; ++other)
                if (one != other && !areOfOneSeries(one->second, other->second))
                    besides_[at(one->second)].push_back(other->second);
        first = end;
    }
    const auto part = [this](std::int32_t one, std::int32_t other) {
        std::erase(besides_[at(one)], other);
        std::erase(besides_[at(other)], one);
    };
    for (const Link &link : problem.links)
        part(link.first, link.second);
    for (const Follow &follow : problem.follows)
        if (follow.unit == GapUnit::Minute)
            part(follow.first, follow.second);
}

bool sendsSecondNurse(const WeekProblem &problem, const Placement &one, const Placement &other) {
    if (!one.isPlaced() || !other.isPlaced() ||
        problem.duties[at(one.duty)].day != problem.duties[at(other.duty)].day)
        return false;
    const auto isAt = [&](std::int32_t duty) {
        return duty >= 0 && (duty == other.duty || duty == other.secondDuty);
    };
    return !isAt(one.duty) && !isAt(one.secondDuty);
}

std::vector<std::pair<std::int32_t, std::int32_t>> overlapsAtHome(const WeekProblem &problem,
                                                                  const WeekPlan &plan) {
    const HomeVisits homes(problem);
    std::vector<std::pair<std::int32_t, std::int32_t>> pairs;
    for (std::size_t j = 0; j < problem.jobs.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        const Placement &own = plan.placements[j];
        for (const std::int32_t other : homes.besides(job)) {
            const Placement &place = plan.placements[at(other)];
            const bool isLater =
                place.start > own.start || (place.start == own.start && other > job); // each pair once
            if (isLater && sendsSecondNurse(problem, own, place) &&
                place.start < own.start + problem.jobs[j].length)
                pairs.emplace_back(job, other);
        }
    }
    return pairs;
}

} // namespace kitround::rounds
