#pragma once
// The best plan so far, kept at the price of what changed since the last one.
#include "core/rounds/search/WorkingPlan.h"

namespace kitround::rounds {

class PlanKeeper {
public:
    explicit PlanKeeper(const WeekProblem &problem);

    // Duties that changed in the working plan, to be copied with the next keep().
    void note(const std::vector<std::int32_t> &duties);
    void noteAll();
    void keep(const WorkingPlan &plan);
    WeekPlan plan(WorkingPlan &plan) const; // `plan` lends its clock
    void giveTo(WorkingPlan &plan) const;   // of the same problem, another search's perhaps
    const std::vector<std::int32_t> &jobsOf(std::int32_t duty) const {
        return rounds_[static_cast<std::size_t>(duty)].jobs;
    }

private:
    struct Round {
        std::vector<std::int32_t> jobs;
        std::vector<Minute> starts;
        bool isPlain = true;
    };
    const WeekProblem &p_;
    std::vector<Round> rounds_;
    std::vector<Placement> placements_;
    std::vector<Minute> pins_;
    std::vector<std::int32_t> changed_;
    std::vector<char> isChanged_;
};

} // namespace kitround::rounds
