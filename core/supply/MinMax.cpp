#include "core/supply/MinMax.h"

#include "core/base/Require.h"

#include <cmath>
#include <vector>

namespace kitround::supply {
namespace {

// Costs of levels and visits to them, worked out once each as far as they are asked for.
class Cycle {
public:
    explicit Cycle(const LookedAtShelf &shelf)
        : shelf_(shelf), mean_(shelf.untilNext.mean()), p_(shelf.period.values()) {
        KITROUND_REQUIRE(p_[0] < 1);
        visits_.push_back(1 / (1 - p_[0]));
        // E[(D - y)+] from above down: one piece less misses what is asked beyond it.
        const std::span<const double> demand = shelf.untilNext.values();
        shortage_.assign(demand.size(), 0.0);
        double above = 0;
        for (std::size_t y = demand.size() - 1; y-- > 0;) {
            above += demand[y + 1];
            shortage_[y] = shortage_[y + 1] + above;
        }
    }

    double levelCost(std::int64_t y) const {
        return shelf_.costs.holding * (static_cast<double>(y) - mean_) +
               (shelf_.costs.holding + shelf_.costs.missing) * shortage(y);
    }
    double cost(MinMax at) {
        double money = shelf_.costs.perOrder, periods = 0;
        for (std::int64_t j = 0; j < at.most - at.least; ++j) {
            money += visits(static_cast<std::size_t>(j)) * levelCost(at.most - j);
            periods += visits(static_cast<std::size_t>(j));
        }
        return money / periods;
    }

private:
    double shortage(std::int64_t y) const {
        if (y < 0)
            return mean_ - static_cast<double>(y);
        return y < std::ssize(shortage_) ? shortage_[static_cast<std::size_t>(y)] : 0.0;
    }
    double visits(std::size_t j) {
        while (visits_.size() <= j) {
            const std::size_t at = visits_.size();
            double sum = 0;
            for (std::size_t l = 1; l <= at && l < p_.size(); ++l)
                sum += p_[l] * visits_[at - l];
            visits_.push_back(sum / (1 - p_[0]));
        }
        return visits_[j];
    }

    const LookedAtShelf &shelf_;
    double mean_;
    std::span<const double> p_;
    std::vector<double> visits_, shortage_;
};

} // namespace

double LookedAtShelf::cost(MinMax at) const {
    KITROUND_REQUIRE(at.most > at.least);
    return Cycle(*this).cost(at);
}

MinMax LookedAtShelf::best(std::int64_t highest) const {
    KITROUND_REQUIRE(costs.holding > 0 && costs.missing > 0);
    Cycle cycle(*this);
    const std::int64_t cheapest = untilNext.quantile(costs.missing / (costs.holding + costs.missing));
    MinMax best{cheapest - 1, cheapest};
    while (cycle.cost(best) > cycle.levelCost(best.least))
        --best.least;
    double least = cycle.cost(best);
    // No S whose own level costs more than the best so far can be better.
    for (std::int64_t most = best.most + 1; most <= highest && cycle.levelCost(most) <= least; ++most) {
        if (cycle.cost({best.least, most}) >= least)
            continue;
        best.most = most;
        while (cycle.cost(best) <= cycle.levelCost(best.least + 1))
            ++best.least;
        least = cycle.cost(best);
    }
    return best;
}

PowerMinMax powerMinMax(double periodMean, const NormalDemand &untilNext, const ShelfCosts &costs) {
    KITROUND_REQUIRE(periodMean > 0 && untilNext.spread > 0);
    const double variance = untilNext.spread * untilNext.spread;
    const double lot = 1.30 * std::pow(periodMean, 0.494) * std::pow(costs.perOrder / costs.holding, 0.506) *
                       std::pow(1 + variance / (periodMean * periodMean), 0.116);
    const double z = std::sqrt(lot * costs.holding / (costs.missing * untilNext.spread));
    const double least = 0.973 * untilNext.mean + untilNext.spread * (0.183 / z + 1.063 - 2.192 * z);
    return {least, least + lot};
}

} // namespace kitround::supply
