#pragma once
// Visits that have begun. They stay, whatever rule they break, in a week planned anew as in one that is
// mended. The search places nothing that breaks a rule, so the rounds on which it could not keep them go on
// for it where the last of them ends.
#include "core/rounds/problem/CostModel.h"

namespace kitround::rounds {

class Begun {
public:
    // Jobs of `problem` that have begun are marked so (Job::hasBegun); their locks say where. It outlives
    // this.
    explicit Begun(const WeekProblem &problem);

    // What is left for the search. Riders are not numbered as they were.
    WeekProblem rest() const;
    // Gives those that were kept from the search their places back. False: the search gave up another one
    // for a visit that pays more. Then all are kept from it the next time.
    bool restore(WeekPlan &plan);
    // Kept from the search, which takes them for visits without a place.
    std::vector<std::int32_t> kept() const;

private:
    void stand();
    bool hasBegun(std::int32_t job) const;
    bool isKept(std::int32_t job) const;
    bool keepsAny() const;
    void keepBreakers();
    void keepPairs();
    void keepBoth();
    void takeOut(WeekProblem &rest, std::int32_t job) const;
    void beginLater(WeekProblem &rest, std::int32_t duty, const std::vector<Minute> &breaks) const;
    void untie(WeekProblem &rest) const;

    const WeekProblem &p_;
    WeekPlan before_;          // what has begun, and the others where people were told
    std::vector<char> duties_; // by duty: its visits that have begun are kept from the search
};

// Of what a plan breaks that which somebody may still mend: what visits that have begun, and stand where they
// began, break by themselves stays so, whatever is planned.
std::vector<RuleBreak> mayBeMended(const WeekProblem &problem, const WeekPlan &plan,
                                   std::vector<RuleBreak> broken);

} // namespace kitround::rounds
