#pragma once
// Visits that have begun. They stay, whatever rule they break. The search places nothing that breaks a rule,
// so the rounds on which it could not keep them go on for it where the last of them ends.
#include "core/rounds/problem/WeekProblem.h"

namespace kitround::rounds {

class Begun {
public:
    // Jobs of `problem` that have begun are marked so (Job::hasBegun) and stand in `before`. Both outlive it.
    Begun(const WeekProblem &problem, const WeekPlan &before);

    // What is left for the search. Riders are not numbered as they were.
    WeekProblem rest() const;
    // Gives those that were kept from the search their places back. False: the search gave up another one
    // for a visit that pays more. Then all are kept from it the next time.
    bool restore(WeekPlan &plan);
    bool keepsAny() const;

private:
    bool isKept(std::int32_t job) const;
    void keepBreakers();
    void keepPairs();
    void keepBoth();
    void takeOut(WeekProblem &rest, std::int32_t job) const;
    void beginLater(WeekProblem &rest, std::int32_t duty, const std::vector<Minute> &breaks) const;
    void untie(WeekProblem &rest) const;

    const WeekProblem &p_;
    const WeekPlan &before_;
    std::vector<char> duties_; // by duty: its visits that have begun are kept from the search
};

} // namespace kitround::rounds
