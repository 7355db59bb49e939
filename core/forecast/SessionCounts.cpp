#include "core/forecast/SessionCounts.h"

#include "core/base/Require.h"

#include <algorithm>
#include <limits>

namespace kitround::forecast {

void addBetaBinomialRows(const BetaBelief &belief, std::size_t offers, RowTable &to) {
    std::vector<double> done{1.0};
    done.reserve(offers + 2);
    const double a = belief.a, b = belief.b;
    for (std::size_t m = 0; m <= offers; ++m) {
        to.add(0, done);
        const double seen = a + b + static_cast<double>(m);
        done.push_back(0.0);
        for (std::size_t n = m + 1; n > 0; --n) { // from above, so that each entry is read before it changes
            const double k = static_cast<double>(n);
            done[n] =
                (done[n] * std::max(0.0, b + static_cast<double>(m) - k) + done[n - 1] * (a + k - 1.0)) /
                seen;
        }
        done[0] *= (b + static_cast<double>(m)) / seen;
    }
}

std::size_t SessionCounts::addRow(std::span<const double> p) {
    return rows_.add(0, p);
}

void SessionCounts::build(const HomeQuestion &home, UseRecursion &recursion) {
    KITROUND_REQUIRE(home.hasOneOrder());
    home_ = &home;
    rows_.clear();
    upTo_.clear();
    inWeek_.clear();
    since_.clear();
    sinceBuilt_ = std::numeric_limits<std::size_t>::max();
    if (home.isExchangeable)
        readOffers();
    else
        recur(recursion);
}

void SessionCounts::readOffers() {
    const Timeline &t = home_->timeline;
    mostSessions_ = t.offersBetween(0, t.days.size());
    addBetaBinomialRows(home_->model.adherenceAhead, mostSessions_, rows_);
    std::size_t offers = 0, ofWeek = 0;
    for (std::size_t d = 0; d < t.horizon(); ++d) {
        const std::size_t today = t.days[t.today + d].isOffered ? 1 : 0;
        offers += today;
        ofWeek = (d % 7 == 0 ? 0 : ofWeek) + today;
        upTo_.push_back(offers);
        inWeek_.push_back(ofWeek);
    }
}

// The chance to be back holds for all of the paused; of those in service still it is the larger part.
void SessionCounts::night(UseRecursion &recursion, std::size_t d) const {
    const double back = home_->day(home_->timeline.today + d).returnChance;
    const double stays = home_->staying[d] > 0 ? home_->staying[d + 1] / home_->staying[d] : 0.0;
    recursion.change({.pausedToActive = back < stays ? back / stays : 1.0});
}

void SessionCounts::recur(UseRecursion &recursion) {
    const Timeline &t = home_->timeline;
    points_ = habitPoints(*home_);
    const DayKernels kernels(*home_, points_, std::nullopt);
    mostSessions_ = kernels.mostUnits();
    recursion.reserve(points_.size(), home_->layers(), mostSessions_);
    startAt(recursion, *home_, points_, t.today);
    const std::size_t weeks = t.horizon() / 7;
    std::vector<std::vector<double>> active(weeks, std::vector<double>(recursion.lanes(), 0.0));
    auto paused = active;
    for (std::size_t d = 0; d < t.horizon(); ++d) {
        if (d % 7 == 0 && d / 7 < weeks)
            recursion.masses(active[d / 7], paused[d / 7]);
        stepDay(recursion, *home_, kernels, t.today + d);
        // A day that adds nothing shares its row with the day before.
        upTo_.push_back(kernels.on(t.today + d) || d == 0 ? addRow(recursion.total()) : upTo_.back());
        night(recursion, d);
    }
    // The sessions of a week are not a difference of cumulated ones: the recursion starts afresh from the
    // week's states.
    for (std::size_t w = 0; w < weeks; ++w) {
        recursion.begin(active[w], paused[w]);
        for (std::size_t i = 0; i < 7; ++i) {
            const std::size_t index = t.today + 7 * w + i;
            stepDay(recursion, *home_, kernels, index);
            inWeek_.push_back(kernels.on(index) || i == 0 ? addRow(recursion.total()) : inWeek_.back());
            night(recursion, 7 * w + i);
        }
    }
}

void SessionCounts::buildSince(std::size_t silentFrom, UseRecursion &recursion) {
    if (sinceBuilt_ == silentFrom)
        return;
    sinceBuilt_ = silentFrom;
    const Timeline &t = home_->timeline;
    if (home_->isExchangeable) {
        silent_ = t.offersBetween(silentFrom, t.today);
        since_.clear();
        for (std::size_t row : upTo_)
            since_.push_back(silent_ + row);
        return;
    }
    const double certain[] = {1.0};
    if (silentFrom == t.today) {
        silent_ = addRow(certain);
        since_ = upTo_;
        return;
    }
    const DayKernels kernels(*home_, points_, std::nullopt);
    recursion.reserve(points_.size(), home_->layers(), kernels.mostUnits());
    startAt(recursion, *home_, points_, silentFrom);
    for (std::size_t index = silentFrom; index < t.today; ++index)
        stepDay(recursion, *home_, kernels, index);
    silent_ = addRow(recursion.total());
    since_.clear();
    for (std::size_t d = 0; d < t.horizon(); ++d) {
        stepDay(recursion, *home_, kernels, t.today + d);
        since_.push_back(addRow(recursion.total()));
        night(recursion, d);
    }
}

} // namespace kitround::forecast
