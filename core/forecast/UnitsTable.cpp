#include "core/forecast/UnitsTable.h"

#include "core/base/Require.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

constexpr std::size_t kLane = 4; // numbers that wide registers take at once
constexpr std::size_t kLevels = UnitsTable::kMostLevels;

// to[u] = the sum over k of taps[k] x from[u - k], level by level. Reads `count` - 1 units before the first.
template <std::size_t Count>
[[gnu::always_inline]] inline void stepOf(double *__restrict to, const double *__restrict from,
                                          std::size_t units, const double *__restrict taps,
                                          std::size_t count) {
    for (std::size_t u = 0; u < units; ++u) {
        double sum[kLevels];
        for (std::size_t v = 0; v < kLevels; ++v)
            sum[v] = taps[v] * from[kLevels * u + v];
        for (std::size_t k = 1; k < (Count > 0 ? Count : count); ++k) {
            const double *const back = from + kLevels * u - kLevels * k;
            for (std::size_t v = 0; v < kLevels; ++v)
                sum[v] += taps[kLevels * k + v] * back[v];
        }
        for (std::size_t v = 0; v < kLevels; ++v)
            to[kLevels * u + v] = sum[v];
    }
}

KITROUND_HOT_LOOP void oneSessionMore(double *__restrict to, const double *__restrict from, std::size_t units,
                                      const double *__restrict taps, std::size_t count) {
    switch (count) {
    case 2:
        return stepOf<2>(to, from, units, taps, count);
    case 3:
        return stepOf<3>(to, from, units, taps, count);
    case 4:
        return stepOf<4>(to, from, units, taps, count);
    default:
        return stepOf<0>(to, from, units, taps, count);
    }
}

void growTo(std::vector<double> &values, std::size_t size) {
    if (values.size() < size)
        values.resize(size);
}

KITROUND_HOT_LOOP void sumLevels(double *__restrict to, const double *__restrict levels, std::size_t units) {
    for (std::size_t u = 0; u < units; ++u) {
        const double *const at = levels + kLevels * u;
        to[u] = (at[0] + at[1]) + (at[2] + at[3]);
    }
}

} // namespace

void UnitsTable::begin(const ItemUse &use) {
    KITROUND_REQUIRE(use.levels.size() <= kLevels);
    fours_.clear();
    growTo(levels_, kLevels);
    std::fill_n(levels_.data(), kLevels, 0.0);
    first_ = least_ = 0;
    size_ = 1;
    std::size_t most = use.perSession.size();
    for (const UnitLevel &level : use.levels)
        most = std::max(most, level.perSession.size());
    taps_.assign(kLevels * most, 0.0);
    const auto setLevel = [&](std::size_t v, double weight, const Pmf &perSession) {
        levels_[v] = weight;
        for (std::size_t k = 0; k < perSession.size(); ++k)
            taps_[kLevels * k + v] = perSession[k];
    };
    if (use.levels.empty())
        setLevel(0, 1.0, use.perSession);
    for (std::size_t v = 0; v < use.levels.size(); ++v)
        setLevel(v, use.levels[v].weight, use.levels[v].perSession);
}

void UnitsTable::trim() {
    const auto isNothing = [this](std::size_t u) {
        const double *const at = levels_.data() + kLevels * (first_ + u);
        return (at[0] + at[1]) + (at[2] + at[3]) < kNegligibleChance;
    };
    while (size_ > 1 && isNothing(size_ - 1))
        --size_;
    while (size_ > 1 && isNothing(0)) {
        ++first_;
        ++least_;
        --size_;
    }
}

void UnitsTable::addFour() {
    trim();
    const std::size_t more = taps_.size() / kLevels - 1; // units that a session may add
    const Four four{fours_.empty() ? 0 : fours_.back().behind(), least_,
                    (size_ + 4 * more + kLane - 1) / kLane};
    const std::size_t units = kLane * four.lanes;
    growTo(rows_, four.behind());
    growTo(next_, kLevels * (more + units));
    double *const next = std::fill_n(next_.data(), kLevels * more, 0.0);
    std::fill(std::copy_n(levels_.data() + kLevels * first_, kLevels * size_, next), next + kLevels * units,
              0.0);
    levels_.swap(next_);
    growTo(next_, kLevels * (more + units));
    std::fill_n(next_.data(), kLevels * more, 0.0);
    for (std::size_t k = 0; k < 4; ++k) {
        const double *const levels = levels_.data() + kLevels * more;
        sumLevels(rows_.data() + four.at + k * units, levels, units);
        oneSessionMore(next_.data() + kLevels * more, levels, units, taps_.data(), more + 1);
        levels_.swap(next_);
    }
    first_ = more;
    size_ += 4 * more;
    fours_.push_back(four);
}

void UnitsTable::know(std::size_t fours) {
    while (fours_.size() < fours)
        addFour();
}

RowTable::Row UnitsTable::row(std::size_t n) {
    know(n / 4 + 1);
    const Four &four = fours_[n / 4];
    const std::size_t units = kLane * four.lanes;
    return {four.least, std::span(rows_).subspan(four.at + n % 4 * units, units)};
}

// to[u - least] += the sum over n of times[n] x row n of the fours, made row by row.
KITROUND_HOT_LOOP void mixFours(double *__restrict to, const double *__restrict times,
                                const UnitsTable::Four *fours, std::size_t count,
                                const double *__restrict rows, std::size_t least) {
    for (std::size_t f = 0; f < count; ++f) {
        const std::size_t size = kLane * fours[f].lanes;
        double *__restrict target = to + (fours[f].least - least);
        const double *__restrict a = rows + fours[f].at;
        const double *__restrict b = a + size;
        const double *__restrict c = b + size;
        const double *__restrict d = c + size;
        const double timesA = times[4 * f], timesB = times[4 * f + 1];
        const double timesC = times[4 * f + 2], timesD = times[4 * f + 3];
        for (std::size_t lane = 0; lane < fours[f].lanes; ++lane)
            for (std::size_t i = 0; i < kLane; ++i) {
                const std::size_t at = kLane * lane + i;
                target[at] =
                    (((target[at] + timesA * a[at]) + timesB * b[at]) + timesC * c[at]) + timesD * d[at];
            }
    }
}

std::size_t UnitsTable::addMix(const RowTable::Row &counts, RowTable &to) {
    const std::size_t from = counts.least / 4, end = (counts.end() + 3) / 4;
    know(end);
    const std::size_t least = fours_[from].least; // no four begins before the one before it
    std::size_t behind = least;
    for (std::size_t f = from; f < end; ++f)
        behind = std::max(behind, fours_[f].least + kLane * fours_[f].lanes);
    times_.assign(4 * (end - from), 0.0);
    std::copy(counts.p.begin(), counts.p.end(),
              times_.begin() + static_cast<std::ptrdiff_t>(counts.least - 4 * from));
    const std::span<double> sum = to.room(behind - least);
    mixFours(sum.data(), times_.data(), fours_.data() + from, end - from, rows_.data(), least);
    return to.addFromRoom(least);
}

} // namespace kitround::forecast
