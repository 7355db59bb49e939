#include "core/forecast/SessionCounts.h"

#include "core/base/Require.h"
#include "core/forecast/CappedSessions.h"

#include <algorithm>
#include <limits>

namespace kitround::forecast {

namespace {

// next[n] for n = first .. offers + 1 from the row of `offers` offers (SessionCounts.h); done[offers + 1] is
// 0.
KITROUND_HOT_LOOP void oneOfferMore(double *__restrict next, const double *__restrict done, int first,
                                    int offers, double a, double b) {
    const double share = 1.0 / (a + b + offers), missed = b + offers;
    next[first] = done[first] * std::max(0.0, missed - first) * share;
    for (int n = first + 1; n <= offers + 1; ++n) {
        const double k = n;
        next[n] = (done[n] * std::max(0.0, missed - k) + done[n - 1] * (a + k - 1.0)) * share;
    }
}

} // namespace

void addBetaBinomialRows(const BetaBelief &belief, std::size_t offers, RowTable &to) {
    std::vector<double> done(offers + 2, 0.0), next(offers + 2, 0.0);
    done[0] = 1.0;
    std::size_t first = 0; // what lies below is negligible, and stays so
    for (std::size_t m = 0; m <= offers; ++m) {
        to.add({first, std::span(done).subspan(first, m + 1 - first)});
        if (m == offers)
            break;
        oneOfferMore(next.data(), done.data(), static_cast<int>(first), static_cast<int>(m), belief.a,
                     belief.b);
        done.swap(next);
        while (first < m + 1 && done[first] < kNegligibleChance)
            ++first;
    }
}

std::size_t SessionCounts::addRow(std::span<const double> p) {
    return rows_.add({0, p});
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
    else if (home.isAsNeeded)
        countAsNeeded();
    else
        recur(recursion);
}

SessionCounts::Span SessionCounts::spanOf(std::size_t from, std::size_t to) const {
    Span span;
    for (std::size_t index = from; index < to; ++index)
        span.add(home_->day(index));
    return span;
}

// Sessions of so many offers, and beyond the order on so many days; made once.
std::size_t SessionCounts::rowOf(const Span &span) {
    const bool hasBeyond = beyond_.size() > 1;
    const std::size_t key = span.offers * beyond_.size() + (hasBeyond ? span.days : 0);
    if (rowOf_[key] < 0)
        rowOf_[key] = static_cast<std::ptrdiff_t>(
            hasBeyond ? rows_.add(sumOf(offered_[span.offers], beyond_[span.days], buffer_))
                      : rows_.add(offered_[span.offers]));
    return static_cast<std::size_t>(rowOf_[key]);
}

void SessionCounts::readOffers() {
    const Timeline &t = home_->timeline;
    const Span all = spanOf(0, t.days.size());
    const BetaBelief &beyond = home_->model.beyondOrder;
    offered_.clear();
    beyond_.clear();
    addBetaBinomialRows(home_->model.adherenceAhead, all.offers, offered_);
    addBetaBinomialRows(beyond, beyond.a > 0 ? all.days : 0, beyond_);
    rowOf_.assign((all.offers + 1) * beyond_.size(), -1);
    Span sofar, week;
    for (std::size_t d = 0; d < t.horizon(); ++d) {
        if (d % 7 == 0)
            week = {};
        sofar.add(home_->day(t.today + d));
        week.add(home_->day(t.today + d));
        upTo_.push_back(rowOf(sofar));
        inWeek_.push_back(rowOf(week));
    }
}

namespace {

// One home at all points of its rate, day by day.
class AsNeededHome {
public:
    AsNeededHome(const HomeQuestion &home, std::span<const JointPoint> points, std::size_t from,
                 bool countsSince)
        : home_(home), points_(points) {
        const auto done = static_cast<int>(home.layerOn(from));
        for (const JointPoint &point : points)
            sessions_.emplace_back(point.habit.perDay, home.weeklyMost, done, countsSince);
    }
    void live(std::size_t index) {
        const DayPlan &day = home_.day(index);
        const bool startsWeek = day.on.weekday() == home_.agency->snapshot().settings.weekStart;
        for (CappedSessions &s : sessions_) {
            if (startsWeek)
                s.startWeek();
            if (day.order)
                s.drainOn(day.mostToday);
        }
    }
    void countAfresh() {
        for (CappedSessions &s : sessions_)
            s.countAfresh();
    }
    std::span<const double> all() {
        sum_.clear();
        for (std::size_t i = 0; i < points_.size(); ++i)
            sessions_[i].addAll(points_[i].weight, sum_);
        return sum_;
    }
    std::span<const double> since() {
        sum_.clear();
        for (std::size_t i = 0; i < points_.size(); ++i)
            sessions_[i].addSince(points_[i].weight, sum_);
        return sum_;
    }

private:
    const HomeQuestion &home_;
    std::span<const JointPoint> points_;
    std::vector<CappedSessions> sessions_;
    std::vector<double> sum_;
};

} // namespace

void SessionCounts::countAsNeeded() {
    const Timeline &t = home_->timeline;
    points_ = habitPoints(*home_);
    AsNeededHome home(*home_, points_, t.today, true);
    for (std::size_t d = 0; d < t.horizon(); ++d) {
        if (d % 7 == 0)
            home.countAfresh();
        home.live(t.today + d);
        const bool adds = home_->day(t.today + d).order != nullptr;
        upTo_.push_back(adds || d == 0 ? addRow(home.all()) : upTo_.back());
        inWeek_.push_back(adds || d % 7 == 0 ? addRow(home.since()) : inWeek_.back());
    }
}

void SessionCounts::countAsNeededSince(std::size_t silentFrom) {
    const Timeline &t = home_->timeline;
    AsNeededHome home(*home_, points_, silentFrom, false);
    for (std::size_t index = silentFrom; index < t.today; ++index)
        home.live(index);
    silent_ = addRow(home.all());
    for (std::size_t d = 0; d < t.horizon(); ++d) {
        home.live(t.today + d);
        since_.push_back(addRow(home.all()));
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
    recursion.reserve(points_.size(), home_->layers(), kernels.mostUnits());
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
    since_.clear();
    if (home_->isExchangeable) {
        Span span = spanOf(silentFrom, t.today);
        silent_ = rowOf(span);
        for (std::size_t d = 0; d < t.horizon(); ++d) {
            span.add(home_->day(t.today + d));
            since_.push_back(rowOf(span));
        }
        return;
    }
    const double certain[] = {1.0};
    if (silentFrom == t.today) {
        silent_ = addRow(certain);
        since_ = upTo_;
        return;
    }
    if (home_->isAsNeeded) {
        countAsNeededSince(silentFrom);
        return;
    }
    const DayKernels kernels(*home_, points_, std::nullopt);
    recursion.reserve(points_.size(), home_->layers(), kernels.mostUnits());
    startAt(recursion, *home_, points_, silentFrom);
    for (std::size_t index = silentFrom; index < t.today; ++index)
        stepDay(recursion, *home_, kernels, index);
    silent_ = addRow(recursion.total());
    for (std::size_t d = 0; d < t.horizon(); ++d) {
        stepDay(recursion, *home_, kernels, t.today + d);
        since_.push_back(addRow(recursion.total()));
        night(recursion, d);
    }
}

} // namespace kitround::forecast
