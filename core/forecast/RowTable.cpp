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
    values_.clear();
    spans_.clear();
}

RowTable::Row RowTable::Row::trimmed() const {
    Row row = *this;
    while (row.p.size() > 1 && row.p.back() < kNegligibleChance)
        row.p = row.p.first(row.p.size() - 1);
    while (row.p.size() > 1 && row.p.front() < kNegligibleChance) {
        row.p = row.p.subspan(1);
        ++row.least;
    }
    return row;
}

std::size_t RowTable::add(Row row) {
    row = row.trimmed();
    spans_.push_back({values_.size(), row.least, row.p.size()});
    values_.insert(values_.end(), row.p.begin(), row.p.end());
    values_.resize(spans_.back().at + wholeLanes(row.p.size()), 0.0);
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
    const std::size_t at = values_.size();
    values_.resize(at + end - least + kLane, 0.0); // room for the zeros behind the last row
    mixInto(values_.data() + at, counts.p.data(), places, counts.p.size(), parts.values_.data(), least);
    const Row row = Row{least, std::span(values_).subspan(at, end - least)}.trimmed();
    const std::size_t first = at + (row.least - least);
    // What was trimmed behind the row must read as zeros.
    std::fill(values_.begin() + static_cast<std::ptrdiff_t>(first + row.p.size()), values_.end(), 0.0);
    values_.resize(first + wholeLanes(row.p.size()), 0.0);
    spans_.push_back({first, row.least, row.p.size()});
    return spans_.size() - 1;
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
