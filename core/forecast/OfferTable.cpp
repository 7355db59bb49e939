#include "core/forecast/OfferTable.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

constexpr double kNegligible = 1e-18; // as in UseRecursion

} // namespace

void OfferTable::sumSessions(const Pmf &perSession, std::size_t most) {
    rows_.assign(1, {0, 0, 1});
    sessions_.assign(1, 1.0);
    for (std::size_t n = 1; n <= most; ++n) {
        const Row from = rows_.back();
        Row row{sessions_.size(), from.least, from.size + perSession.size() - 1};
        sessions_.resize(row.at + row.size, 0.0);
        const double *source = sessions_.data() + from.at;
        double *target = sessions_.data() + row.at;
        for (std::size_t k = 0; k < perSession.size(); ++k) {
            const double tap = perSession[k];
            if (tap == 0.0)
                continue;
            for (std::size_t i = 0; i < from.size; ++i)
                target[k + i] += tap * source[i];
        }
        while (row.size > 1 && sessions_[row.at + row.size - 1] < kNegligible)
            --row.size;
        while (row.size > 1 && sessions_[row.at] < kNegligible)
            ++row.at, ++row.least, --row.size;
        sessions_.resize(row.at + row.size);
        rows_.push_back(row);
    }
}

void OfferTable::build(const BetaBelief &adherence, const Pmf &perSession, std::size_t offers) {
    sumSessions(perSession, offers);
    units_.clear();
    units0_.assign(1, 0);
    done_.assign(1, 1.0);
    for (std::size_t m = 0; m <= offers; ++m) {
        const std::size_t at = units_.size();
        std::size_t width = 1;
        for (std::size_t n = 0; n <= m; ++n)
            if (done_[n] >= kNegligible)
                width = std::max(width, rows_[n].least + rows_[n].size);
        units_.resize(at + width, 0.0);
        for (std::size_t n = 0; n <= m; ++n) {
            const double chance = done_[n];
            if (chance < kNegligible)
                continue;
            const Row &row = rows_[n];
            const double *__restrict source = sessions_.data() + row.at;
            double *__restrict target = units_.data() + at + row.least;
            for (std::size_t i = 0; i < row.size; ++i)
                target[i] += chance * source[i];
        }
        units0_.push_back(units_.size());

        const double a = adherence.a, b = adherence.b, seen = static_cast<double>(m);
        done_.push_back(0.0);
        for (std::size_t n = m + 1;; --n) { // from above, so that each entry is read before it changes
            const double k = static_cast<double>(n);
            const double another = n > 0 ? done_[n - 1] * (a + k - 1.0) / (a + b + seen) : 0.0;
            done_[n] = done_[n] * std::max(0.0, b + seen - k) / (a + b + seen) + another;
            if (n == 0)
                break;
        }
    }
}

double OfferTable::chanceAbove(std::size_t offers, std::int64_t units) const {
    const std::span<const double> p = unitsAfter(offers);
    double sum = 0;
    for (std::size_t k = p.size(); k-- > 0 && static_cast<std::int64_t>(k) > units;)
        sum += p[k];
    return sum;
}

} // namespace kitround::forecast
