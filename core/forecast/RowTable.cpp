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
    fours_.clear();
    inFours_.clear();
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

// to[u - least] += the sum over n of times[n] x row n of the fours, made row by row.
KITROUND_HOT_LOOP void mixFours(double *__restrict to, const double *__restrict times,
                                const RowTable::Four *fours, std::size_t count,
                                const double *__restrict values, std::size_t least) {
    for (std::size_t f = 0; f < count; ++f) {
        const std::size_t size = kLane * fours[f].lanes;
        double *__restrict target = to + (fours[f].least - least);
        const double *__restrict a = values + fours[f].at;
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

void RowTable::layOut(std::size_t four) {
    const std::span<const Place> rows =
        std::span(spans_).subspan(4 * four, std::min<std::size_t>(4, spans_.size() - 4 * four));
    std::size_t least = rows[0].least, end = 0;
    for (const Place &row : rows) {
        least = std::min(least, row.least);
        end = std::max(end, row.least + row.size);
    }
    const Four made{inFours_.size(), least, lanesOf(end - least), rows.size()};
    const std::size_t size = kLane * made.lanes;
    inFours_.resize(made.at + 4 * size, 0.0);
    for (std::size_t k = 0; k < rows.size(); ++k)
        std::copy_n(values_.data() + rows[k].at, rows[k].size,
                    inFours_.data() + (made.at + k * size + (rows[k].least - least)));
    if (four == fours_.size())
        fours_.push_back(made);
    else
        fours_[four] = made;
}

std::size_t RowTable::addMix(const Row &counts, RowTable &parts) {
    const std::size_t from = counts.least / 4, to = (counts.end() + 3) / 4;
    if (!parts.fours_.empty() && parts.fours_.back().rows < 4)
        parts.layOut(parts.fours_.size() - 1); // rows may have been added since
    while (parts.fours_.size() < to)
        parts.layOut(parts.fours_.size());
    std::size_t least = parts[counts.least].least, end = parts[counts.end() - 1].end();
    for (std::size_t n = counts.least; n < counts.end() && !parts.rises_; ++n) {
        least = std::min(least, parts.spans_[n].least);
        end = std::max(end, parts.spans_[n].least + parts.spans_[n].size);
    }
    // With what lies around in the fours, at no chance.
    const Four &lastFour = parts.fours_[to - 1];
    std::size_t begin = parts.fours_[from].least, behind = lastFour.least + kLane * lastFour.lanes;
    for (std::size_t f = from; f < to && !parts.rises_; ++f) {
        begin = std::min(begin, parts.fours_[f].least);
        behind = std::max(behind, parts.fours_[f].least + kLane * parts.fours_[f].lanes);
    }
    times_.assign(4 * (to - from), 0.0);
    std::copy(counts.p.begin(), counts.p.end(),
              times_.begin() + static_cast<std::ptrdiff_t>(counts.least - 4 * from));
    double *const sum =
        roomFor(behind - begin + kLane); // a four before the last may end a few zeros behind it
    std::fill_n(sum, behind - begin + kLane, 0.0);
    mixFours(sum, times_.data(), parts.fours_.data() + from, to - from, parts.inFours_.data(), begin);
    const Row all = written(begin, behind - begin);
    return keep(Row{least, all.p.subspan(least - begin, end - least)}.trimmedByFours());
}

std::size_t RowTable::addSum(std::span<const Row> rows, std::span<const double> times) {
    std::size_t least = rows[0].least, end = rows[0].end();
    for (const Row &row : rows) {
        least = std::min(least, row.least);
        end = std::max(end, row.end());
    }
    double *const to = roomFor(end - least + kLane);
    std::fill_n(to, end - least + kLane, 0.0);
    for (std::size_t i = 0; i < rows.size(); ++i)
        addTimes(to + (rows[i].least - least), rows[i].p.data(), rows[i].p.size(), times[i]);
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
