#pragma once
// Where a job fits best. What a route alone says (place in the order, added route cost and minutes) is
// remembered by the route's version; what the whole plan says (overtime, evenness, spacing, deliveries) is
// added fresh.
#include "core/base/Random.h"
#include "core/rounds/search/WorkingPlan.h"

#include <limits>

namespace kitround::rounds {

struct Insertion {
    double cost = 0; // change of the whole cost
    std::int32_t duty = -1;
    std::size_t position = 0;
    std::int32_t secondDuty = -1;
    std::size_t secondPosition = 0;
    Minute start = -1; // two nurses, or the first of two that follow one another
    Minute secondStart = -1;
    bool isFound() const { return duty >= 0; }
};

// Which duties an insertion looks past, so that recreating does not always end the same.
struct Blink {
    Random *random = nullptr;
    double chance = 0;
    bool now() const { return chance > 0 && random->chance(chance); }
};

class Inserter {
public:
    explicit Inserter(WorkingPlan &plan);

    struct Spot {                  // the best place in one route
        std::uint64_t version = 0; // 0: never looked
        double routeCost = 0;      // infinity: no place
        Minute paid = 0;
        std::int32_t position = -1;
        bool isTimed = false; // false: routeCost is a bound, position and paid are not known yet
    };
    // A bound in constant time a position, by segments; and the spot itself, timed.
    const Spot &boundIn(std::int32_t job, std::int32_t duty);
    const Spot &spotIn(std::int32_t job, std::int32_t duty);

    // Cheapest place. `second`: cost of the best place on another duty (infinity where none), for regret.
    Insertion best(std::int32_t job, Blink blink = {}, double *second = nullptr);
    bool apply(std::int32_t job, const Insertion &insertion);

    // The visits of one series that have no place, together: the set of days (and the nurse, where it is to
    // be one) with the least sum. Those that would cost more than they are worth stay out. False: nothing
    // placed.
    bool placeSeries(std::int32_t series, Blink blink);

private:
    Spot look(std::int32_t job, std::int32_t duty);
    Spot lookPlain(std::int32_t job, std::int32_t duty) const;
    Spot lookNearest(std::int32_t job, std::int32_t duty) const;
    void fillPlaces(std::int32_t job, std::int32_t duty);
    double minuteCost(std::int32_t job, std::int32_t duty) const;
    Insertion bestOfOne(std::int32_t job, Blink blink, double *second);
    Insertion bestOfTwo(std::int32_t job, Blink blink, double *second);
    struct Reach { // places in a route for a visit with a colleague
        std::int32_t duty;
        std::size_t position;
        double leastCost;
        Minute from, to;             // starts the segments allow
        Minute headReady, tailReady; // from here on she waits before, until there she waits after
    };
    void reachable(std::int32_t job, const std::vector<std::int32_t> &duties, std::vector<Reach> &out) const;
    // Precondition: pins_ are the plan's, but for visits that are being tried.
    bool timeAt(std::int32_t job, const Reach &reach, Minute start, RouteCost &cost);
    struct BesideTwo { // what two places cost beside their rounds
        double fit = 0, day = 0, uneven = 0;
    };
    void tryTwo(std::int32_t job, const Reach &a, const Reach &b, const BesideTwo &beside, Insertion &best);

    // Both visits of a pair, whichever was asked for: duty and position of the first, then of the second.
    Insertion bestFollowing(const Follow &pair, Blink blink);
    bool timeBoth(const Follow &pair, const Reach &a, const Reach &b, Minute startA, Minute startB,
                  double &cost);
    void tryStarts(const Follow &pair, const Reach &a, const Reach &b, double beside, Insertion &best);

    struct LinkedPlace {
        double bound = 0, fixedCost = 0;
        std::int32_t duty = -1, position = 0, before = -1;
        Minute start = 0;
    };
    void findLinkedPlaces(std::int32_t job, Blink blink, std::vector<LinkedPlace> &places) const;
    Insertion bestLinked(std::int32_t job, Blink blink, double *second);

    // placeSeries
    struct DayChoice {
        double cost = std::numeric_limits<double>::infinity();
        std::int32_t duty = -1;
    };
    void findKin();
    void priceDays(std::int32_t job, std::size_t row, std::int32_t nurse, Blink blink);
    void chooseDays(std::size_t row, std::uint64_t days, double cost);
    double leafCost(const Series &series);
    bool keepsGaps(const Series &series, std::int32_t day) const;

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
    std::vector<std::pair<double, std::int32_t>> queue_; // duties by the bound of the whole cost
    struct DayView {
        bool isKnown, isAllowed;
        double gapCost;
    };
    std::vector<DayView> dayViews_;
    std::vector<Reach> firsts_, seconds_;
    std::vector<double> besideFirst_, besideSecond_; // by duty
    std::vector<LinkedPlace> linkedPlaces_, matePlaces_;

    std::vector<std::int32_t> kin_;     // by job: the first of its series like it in all but its number
    std::vector<DayChoice> dayChoices_; // by row (open job) and day
    std::vector<double> leastFrom_;     // by row: least cost of it and all after it
    std::vector<std::int32_t> open_;    // the rows
    std::vector<std::int32_t> chosen_, bestDays_; // by row: day, -1 = stays out
    std::vector<std::int32_t> daysTaken_, days_, duties_;
    std::int32_t series_ = -1;
    double bestCost_ = 0;
};

} // namespace kitround::rounds
