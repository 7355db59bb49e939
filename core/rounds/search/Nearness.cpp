#include "core/rounds/search/Nearness.h"

#include <algorithm>

namespace kitround::rounds {

Nearness::Nearness(const WeekProblem &problem) {
    const std::size_t n = problem.jobs.size();
    near_.resize(n);
    std::vector<std::pair<Minute, std::int32_t>> byTravel;
    for (std::size_t i = 0; i < n; ++i) {
        byTravel.clear();
        const auto here = static_cast<std::size_t>(problem.jobs[i].place);
        for (std::size_t k = 0; k < n; ++k) {
            if (k == i)
                continue;
            const auto there = static_cast<std::size_t>(problem.jobs[k].place);
            const Minute minutes = std::min(problem.travel.minutesBetween(here, there),
                                            problem.travel.minutesBetween(there, here));
            byTravel.emplace_back(minutes, static_cast<std::int32_t>(k));
        }
        const std::size_t keep = std::min(kMost, byTravel.size());
        std::ranges::partial_sort(byTravel, byTravel.begin() + static_cast<std::ptrdiff_t>(keep));
        for (std::size_t k = 0; k < keep; ++k)
            near_[i].push_back(byTravel[k].second);
    }
}

} // namespace kitround::rounds
