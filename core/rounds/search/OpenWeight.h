#pragma once
// How much an open visit weighs while a settled search goes on: less than in the plan's cost as long as
// nearly all plans are complete, so that a plan with a visit left open may stand between two complete ones;
// more as soon as too few are. After the penalties that adapt of Vidal, Crainic, Gendreau, Lahrichi and Rei
// (2012), Operations Research 60:611-624, section 4.3; here no rule is broken, only visits stay open. What is
// kept as best is judged by the full weight.
#include <algorithm>

namespace kitround::rounds {

class OpenWeight {
public:
    // `least`: the share of the full weight it never falls below.
    explicit OpenWeight(double least) : least_(std::min(1.0, least)) {}

    double share() const { return share_; } // of the full weight, up to 1
    // One more plan was looked at. True where the share changed.
    bool note(bool isComplete) {
        complete_ += isComplete ? 1 : 0;
        if (++seen_ < kPlans)
            return false;
        const double before = share_;
        share_ = complete_ < kAim * kPlans ? std::min(1.0, share_ * kStep) : std::max(least_, share_ / kStep);
        seen_ = complete_ = 0;
        return share_ != before;
    }

private:
    static constexpr int kPlans = 100;
    // Found by trial. During the first annealing it made routes of 200 visits worse, whatever the aim.
    static constexpr double kAim = 0.9;
    static constexpr double kStep = 1.2;

    double least_;
    double share_ = 1;
    int seen_ = 0, complete_ = 0;
};

} // namespace kitround::rounds
