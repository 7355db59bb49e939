#pragma once
// The cheapest round of one duty where every visit pays a price: the subproblem of the lower bound. Only what
// is certain costs (travel and the pairing of nurse and patient); waiting, breaks and soft windows are free,
// and times are read on a grid, each leg begun at the grid's earlier minute. A home may come again in a
// round, though not straight after the one home in between (2-cycles; Houck, Picard, Queyranne and Vemuganti,
// Opsearch 17, 1980). So no round of a plan costs more here than it does there.
#include "core/rounds/problem/WeekProblem.h"

#include <span>
#include <vector>

namespace kitround::rounds {

class RoundPricing {
public:
    // Preconditions: checkProblem(problem); visits last at least `grid` minutes.
    RoundPricing(const WeekProblem &problem, std::int32_t duty, Minute grid);

    struct Round {
        double cost = 0; // its cost less what its visits pay; 0 and no visits where none is worth it
        std::vector<std::int32_t> jobs;
    };
    // `prices` by job, paid to each nurse who comes; `each`: taken off for every visit of the round.
    const Round &cheapest(std::span<const double> prices, double each);

private:
    // Visits of one series that the duty cannot tell apart.
    struct Node {
        std::int32_t series = 0; // or a number of its own
        std::int32_t place = 0;
        Minute length = 0;
        std::vector<TimeWindow> windows; // hard ones, by start; empty = any time
        std::vector<std::int32_t> jobs;
        std::vector<double> fit; // of each job
        double profit = 0;       // of the best job at the prices asked about
        std::int32_t best = 0;
    };
    struct Label {
        double cost;
        std::int32_t before; // series of the visit before; -1 = from the start place
        std::int32_t step;   // in steps_
    };
    struct Cell {
        Label best, other; // `other` came from another series than `best`
    };
    struct Step {
        std::int32_t node, parent;
    };

    void addNodes();
    void fillStarts();
    void choose(std::span<const double> prices, double each);
    void begin();
    void leave(std::size_t node, std::int32_t tick, const Cell &cell);
    static bool offer(Cell &cell, const Label &label);
    Cell &cellAt(std::size_t node, std::int32_t tick) {
        return cells_[node * static_cast<std::size_t>(ticks_) + static_cast<std::size_t>(tick)];
    }
    // Tick of the earliest start at or after that minute of the duty; -1 where there is none.
    std::int32_t startTick(std::size_t node, Minute minute) const {
        return minute >= minutes_
                   ? -1
                   : starts_[node * static_cast<std::size_t>(minutes_) + static_cast<std::size_t>(minute)];
    }

    const WeekProblem &p_;
    const Duty &duty_;
    std::int32_t dutyIndex_;
    Minute grid_;
    Minute minutes_; // of the duty, both ends included
    std::int32_t ticks_;
    std::vector<Node> nodes_;
    std::vector<std::int16_t> starts_; // by node and minute
    std::vector<Minute> legs_;         // by node and node
    std::vector<Minute> fromStart_, toEnd_;
    std::vector<Cell> cells_;    // arrivals, by node and tick
    std::vector<Cell> standing_; // by node: the best that stand there by now
    std::vector<Step> steps_;
    double least_ = 0;
    std::int32_t last_ = -1;
    Round round_;
};

} // namespace kitround::rounds
