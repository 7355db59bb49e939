#include "core/forecast/RowTable.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

constexpr std::size_t kLane = 4; // numbers that wide registers take at once

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

std::size_t RowTable::place(std::size_t at, Row row) {
    spans_.push_back({at, row.least, row.p.size()});
    used_ = at + withZeros(row.p.size());
    return spans_.size() - 1;
}

std::span<double> RowTable::room(std::size_t size) {
    room_ = size;
    std::fill_n(roomFor(withZeros(size)), withZeros(size), 0.0);
    return std::span(values_).subspan(used_, size);
}

std::size_t RowTable::addFromRoom(std::size_t least) {
    const Row row = Row{least, std::span(values_).subspan(used_, room_)}.trimmedByFours();
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
