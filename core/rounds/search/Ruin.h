#pragma once
// Takes a few related visits out of the plan: strings from routes near a seed (slack induction by string
// removals: Christiaens and Vanden Berghe, Transportation Science 54(2), 2020, section 5.1), alone or with
// the whole series of what was taken; a whole duty, or visits that stand in the way of one that has no place.
#include "core/base/Random.h"
#include "core/rounds/search/Nearness.h"
#include "core/rounds/search/WorkingPlan.h"

namespace kitround::rounds {

class Ruin {
public:
    Ruin(const WeekProblem &problem, const Nearness &near);
    // Removes a few visits; `removed` is overwritten. Precondition: some job in play, some duty.
    void operator()(WorkingPlan &plan, Random &random, std::vector<std::int32_t> &removed);

private:
    // The published choice: ten visits on average, strings of ten at most, half of the strings with a piece
    // left standing inside, of one visit and more with a chance of 1 % for each.
    static constexpr double kAverage = 10;
    static constexpr double kLongest = 10;
    static constexpr double kSplitChance = 0.5;
    static constexpr double kGrow = 0.01;
    // Where visits come in series: so many in a hundred times a whole duty with all its series (rounds that
    // no string empties), and strings on one day only as often as this (those that may change places).
    static constexpr std::uint64_t kDutyShare = 10;
    static constexpr double kOneDayChance = 0.75;

    void strings(WorkingPlan &plan, Random &random, std::int32_t seed, bool oneDay, double average,
                 std::vector<std::int32_t> &removed);
    void cut(WorkingPlan &plan, Random &random, std::int32_t job, double longest,
             std::vector<std::int32_t> &removed);
    void home(WorkingPlan &plan, std::int32_t seed, std::vector<std::int32_t> &removed) const;
    void duty(WorkingPlan &plan, std::int32_t duty, std::vector<std::int32_t> &removed);
    double averageLength(const WorkingPlan &plan) const;

    const WeekProblem &p_;
    const Nearness &near_;
    double meanSeries_ = 1;             // visits a series
    std::vector<std::uint32_t> ruined_; // by duty: the round of ruin in which it was cut
    std::uint32_t round_ = 0;
    std::vector<std::int32_t> jobs_; // scratch
};

} // namespace kitround::rounds
