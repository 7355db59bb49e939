#include "core/forecast/RowTable.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

constexpr std::size_t kLane = 4; // numbers that wide registers take at once

constexpr std::size_t wholeLanes(std::size_t size) {
    return (size + kLane - 1) / kLane * kLane;
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

} // namespace

void RowTable::clear() {
    used_ = 0;
    spans_.clear();
}

RowTable::Row RowTable::Row::trimmed() const {
    const double *const values = p.data();
    std::size_t first = 0, last = p.size();
    while (last > 1 && values[last - 1] < kNegligibleChance)
        --last;
    while (first + 1 < last && values[first] < kNegligibleChance)
        ++first;
    return {least + first, p.subspan(first, last - first)};
}

double *RowTable::roomFor(std::size_t size) {
    if (values_.size() < used_ + size)
        values_.resize(std::max(2 * values_.size(), used_ + size));
    return values_.data() + used_;
}

std::size_t RowTable::keep(std::size_t at, std::size_t least, std::size_t size) {
    const Row row = Row{least, std::span(values_).subspan(at, size)}.trimmed();
    const std::size_t first = at + (row.least - least);
    // What was trimmed behind the row must read as zeros.
    double *const end = values_.data() + first + row.p.size();
    used_ = first + wholeLanes(row.p.size());
    std::fill(end, values_.data() + used_, 0.0);
    spans_.push_back({first, row.least, row.p.size()});
    return spans_.size() - 1;
}

std::size_t RowTable::add(Row row) {
    row = row.trimmed();
    double *const to = roomFor(wholeLanes(row.p.size()));
    std::fill(std::copy(row.p.begin(), row.p.end(), to), to + wholeLanes(row.p.size()), 0.0);
    spans_.push_back({used_, row.least, row.p.size()});
    used_ += wholeLanes(row.p.size());
    return spans_.size() - 1;
}

void RunningSum::begin() {
    least_ = first_ = 0;
    size_ = 1;
    p_.assign(1, 1.0);
}

void RunningSum::add(std::span<const double> term) {
    next_.assign(size_ + term.size() - 1, 0.0);
    addProduct(next_.data(), p_.data() + first_, size_, term.data(), term.size());
    p_.swap(next_);
    const RowTable::Row row = RowTable::Row{0, p_}.trimmed();
    first_ = row.least;
    least_ += row.least;
    size_ = row.p.size();
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

KITROUND_HOT_LOOP void mixInto(double *__restrict to, const double *__restrict chances,
                               const RowTable::Place *places, std::size_t count,
                               const double *__restrict values, std::size_t least) {
    for (std::size_t n = 0; n < count; ++n) {
        const double chance = chances[n];
        const double *__restrict from = values + places[n].at;
        double *__restrict target = to + (places[n].least - least);
        const std::size_t lanes = (places[n].size + kLane - 1) / kLane;
        for (std::size_t lane = 0; lane < lanes; ++lane)
            for (std::size_t i = 0; i < kLane; ++i)
                target[kLane * lane + i] += chance * from[kLane * lane + i];
    }
}

std::size_t RowTable::addMix(const Row &counts, const RowTable &parts) {
    const Place *places = parts.spans_.data() + counts.least;
    std::size_t least = places->least, end = least;
    for (std::size_t n = 0; n < counts.p.size(); ++n) {
        least = std::min(least, places[n].least);
        end = std::max(end, places[n].least + places[n].size);
    }
    double *const to = roomFor(end - least + kLane); // zeros behind the last row are added as well
    std::fill_n(to, end - least + kLane, 0.0);
    mixInto(to, counts.p.data(), places, counts.p.size(), parts.values_.data(), least);
    return keep(used_, least, end - least);
}

std::size_t RowTable::addSum(std::span<const Row> rows, std::span<const double> times) {
    std::size_t least = rows[0].least, end = rows[0].end();
    for (const Row &row : rows) {
        least = std::min(least, row.least);
        end = std::max(end, row.end());
    }
    double *const to = roomFor(end - least + kLane);
    std::fill_n(to, end - least, 0.0);
    for (std::size_t i = 0; i < rows.size(); ++i)
        addTimes(to + (rows[i].least - least), rows[i].p.data(), rows[i].p.size(), times[i]);
    return keep(used_, least, end - least);
}

RowTable::Row sumOf(const RowTable::Row &a, const RowTable::Row &b, std::vector<double> &buffer) {
    const RowTable::Row &longer = a.p.size() < b.p.size() ? b : a, &shorter = a.p.size() < b.p.size() ? a : b;
    buffer.assign(a.p.size() + b.p.size() - 1, 0.0);
    addProduct(buffer.data(), longer.p.data(), longer.p.size(), shorter.p.data(), shorter.p.size());
    return {a.least + b.least, buffer};
}

double chanceAbove(const RowTable::Row &row, std::int64_t value) {
    double sum = 0; // from the far end: small chances keep their digits
    for (std::size_t i = row.p.size(); i-- > 0 && static_cast<std::int64_t>(row.least + i) > value;)
        sum += row.p[i];
    return sum;
}

} // namespace kitround::forecast
