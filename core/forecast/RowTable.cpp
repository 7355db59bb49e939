#include "core/forecast/RowTable.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

constexpr std::size_t kLane = 4; // numbers that wide registers take at once

constexpr std::size_t lanesOf(std::size_t size) {
    return (size + kLane - 1) / kLane;
}
// Room of a row: zeros behind it, so that whole lanes may be read from any of its places on.
constexpr std::size_t withZeros(std::size_t size) {
    return size + kLane;
}

// to[i] += times from[i].
KITROUND_HOT_LOOP void addTimes(double *__restrict to, const double *__restrict from, std::size_t n,
                                double times) {
    for (std::size_t i = 0; i < n; ++i)
        to[i] += times * from[i];
}

// sum[i] = left[i] + staying from[i], then left[i] += leaving from[i].
KITROUND_HOT_LOOP void addBoth(double *__restrict left, double *__restrict sum, const double *__restrict from,
                               std::size_t n, double staying, double leaving) {
    for (std::size_t i = 0; i < n; ++i) {
        sum[i] = left[i] + staying * from[i];
        left[i] += leaving * from[i];
    }
}

// to[i + k] += a[i] b[k], b the shorter one.
KITROUND_HOT_LOOP void addProduct(double *__restrict to, const double *__restrict a, std::size_t sizeA,
                                  const double *__restrict b, std::size_t sizeB) {
    for (std::size_t k = 0; k < sizeB; ++k) {
        const double chance = b[k];
        if (chance == 0.0)
            continue;
        double *__restrict target = to + k;
        for (std::size_t i = 0; i < sizeA; ++i)
            target[i] += chance * a[i];
    }
}

// to[n] = sum over k of taps[k] a[n - k] for n in whole lanes, each sum made once, in the order of
// addProduct. Reads a from 3 before its first.
KITROUND_HOT_LOOP void fourTaps(double *__restrict to, const double *__restrict a, std::size_t lanes,
                                const double *__restrict taps) {
    const double t0 = taps[0], t1 = taps[1], t2 = taps[2], t3 = taps[3];
    for (std::size_t lane = 0; lane < lanes; ++lane)
        for (std::size_t i = 0; i < kLane; ++i) {
            const double *const at = a + (kLane * lane + i);
            to[kLane * lane + i] = ((t0 * at[0] + t1 * at[-1]) + t2 * at[-2]) + t3 * at[-3];
        }
}

KITROUND_HOT_LOOP double dotOf(const double *__restrict a, const double *__restrict b, std::size_t n) {
    double sums[kLane] = {};
    std::size_t i = 0;
    for (; i + kLane <= n; i += kLane)
        for (std::size_t k = 0; k < kLane; ++k)
            sums[k] += a[i + k] * b[i + k];
    for (; i < n; ++i)
        sums[0] += a[i] * b[i];
    return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

} // namespace

void RowTable::clear() {
    used_ = 0;
    spans_.clear();
    rises_ = true;
}

RowTable::Row RowTable::Row::trimmedByFours() const {
    const double *const v = p.data();
    const auto areNothing = [](const double *four) {
        return (four[0] + four[1]) + (four[2] + four[3]) < kNegligibleChance;
    };
    std::size_t first = 0, last = p.size();
    if (last > 8) { // mostly one step or none, which no processor foretells: without a branch
        last -= 4 * static_cast<std::size_t>(areNothing(v + last - 4));
        first += 4 * static_cast<std::size_t>(areNothing(v));
    }
    while (last > first + 4 && areNothing(v + last - 4))
        last -= 4;
    while (first + 4 < last && areNothing(v + first))
        first += 4;
    return {least + first, p.subspan(first, last - first)};
}

RowTable::Row RowTable::Row::trimmed() const {
    const Row row = trimmedByFours();
    std::size_t first = 0, last = row.p.size();
    while (last > 1 && row.p[last - 1] < kNegligibleChance)
        --last;
    while (first + 1 < last && row.p[first] < kNegligibleChance)
        ++first;
    return {row.least + first, row.p.subspan(first, last - first)};
}

double *RowTable::roomFor(std::size_t size) {
    if (values_.size() < used_ + size)
        values_.resize(std::max(2 * values_.size(), used_ + size));
    return values_.data() + used_;
}

RowTable::Row RowTable::written(std::size_t least, std::size_t size) const {
    return {least, std::span(values_).subspan(used_, size)};
}

std::size_t RowTable::place(std::size_t at, Row row) {
    if (!spans_.empty())
        rises_ = rises_ && row.least >= spans_.back().least &&
                 row.end() >= spans_.back().least + spans_.back().size;
    spans_.push_back({at, row.least, row.p.size()});
    used_ = at + withZeros(row.p.size());
    return spans_.size() - 1;
}

std::size_t RowTable::keep(Row row) {
    const auto at = static_cast<std::size_t>(row.p.data() - values_.data());
    // What was trimmed behind the row must read as zeros.
    std::fill_n(values_.data() + at + row.p.size(), withZeros(0), 0.0);
    return place(at, row);
}

std::size_t RowTable::add(Row row) {
    row = row.trimmed();
    double *const to = roomFor(withZeros(row.p.size()));
    std::fill_n(std::copy(row.p.begin(), row.p.end(), to), withZeros(0), 0.0);
    return place(used_, row);
}

void RunningSum::begin() {
    least_ = 0;
    first_ = kBefore;
    size_ = 1;
    p_.assign(kBefore + 1 + kBehind, 0.0);
    p_[first_] = 1.0;
}

void RunningSum::add(std::span<const double> term) {
    const std::size_t size = size_ + term.size() - 1;
    if (term.size() <= kFew) {
        double taps[kFew] = {};
        std::copy(term.begin(), term.end(), taps);
        next_.resize(std::max(next_.size(), kBefore + size + kBehind));
        fourTaps(next_.data() + kBefore, p_.data() + first_, lanesOf(size), taps);
    } else {
        next_.assign(kBefore + size + kBehind, 0.0);
        addProduct(next_.data() + kBefore, p_.data() + first_, size_, term.data(), term.size());
    }
    p_.swap(next_);
    const RowTable::Row row = RowTable::Row{0, std::span(p_).subspan(kBefore, size)}.trimmedByFours();
    first_ = kBefore + row.least;
    least_ += row.least;
    size_ = row.p.size();
    std::fill_n(p_.data() + first_ - kBefore, kBefore, 0.0);
    std::fill_n(p_.data() + first_ + size_, kBehind, 0.0);
}

void addScaled(std::vector<double> &to, RowTable::Row row, double times) {
    if (to.size() < row.end())
        to.resize(row.end(), 0.0);
    addTimes(to.data() + row.least, row.p.data(), row.p.size(), times);
}

void addLeaving(std::vector<double> &left, std::vector<double> &sum, RowTable::Row row, double staying,
                double leaving) {
    if (left.size() < row.end())
        left.resize(row.end(), 0.0);
    if (sum.size() < left.size())
        sum.resize(left.size());
    std::copy_n(left.begin(), row.least, sum.begin());
    addBoth(left.data() + row.least, sum.data() + row.least, row.p.data(), row.p.size(), staying, leaving);
    std::copy(left.begin() + static_cast<std::ptrdiff_t>(row.end()), left.end(),
              sum.begin() + static_cast<std::ptrdiff_t>(row.end()));
    sum.resize(left.size());
}

namespace {

struct Cells { // of a row; zeros behind, so that whole lanes may be read
    const double *p;
    std::size_t least, size;
};

// to[u - least] += the sum over n of times[n] x row n, for `count` rows. Two at once where the second begins
// at or soon behind the first: each sum is still made row by row.
template <class RowAt>
[[gnu::always_inline]] inline void addRows(double *__restrict to, const double *__restrict times,
                                           std::size_t count, std::size_t least, RowAt rowAt) {
    const auto addLanes = [](double *__restrict target, const double *__restrict from, std::size_t lanes,
                             double by) __attribute__((always_inline)) {
        for (std::size_t lane = 0; lane < lanes; ++lane)
            for (std::size_t i = 0; i < kLane; ++i)
                target[kLane * lane + i] += by * from[kLane * lane + i];
    };
    std::size_t n = 0;
    for (; n + 1 < count; n += 2) {
        const Cells a = rowAt(n), b = rowAt(n + 1);
        const double timesA = times[n], timesB = times[n + 1];
        const double *__restrict fromA = a.p;
        const double *__restrict fromB = b.p;
        double *__restrict target = to + (a.least - least);
        const std::size_t shift = b.least - a.least; // huge where b begins before a
        if (shift > kLane || shift >= a.size) {
            addLanes(target, fromA, lanesOf(a.size), timesA);
            addLanes(to + (b.least - least), fromB, lanesOf(b.size), timesB);
            continue;
        }
        for (std::size_t i = 0; i < shift; ++i)
            target[i] += timesA * fromA[i];
        target += shift;
        fromA += shift;
        const std::size_t lanesA = lanesOf(a.size - shift), lanesB = lanesOf(b.size);
        const std::size_t both = lanesA < lanesB ? lanesA : lanesB;
        for (std::size_t lane = 0; lane < both; ++lane)
            for (std::size_t i = 0; i < kLane; ++i) {
                const std::size_t at = kLane * lane + i;
                target[at] = (target[at] + timesA * fromA[at]) + timesB * fromB[at];
            }
        addLanes(target + kLane * both, fromA + kLane * both, lanesA - both, timesA);
        addLanes(target + kLane * both, fromB + kLane * both, lanesB - both, timesB);
    }
    if (n < count) {
        const Cells last = rowAt(n);
        addLanes(to + (last.least - least), last.p, lanesOf(last.size), times[n]);
    }
}

} // namespace

KITROUND_HOT_LOOP void mixInto(double *__restrict to, const double *__restrict chances,
                               const RowTable::Place *places, std::size_t count,
                               const double *__restrict values, std::size_t least) {
    addRows(
        to, chances, count, least, [=](std::size_t n) __attribute__((always_inline)) {
            return Cells{values + places[n].at, places[n].least, places[n].size};
        });
}

KITROUND_HOT_LOOP void sumInto(double *__restrict to, const double *__restrict times,
                               const RowTable::Row *rows, std::size_t count, std::size_t least) {
    addRows(
        to, times, count, least, [=](std::size_t n) __attribute__((always_inline)) {
            return Cells{rows[n].p.data(), rows[n].least, rows[n].p.size()};
        });
}

std::size_t RowTable::addMix(const Row &counts, const RowTable &parts) {
    const Place *places = parts.spans_.data() + counts.least;
    const Place &last = places[counts.p.size() - 1];
    std::size_t least = places->least, end = last.least + last.size;
    for (std::size_t n = 0; n < counts.p.size() && !parts.rises_; ++n) {
        least = std::min(least, places[n].least);
        end = std::max(end, places[n].least + places[n].size);
    }
    double *const to = roomFor(end - least + kLane); // zeros behind the last row are added as well
    std::fill_n(to, end - least + kLane, 0.0);
    mixInto(to, counts.p.data(), places, counts.p.size(), parts.values_.data(), least);
    return keep(written(least, end - least).trimmedByFours());
}

std::size_t RowTable::addSum(std::span<const Row> rows, std::span<const double> times) {
    std::size_t least = rows[0].least, end = rows[0].end();
    for (const Row &row : rows) {
        least = std::min(least, row.least);
        end = std::max(end, row.end());
    }
    double *const to = roomFor(end - least + kLane);
    std::fill_n(to, end - least + kLane, 0.0);
    sumInto(to, times.data(), rows.data(), rows.size(), least);
    return keep(written(least, end - least).trimmed());
}

RowTable::Row sumOf(const RowTable::Row &a, const RowTable::Row &b, std::vector<double> &buffer) {
    const RowTable::Row &longer = a.p.size() < b.p.size() ? b : a, &shorter = a.p.size() < b.p.size() ? a : b;
    buffer.assign(a.p.size() + b.p.size() - 1, 0.0);
    addProduct(buffer.data(), longer.p.data(), longer.p.size(), shorter.p.data(), shorter.p.size());
    return {a.least + b.least, buffer};
}

double dot(std::span<const double> a, const double *b) {
    return dotOf(a.data(), b, a.size());
}

double chanceAbove(const RowTable::Row &row, std::int64_t value) {
    double sum = 0; // from the far end: small chances keep their digits
    for (std::size_t i = row.p.size(); i-- > 0 && static_cast<std::int64_t>(row.least + i) > value;)
        sum += row.p[i];
    return sum;
}

} // namespace kitround::forecast
