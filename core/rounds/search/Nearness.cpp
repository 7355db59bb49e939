#include "core/rounds/search/Nearness.h"

#include "core/base/Index.h"

#include <algorithm>
#include <numeric>

namespace kitround::rounds {

namespace {

std::vector<std::int32_t> allJobs(const WeekProblem &problem) {
    std::vector<std::int32_t> jobs(problem.jobs.size());
    std::iota(jobs.begin(), jobs.end(), 0);
    return jobs;
}

} // namespace

Nearness::Nearness(const WeekProblem &problem) : Nearness(problem, allJobs(problem)) {}

Nearness::Nearness(const WeekProblem &problem, std::span<const std::int32_t> jobs) {
    near_.resize(problem.jobs.size());
    std::vector<std::pair<Minute, std::int32_t>> byTravel;
    for (const std::int32_t job : jobs) {
        byTravel.clear();
        const std::size_t here = at(problem.jobs[at(job)].place);
        for (const std::int32_t other : jobs) {
            if (other == job)
                continue;
            const std::size_t there = at(problem.jobs[at(other)].place);
            const Minute minutes = std::min(problem.travel.minutesBetween(here, there),
                                            problem.travel.minutesBetween(there, here));
            byTravel.emplace_back(minutes, other);
        }
        const std::size_t keep = std::min(kMost, byTravel.size());
        std::ranges::partial_sort(byTravel, byTravel.begin() + static_cast<std::ptrdiff_t>(keep));
        for (std::size_t k = 0; k < keep; ++k)
            near_[at(job)].push_back(byTravel[k].second);
    }
}

} // namespace kitround::rounds
