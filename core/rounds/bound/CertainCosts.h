#pragma once
// What of a plan's cost no choice can avoid, beside the rounds themselves: days too far apart that the
// allowed days of a series force, and courier runs for deliveries that no visit can carry.
#include "core/rounds/problem/WeekProblem.h"

#include <span>
#include <vector>

namespace kitround::rounds {

class CertainCosts {
public:
    explicit CertainCosts(const WeekProblem &problem);
    // `prices` by job: what is counted for each visit already, so that a series with a visit left out pays at
    // least the least of what unplaced visits cost beyond that.
    double at(std::span<const double> prices) const;

private:
    struct SeriesCost {
        const Series *series;
        double whole; // with every visit placed; infinite where that can't be
    };
    bool mayStandOn(std::int32_t job, std::int32_t day) const;
    double gapsOf(const Series &series) const;
    void addCouriers();

    const WeekProblem &p_;
    std::vector<SeriesCost> series_; // those that cost something
    double couriers_ = 0;
};

} // namespace kitround::rounds
