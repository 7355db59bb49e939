#include "core/forecast/UseRecursion.h"

#include "core/base/Require.h"
#include "core/forecast/RowTable.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

// Below this a cell cannot move any figure shown (all cells dropped over a run sum to less than 1e-13), and
// carrying it on would cost as much as a cell that counts.
constexpr double kNegligible = 1e-18;

KITROUND_HOT_LOOP void addTimes(double *__restrict to, const double *__restrict from, std::size_t n,
                                double times) {
    for (std::size_t i = 0; i < n; ++i)
        to[i] += times * from[i];
}

} // namespace

void UseRecursion::reserve(std::size_t points, std::size_t layers, std::size_t mostUnits) {
    KITROUND_REQUIRE(points > 0 && layers > 0);
    points_ = points;
    layers_ = layers;
    stride_ = mostUnits + 1;
    const std::size_t count = lanes();
    buffer_.assign((3 * count + 3) * stride_, 0.0);
    active_.assign(count, {});
    paused_.assign(count, {});
    next_.assign(count, {});
    double *at = buffer_.data();
    const auto place = [&](Lane &lane) {
        lane = {at, 0, 0}; // what an earlier run left in it lies in other places now
        at += stride_;
    };
    for (std::size_t i = 0; i < count; ++i) {
        place(active_[i]);
        place(paused_[i]);
        place(next_[i]);
    }
    place(alive_);
    place(left_);
    place(total_);
}

void UseRecursion::clear(Lane &lane) {
    std::fill(lane.p + lane.low, lane.p + lane.high, 0.0);
    lane.low = lane.high = 0;
}

void UseRecursion::trim(Lane &lane) {
    while (lane.low < lane.high && lane.p[lane.low] < kNegligible)
        lane.p[lane.low++] = 0.0;
    while (lane.high > lane.low && lane.p[lane.high - 1] < kNegligible)
        lane.p[--lane.high] = 0.0;
}

void UseRecursion::addShifted(Lane &to, const Lane &from, double times, std::size_t shift) {
    if (from.low == from.high || times == 0.0)
        return;
    addTimes(to.p + from.low + shift, from.p + from.low, from.high - from.low, times);
    const bool isEmpty = to.low == to.high;
    to.low = isEmpty ? from.low + shift : std::min(to.low, from.low + shift);
    to.high = isEmpty ? from.high + shift : std::max(to.high, from.high + shift);
}

void UseRecursion::begin(std::span<const double> active, std::span<const double> paused, bool tracksLeft) {
    KITROUND_REQUIRE(active.size() == lanes() && paused.size() == lanes());
    const auto startAt = [](Lane &lane, double mass) {
        clear(lane);
        if (mass <= 0.0)
            return;
        lane.p[0] = mass;
        lane.high = 1;
    };
    double inService = 0;
    hasPaused_ = false;
    for (std::size_t i = 0; i < lanes(); ++i) {
        startAt(active_[i], active[i]);
        startAt(paused_[i], paused[i]);
        hasPaused_ = hasPaused_ || paused[i] > 0.0;
        inService += active[i] + paused[i];
    }
    tracksLeft_ = tracksLeft;
    startAt(left_, tracksLeft ? 1.0 - inService : 0.0);
    staying_ = 1;
    aliveIsStale_ = true;
}

void UseRecursion::startUsed(std::size_t point, std::span<const double> used) {
    KITROUND_REQUIRE(!used.empty() && used.size() <= stride_);
    for (std::size_t layer = 0; layer < layers_; ++layer)
        for (std::vector<Lane> *lanes : {&active_, &paused_}) {
            Lane &lane = (*lanes)[point * layers_ + layer];
            if (lane.high == 0)
                continue;
            KITROUND_REQUIRE(lane.high == 1);
            for (std::size_t u = used.size(); u-- > 0;)
                lane.p[u] = lane.p[0] * used[u];
            lane.high = used.size();
            trim(lane);
        }
    aliveIsStale_ = true;
}

void UseRecursion::use(const DayKernel &kernel) {
    KITROUND_REQUIRE(kernel.branches.size() == points_);
    for (Lane &lane : next_)
        clear(lane);
    for (std::size_t point = 0; point < points_; ++point)
        for (std::size_t layer = 0; layer < layers_; ++layer) {
            const Lane &from = active_[point * layers_ + layer];
            for (const Branch &branch : kernel.branches[point][layer]) {
                KITROUND_REQUIRE(from.high + branch.taps.size() <= stride_ + 1);
                for (std::size_t k = 0; k < branch.taps.size(); ++k)
                    addShifted(next_[point * layers_ + layer + branch.advance], from, branch.taps[k], k);
            }
        }
    std::swap(active_, next_);
    for (Lane &lane : active_)
        trim(lane);
    aliveIsStale_ = true;
}

void UseRecursion::pauseAll() {
    for (std::size_t i = 0; i < lanes(); ++i) {
        addShifted(paused_[i], active_[i], 1.0, 0);
        clear(active_[i]);
    }
    hasPaused_ = true;
}

void UseRecursion::startWeek() {
    for (std::size_t point = 0; point < points_; ++point)
        for (std::size_t layer = 1; layer < layers_; ++layer)
            for (std::vector<Lane> *lanes : {&active_, &paused_}) {
                Lane &from = (*lanes)[point * layers_ + layer];
                addShifted((*lanes)[point * layers_], from, 1.0, 0);
                clear(from);
            }
}

void UseRecursion::refreshAlive() {
    if (!aliveIsStale_)
        return;
    clear(alive_);
    for (const Lane &lane : active_)
        addShifted(alive_, lane, 1.0, 0);
    if (hasPaused_)
        for (const Lane &lane : paused_)
            addShifted(alive_, lane, 1.0, 0);
    aliveIsStale_ = false;
}

void UseRecursion::change(const StateChange &c) {
    double activeLeaves = c.activeToLeft, pausedLeaves = c.pausedToLeft;
    double pauses = c.activeToPaused, returns = c.pausedToActive;
    const bool leaveAlike = activeLeaves == pausedLeaves || (!hasPaused_ && pauses == 0.0);
    if (leaveAlike && activeLeaves < 1.0) {
        // Leaving does not depend on the state, so one factor serves all lanes.
        if (tracksLeft_ && activeLeaves > 0.0) {
            refreshAlive();
            addShifted(left_, alive_, staying_ * activeLeaves, 0);
        }
        staying_ *= 1.0 - activeLeaves;
        pauses /= 1.0 - activeLeaves;
        returns /= 1.0 - activeLeaves;
        activeLeaves = pausedLeaves = 0.0;
        if (pauses == 0.0 && (!hasPaused_ || returns == 0.0))
            return;
    } else if (tracksLeft_) {
        for (const Lane &lane : active_)
            addShifted(left_, lane, staying_ * activeLeaves, 0);
        for (const Lane &lane : paused_)
            addShifted(left_, lane, staying_ * pausedLeaves, 0);
    }
    for (std::size_t i = 0; i < lanes(); ++i) {
        Lane &now = next_[i];
        clear(now);
        addShifted(now, active_[i], 1.0 - pauses - activeLeaves, 0);
        addShifted(now, paused_[i], returns, 0);
        Lane &paused = paused_[i];
        const double stays = 1.0 - returns - pausedLeaves;
        for (std::size_t u = paused.low; u < paused.high; ++u)
            paused.p[u] *= stays;
        addShifted(paused, active_[i], pauses, 0);
        trim(now);
        trim(paused);
        std::swap(active_[i], now);
    }
    hasPaused_ = std::ranges::any_of(paused_, [](const Lane &lane) { return lane.low < lane.high; });
    // Moving between active and paused leaves their sum as it was; leaving by state does not.
    aliveIsStale_ = aliveIsStale_ || activeLeaves > 0.0 || pausedLeaves > 0.0;
}

double UseRecursion::absorbAbove(std::int64_t stock) {
    const std::size_t most = static_cast<std::size_t>(std::max<std::int64_t>(stock, 0));
    double taken = 0;
    for (std::vector<Lane> *lanes : {&active_, &paused_})
        for (Lane &lane : *lanes) {
            if (lane.high <= most + 1)
                continue;
            for (std::size_t u = std::max(most + 1, lane.low); u < lane.high; ++u) {
                taken += lane.p[u];
                lane.p[u] = 0.0;
            }
            lane.high = std::max(lane.low, std::min(lane.high, most + 1));
            if (lane.low >= lane.high)
                lane.low = lane.high = 0;
        }
    aliveIsStale_ = aliveIsStale_ || taken > 0.0;
    return staying_ * taken;
}

std::span<const double> UseRecursion::total() {
    refreshAlive();
    clear(total_);
    addShifted(total_, left_, 1.0, 0);
    addShifted(total_, alive_, staying_, 0);
    return {total_.p, total_.high};
}

void UseRecursion::masses(std::span<double> active, std::span<double> paused) const {
    KITROUND_REQUIRE(active.size() == lanes() && paused.size() == lanes());
    const auto massOf = [&](const Lane &lane) {
        double sum = 0;
        for (std::size_t u = lane.low; u < lane.high; ++u)
            sum += lane.p[u];
        return staying_ * sum;
    };
    for (std::size_t i = 0; i < lanes(); ++i) {
        active[i] = massOf(active_[i]);
        paused[i] = massOf(paused_[i]);
    }
}

} // namespace kitround::forecast
