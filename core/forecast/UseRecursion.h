#pragma once
// The joint daily recursion over (state, units used so far): a home is active, paused or has left; an active
// home that is offered a drain uses units of the item, a paused one uses none, one that has left never again.
// Exact forward convolution; nothing is simulated. Each day: use first, then the change of state.
//
// Lanes: the recursion runs beside itself once a point of the belief (see Quadrature), its start weighted by
// the point, so that whatever ties the weeks together (how well this home keeps to the order) is carried
// along; and once a number of sessions already done this week where the order has a weekly maximum
// ("layers"). Cost: O(days x lanes x support x taps). Buffers are kept between runs; no allocation in the
// loops.
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace kitround::forecast {

// Chances a day. From active: the rest stays active; from paused: the rest stays paused; left is for good.
struct StateChange {
    double activeToPaused = 0;
    double activeToLeft = 0;
    double pausedToActive = 0;
    double pausedToLeft = 0;
};

// What one day adds to a lane: taps[k] = P(k units and the step to the layer `advance` higher).
struct Branch {
    std::size_t advance = 0;
    std::vector<double> taps;
};
// Branches by [point][layer]. Over the branches of one layer all taps sum to 1.
struct DayKernel {
    std::vector<std::vector<std::vector<Branch>>> branches;
};

class UseRecursion {
public:
    // How many lanes (points x layers) and the most units that can be used over the run.
    void reserve(std::size_t points, std::size_t layers, std::size_t mostUnits);
    // Starts with the given masses by lane (point * layers + layer) at zero units; the rest of 1 has left.
    // `tracksLeft` false: what the homes that left have used is not needed, only who runs dry.
    void begin(std::span<const double> active, std::span<const double> paused, bool tracksLeft = true);

    // Right after begin(): lanes of `point` have used u units with chance used[u] before the run starts.
    void startUsed(std::size_t point, std::span<const double> used);

    void use(const DayKernel &kernel);
    void pauseAll();  // a hold begins: every active home is paused, before the day's use
    void startWeek(); // the weekly maximum counts afresh: all layers fold into the first
    void change(const StateChange &change);
    // Takes out what has used more than `stock` and is still in service; returns that chance.
    double absorbAbove(std::int64_t stock);

    // Distribution of units so far, by units; valid until the next call. Sums to 1 less what was absorbed.
    std::span<const double> total();
    // Mass by lane, for starting a later run from here.
    void masses(std::span<double> active, std::span<double> paused) const;
    std::size_t lanes() const { return points_ * layers_; }

private:
    struct Lane { // p[u] is 0 outside [low, high)
        double *p = nullptr;
        std::size_t low = 0;
        std::size_t high = 0;
    };
    static void clear(Lane &lane);
    static void trim(Lane &lane);
    static void addShifted(Lane &to, const Lane &from, double times, std::size_t shift);
    void refreshAlive();

    std::size_t points_ = 1, layers_ = 1, stride_ = 1;
    std::vector<double> buffer_;
    std::vector<Lane> active_, paused_, next_;
    Lane alive_, left_, total_;
    bool aliveIsStale_ = true;
    bool hasPaused_ = false;
    bool tracksLeft_ = true;
    double staying_ = 1; // share still in service where both states leave alike; lanes are conditional on it
};

} // namespace kitround::forecast
