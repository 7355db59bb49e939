#pragma once
// A search that starts from a plan that stands. What can stay stays, visit by visit; where the agency is
// large only the nurses near what cannot stay take part, so that mending a week costs by what happened and
// not by the size of the agency. Nothing here looks at a clock.
#include "core/rounds/problem/CostModel.h"
#include "core/rounds/problem/DutyTimer.h"
#include "core/rounds/search/Scope.h"

namespace kitround::rounds {

class Standing {
public:
    // So many take part at least, with all their week; a smaller agency wholly. By trial: weeks of 3,000
    // visits mended as well as with everybody, and as fast as those of 600.
    static constexpr std::size_t kNurses = 30;
    // At least so many of the nearest for each visit without a place. Where that comes to twice as many as
    // there are, everybody takes part.
    static constexpr std::size_t kNursesEach = 5;

    // Precondition: no links, no weight of the worst lateness.
    Standing(const WeekProblem &problem, const WeekPlan &before);

    const WeekPlan &plan() const { return kept_; } // of `before` what keeps every rule
    const Scope &scope() const { return scope_; }
    bool isWhole() const { return isWhole_; } // everything takes part
    // Something outside the scope lost its place. Only where travel disobeys the triangle inequality.
    bool lost(const WeekPlan &after) const;
    void widen(); // to everything

private:
    void keep(const WeekPlan &before);
    bool mayStay(std::int32_t job, const Placement &placement) const;
    void timeAll();
    void timeRound(std::int32_t duty);
    bool hasStarts(std::int32_t duty, const std::vector<std::int32_t> &round);
    void drop(std::int32_t job);
    bool dropBreakers();

    void choose(const WeekPlan &before);
    std::vector<std::int32_t> affected(const WeekPlan &before) const;
    std::vector<std::int32_t> nearest(std::int32_t job) const; // nurses that may come, nearest first
    void takeRelated(const WeekPlan &before, const std::vector<std::int32_t> &jobs);
    void takeNearest(const std::vector<std::int32_t> &jobs);
    void takeNurse(std::int32_t nurse);
    void fillScope();

    const WeekProblem &p_;
    WeekPlan kept_;
    std::vector<std::vector<std::int32_t>> rounds_; // by duty, in order
    std::vector<Minute> pins_;
    std::vector<std::int32_t> pairOf_; // by job: the other of two that are minutes apart, -1 = none
    std::vector<char> isOpen_;         // by duty: to be timed again
    std::vector<char> takesPart_;      // by nurse
    std::size_t takingPart_ = 0;
    Scope scope_;
    bool isWhole_ = false;
    DutyTimer timer_;
    std::vector<Minute> starts_;
};

} // namespace kitround::rounds
