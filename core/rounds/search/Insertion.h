#pragma once
// Where a job fits best. What a route alone says (place in the order, added route cost and minutes) is
// remembered by the route's version; what the whole plan says (overtime, evenness, spacing, deliveries) is
// added fresh.
#include "core/base/Random.h"
#include "core/rounds/search/WorkingPlan.h"

namespace kitround::rounds {

struct Insertion {
    double cost = 0; // change of the whole cost
    std::int32_t duty = -1;
    std::size_t position = 0;
    std::int32_t secondDuty = -1;
    std::size_t secondPosition = 0;
    Minute start = -1; // two nurses
    bool isFound() const { return duty >= 0; }
};

class Inserter {
public:
    explicit Inserter(WorkingPlan &plan);

    struct Spot {                  // the best place in one route
        std::uint64_t version = 0; // 0: never looked
        bool isTimed = false;      // false: routeCost is a bound, position and paid are not known yet
        double routeCost = 0;      // infinity: no place
        Minute paid = 0;
        std::int32_t position = -1;
    };
    // A bound in constant time a position, by segments; and the spot itself, timed.
    const Spot &boundIn(std::int32_t job, std::int32_t duty);
    const Spot &spotIn(std::int32_t job, std::int32_t duty);

    // Cheapest place. `blink`: chance to look past a duty, so that recreating does not always end the same.
    // `second`: cost of the best place on another duty (infinity where none), for regret.
    Insertion best(std::int32_t job, Random *random = nullptr, double blink = 0, double *second = nullptr);
    bool apply(std::int32_t job, const Insertion &insertion);

private:
    void fillPlaces(std::int32_t job, std::int32_t duty);
    Spot look(std::int32_t job, std::int32_t duty);
    Insertion bestOfOne(std::int32_t job, Random *random, double blink, double *second);
    Insertion bestOfTwo(std::int32_t job, Random *random, double blink, double *second);
    struct Reach { // places in a route for a visit with a colleague
        std::int32_t duty;
        std::size_t position;
        double leastCost;
        Minute from, to;             // starts the segments allow
        Minute headReady, tailReady; // from here on she waits before, until there she waits after
    };
    void reachable(std::int32_t job, const std::vector<std::int32_t> &duties, std::vector<Reach> &out) const;
    bool timeAt(std::int32_t job, const Reach &reach, Minute start, RouteCost &cost);

    WorkingPlan &plan_;
    const WeekProblem &p_;
    std::vector<Spot> spots_;
    std::vector<std::int32_t> trial_;
    std::vector<Minute> starts_, pins_;
    struct Bounded { // a place in the order with what its route costs at least
        double bound;
        std::int32_t position;
        RouteCost cost;
    };
    std::vector<Bounded> places_;
    double minuteCost_ = 0;
    std::vector<std::pair<double, std::int32_t>> queue_; // duties by the bound of the whole cost
    struct DayView {
        bool isKnown, isAllowed;
        double gapCost;
    };
    std::vector<DayView> dayViews_;
};

} // namespace kitround::rounds
