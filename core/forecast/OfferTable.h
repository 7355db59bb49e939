#pragma once
// Units used after m drains offered, for m = 0, 1, 2, ...: the exact Beta-binomial mixture of sessions done,
// each opening units by one distribution. Under one planned order this is all the recursion would carry for a
// home that stays active, since offers are exchangeable: any m of them have the same distribution. So weeks,
// silent days and cumulated use are read from one table, without points of the belief and several times
// faster.
//   P(n done of m + 1) = P(n of m) (b + m - n) / (a + b + m) + P(n - 1 of m) (a + n - 1) / (a + b + m)
#include "core/forecast/UseModel.h"

#include <cstddef>
#include <span>
#include <vector>

namespace kitround::forecast {

class OfferTable {
public:
    // For up to `offers` drains. Memory is kept from build to build.
    void build(const BetaBelief &adherence, const Pmf &perSession, std::size_t offers);

    // P(k units) for k = 0, 1, ... Precondition: offers <= as built.
    std::span<const double> unitsAfter(std::size_t offers) const {
        return std::span(units_).subspan(units0_[offers], units0_[offers + 1] - units0_[offers]);
    }
    double chanceAbove(std::size_t offers, std::int64_t units) const;

private:
    void sumSessions(const Pmf &perSession, std::size_t most);

    // Units of exactly n sessions, from the least that is not negligible.
    struct Row {
        std::size_t at = 0; // in sessions_
        std::size_t least = 0;
        std::size_t size = 0;
    };
    std::vector<Row> rows_;
    std::vector<double> sessions_;
    std::vector<double> done_;
    std::vector<double> units_;
    std::vector<std::size_t> units0_;
};

} // namespace kitround::forecast
