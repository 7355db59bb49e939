#include "core/rounds/bound/RoundPricing.h"

#include "core/base/Index.h"
#include "core/base/Require.h"
#include "core/rounds/problem/Fit.h"

#include <algorithm>
#include <limits>

namespace kitround::rounds {
namespace {

bool sameWindows(const std::vector<TimeWindow> &a, const std::vector<TimeWindow> &b) {
    return std::ranges::equal(
        a, b, [](const TimeWindow &x, const TimeWindow &y) { return x.from == y.from && x.to == y.to; });
}

} // namespace

RoundPricing::RoundPricing(const WeekProblem &problem, std::int32_t duty, Minute grid)
    : p_(problem), duty_(problem.duties[at(duty)]), dutyIndex_(duty), grid_(grid),
      minutes_(duty_.to - duty_.from + 1), ticks_((minutes_ + grid - 1) / grid) {
    KITROUND_REQUIRE(grid > 0 && ticks_ <= std::numeric_limits<std::int16_t>::max());
    addNodes();
    fillStarts();
    const std::size_t n = nodes_.size();
    legs_.resize(n * n);
    for (std::size_t i = 0; i < n; ++i) {
        const auto place = at(nodes_[i].place);
        fromStart_.push_back(p_.travel.minutesBetween(at(duty_.startPlace), place));
        toEnd_.push_back(p_.travel.minutesBetween(place, at(duty_.endPlace)));
        for (std::size_t j = 0; j < n; ++j)
            legs_[i * n + j] = p_.travel.minutesBetween(place, at(nodes_[j].place));
    }
    cells_.resize(n * at(ticks_));
    standing_.resize(n);
}

void RoundPricing::addNodes() {
    if (duty_.mostVisits < 1)
        return;
    for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
        const auto index = static_cast<std::int32_t>(j);
        const Job &job = p_.jobs[j];
        const bool isFirst = mayStand(p_, index, dutyIndex_, Role::First);
        if (!isFirst && !(job.twoNurses && mayStand(p_, index, dutyIndex_, Role::Second)))
            continue;
        Node node;
        node.series = job.series >= 0 ? job.series : static_cast<std::int32_t>(p_.series.size()) + index;
        node.place = job.place;
        node.length = job.length;
        for (const TimeWindow &window : job.windows[at(duty_.day)])
            if (window.isHard)
                node.windows.push_back(window);
        if (job.lockedStart >= 0)
            node.windows = {{job.lockedStart, job.lockedStart, true}};
        std::ranges::sort(node.windows, {}, &TimeWindow::from);
        auto same = std::ranges::find_if(nodes_, [&](const Node &other) {
            return other.series == node.series && other.place == node.place && other.length == node.length &&
                   sameWindows(other.windows, node.windows);
        });
        if (same == nodes_.end()) {
            nodes_.push_back(std::move(node));
            same = nodes_.end() - 1;
        }
        same->jobs.push_back(index);
        // Which of two nurses meets a wish is not known here.
        same->fit.push_back(job.twoNurses ? 0 : fitCost(p_, index, dutyIndex_, -1).total());
    }
}

void RoundPricing::fillStarts() {
    starts_.assign(nodes_.size() * at(minutes_), -1);
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        const Node &node = nodes_[i];
        const Minute back = p_.travel.minutesBetween(at(node.place), at(duty_.endPlace));
        const Minute last = minutes_ - 1 - node.length - back; // latest start from which she is back in time
        Minute next = -1;
        for (Minute m = minutes_ - 1; m >= 0; --m) {
            const Minute clock = duty_.from + m;
            const bool isOpen =
                node.windows.empty() || std::ranges::any_of(node.windows, [&](const TimeWindow &w) {
                    return w.from <= clock && clock <= w.to;
                });
            if (isOpen && m <= last)
                next = m;
            if (next >= 0)
                starts_[i * at(minutes_) + at(m)] = static_cast<std::int16_t>(next / grid_);
        }
    }
}

bool RoundPricing::offer(Cell &cell, const Label &label) {
    if (label.cost < cell.best.cost) {
        if (cell.best.before != label.before)
            cell.other = cell.best;
        cell.best = label;
        return true;
    }
    if (label.before != cell.best.before && label.cost < cell.other.cost) {
        cell.other = label;
        return true;
    }
    return false;
}

void RoundPricing::choose(std::span<const double> prices, double each) {
    for (Node &node : nodes_) {
        node.profit = -kImpossible;
        for (std::size_t k = 0; k < node.jobs.size(); ++k) {
            const double profit = prices[at(node.jobs[k])] - node.fit[k] - each;
            if (profit > node.profit) {
                node.profit = profit;
                node.best = node.jobs[k];
            }
        }
    }
}

void RoundPricing::begin() {
    const Label none{kImpossible, -2, -1};
    std::ranges::fill(cells_, Cell{none, none});
    std::ranges::fill(standing_, Cell{none, none});
    steps_.clear();
    least_ = 0;
    last_ = -1;
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        const std::int32_t tick = startTick(i, fromStart_[i]);
        if (tick < 0)
            continue;
        steps_.push_back({static_cast<std::int32_t>(i), -1});
        offer(cellAt(i, tick), {p_.weights.travelMinute * fromStart_[i] - nodes_[i].profit, -1,
                                static_cast<std::int32_t>(steps_.size()) - 1});
    }
}

// On from a visit begun at that tick or before, to every other one.
void RoundPricing::leave(std::size_t node, std::int32_t tick, const Cell &cell) {
    const Node &here = nodes_[node];
    const double home = cell.best.cost + p_.weights.travelMinute * toEnd_[node];
    if (home < least_) {
        least_ = home;
        last_ = cell.best.step;
    }
    const Minute ready = tick * grid_ + here.length;
    const Minute *legs = legs_.data() + node * nodes_.size();
    for (std::size_t j = 0; j < nodes_.size(); ++j) {
        const Node &there = nodes_[j];
        if (there.series == here.series)
            continue;
        const Label &from = cell.best.before == there.series ? cell.other : cell.best;
        if (from.cost == kImpossible)
            continue;
        const std::int32_t start = startTick(j, ready + legs[j]);
        if (start < 0)
            continue;
        const double cost = from.cost + p_.weights.travelMinute * legs[j] - there.profit;
        Cell &cellThere = cellAt(j, start);
        // What stands there already, from another home and no dearer, leaves nothing to offer.
        if (cost >= cellThere.best.cost &&
            (here.series == cellThere.best.before || cost >= cellThere.other.cost))
            continue;
        steps_.push_back({static_cast<std::int32_t>(j), from.step});
        offer(cellThere, {cost, here.series, static_cast<std::int32_t>(steps_.size()) - 1});
    }
}

const RoundPricing::Round &RoundPricing::cheapest(std::span<const double> prices, double each) {
    choose(prices, each);
    begin();
    for (std::int32_t tick = 0; tick < ticks_; ++tick)
        for (std::size_t i = 0; i < nodes_.size(); ++i) {
            const Cell arrived = cellAt(i, tick);
            if (arrived.best.cost == kImpossible)
                continue;
            // Who could have been there earlier for no more need not set out again.
            const bool isBetter = offer(standing_[i], arrived.best);
            const bool isOtherBetter = arrived.other.cost < kImpossible && offer(standing_[i], arrived.other);
            if (isBetter || isOtherBetter)
                leave(i, tick, standing_[i]);
        }
    round_.cost = least_;
    round_.jobs.clear();
    for (std::int32_t step = last_; step >= 0; step = steps_[at(step)].parent)
        round_.jobs.push_back(nodes_[at(steps_[at(step)].node)].best);
    return round_;
}

} // namespace kitround::rounds
