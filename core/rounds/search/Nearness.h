#pragma once
// The jobs nearest to a job by travel, so that ruin and moves look where something may be won.
#include "core/rounds/problem/WeekProblem.h"

#include <span>

namespace kitround::rounds {

class Nearness {
public:
    explicit Nearness(const WeekProblem &problem);
    // Of these jobs alone, in order of number; the others have nobody near.
    Nearness(const WeekProblem &problem, std::span<const std::int32_t> jobs);
    const std::vector<std::int32_t> &of(std::int32_t job) const { // nearest first, at most kMost
        return near_[static_cast<std::size_t>(job)];
    }
    static constexpr std::size_t kMost = 100;

private:
    std::vector<std::vector<std::int32_t>> near_;
};

} // namespace kitround::rounds
