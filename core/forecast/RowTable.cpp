#include "core/forecast/RowTable.h"

#include <algorithm>

namespace kitround::forecast {

void RowTable::clear() {
    values_.clear();
    spans_.clear();
}

std::size_t RowTable::add(std::size_t least, std::span<const double> p) {
    while (p.size() > 1 && p.back() < kNegligibleChance)
        p = p.first(p.size() - 1);
    while (p.size() > 1 && p.front() < kNegligibleChance) {
        p = p.subspan(1);
        ++least;
    }
    spans_.push_back({values_.size(), least, p.size()});
    values_.insert(values_.end(), p.begin(), p.end());
    return spans_.size() - 1;
}

void mixRows(const RowTable::Row &counts, const RowTable &parts, std::vector<double> &to) {
    std::size_t end = 1;
    for (std::size_t n = counts.least; n < counts.end(); ++n)
        end = std::max(end, parts[n].end());
    to.assign(end, 0.0);
    for (std::size_t n = counts.least; n < counts.end(); ++n) {
        const double chance = counts.p[n - counts.least];
        const RowTable::Row part = parts[n];
        const double *__restrict source = part.p.data();
        double *__restrict target = to.data() + part.least;
        for (std::size_t i = 0; i < part.p.size(); ++i)
            target[i] += chance * source[i];
    }
}

double chanceAbove(const RowTable::Row &row, std::int64_t value) {
    double sum = 0; // from the far end: small chances keep their digits
    for (std::size_t i = row.p.size(); i-- > 0 && static_cast<std::int64_t>(row.least + i) > value;)
        sum += row.p[i];
    return sum;
}

} // namespace kitround::forecast
