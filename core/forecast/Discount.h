#pragma once
// Old entries weigh less: 2^(-age / half-life).
#include "core/base/Date.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace kitround::forecast {

// Half-lives after which an entry no longer counts: below 0.4 % of its weight.
inline constexpr std::int64_t kHalfLivesKept = 8;

class Discount {
public:
    Discount(Date asOf, std::int64_t halfLife)
        : asOf_(asOf), halfLife_(std::max<std::int64_t>(halfLife, 1)) {}
    double operator()(Date on) const {
        const auto age = static_cast<double>(std::max<std::int64_t>((asOf_ - on).count(), 0));
        return std::exp2(-age / static_cast<double>(halfLife_));
    }
    Date from() const { return asOf_.plusDays(-kHalfLivesKept * halfLife_); }

private:
    Date asOf_;
    std::int64_t halfLife_;
};

} // namespace kitround::forecast
