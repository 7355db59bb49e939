#pragma once
// Good plans that differ, to be crossed. Two plans are as far apart as the share of their visits that are
// followed by another one (broken pairs: Prins, Computers & Operations Research 31(12), 2004).
#include "core/base/Random.h"
#include "core/rounds/search/PlanKeeper.h"

#include <memory>
#include <vector>

namespace kitround::rounds {

class Population {
public:
    explicit Population(const WeekProblem &problem) : p_(problem) {}

    // Of plans that are nearly the same the best stays; one too many costs the dearest its place.
    void add(const WorkingPlan &plan, double cost);
    std::size_t size() const { return members_.size(); }
    // The better of two drawn. Precondition: size() > 0.
    std::size_t draw(Random &random) const;
    const PlanKeeper &plan(std::size_t index) const { return members_[index]->keeper; }
    double cost(std::size_t index) const { return members_[index]->cost; }

private:
    static constexpr std::size_t kMost = 10;
    static constexpr double kApart = 0.005; // nearer than this is the same plan

    struct Member {
        explicit Member(const WeekProblem &problem) : keeper(problem) {}
        PlanKeeper keeper;
        double cost = 0;
        std::vector<std::int32_t> next; // by job: the visit after it; -1 = none
    };
    double apart(const Member &a, const Member &b) const;

    const WeekProblem &p_;
    std::vector<std::unique_ptr<Member>> members_;
};

} // namespace kitround::rounds
