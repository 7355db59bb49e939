#pragma once
// Burke and Bykov (2017), "The late acceptance hill-climbing heuristic", EJOR 258(1): a plan is accepted when
// it is no worse than the current one or than the one some iterations ago.
#include <cstddef>
#include <vector>

namespace kitround::rounds {

class LateAcceptance {
public:
    LateAcceptance(std::size_t length, double cost) : history_(length, cost) {}

    bool accepts(double candidate, double current) const {
        return candidate <= current || candidate < history_[at_];
    }
    // After the decision, with the cost that now stands.
    void record(double current) {
        if (current < history_[at_])
            history_[at_] = current;
        at_ = (at_ + 1) % history_.size();
    }

private:
    std::vector<double> history_;
    std::size_t at_ = 0;
};

} // namespace kitround::rounds
