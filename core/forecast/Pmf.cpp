#include "core/forecast/Pmf.h"

#include "core/base/Require.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {

Pmf::Pmf(std::vector<double> probabilities) : p_(std::move(probabilities)) {
    double sum = 0;
    for (double p : p_) {
        KITROUND_REQUIRE(p >= 0);
        sum += p;
    }
    KITROUND_REQUIRE(std::abs(sum - 1.0) <= 1e-9);
    while (p_.size() > 1 && p_.back() == 0.0)
        p_.pop_back();
}

Pmf Pmf::certain(std::int64_t value) {
    KITROUND_REQUIRE(value >= 0);
    std::vector<double> p(static_cast<std::size_t>(value) + 1, 0.0);
    p.back() = 1.0;
    return Pmf(std::move(p));
}

double Pmf::mean() const {
    double sum = 0;
    for (std::size_t k = 1; k < p_.size(); ++k)
        sum += static_cast<double>(k) * p_[k];
    return sum;
}

double Pmf::variance() const {
    const double m = mean();
    double sum = 0; // about the mean: the other form loses digits where the spread is small
    for (std::size_t k = 0; k < p_.size(); ++k)
        sum += (static_cast<double>(k) - m) * (static_cast<double>(k) - m) * p_[k];
    return sum;
}

double Pmf::cdf(std::int64_t k) const {
    double sum = 0;
    for (std::size_t i = 0; i < p_.size() && static_cast<std::int64_t>(i) <= k; ++i)
        sum += p_[i];
    return std::min(sum, 1.0);
}

double Pmf::above(std::int64_t k) const {
    double sum = 0; // from the far end: small chances keep their digits
    for (std::size_t i = p_.size(); i-- > 0 && static_cast<std::int64_t>(i) > k;)
        sum += p_[i];
    return std::min(sum, 1.0);
}

double Pmf::shortage(std::int64_t k) const {
    double sum = 0; // from the far end, as above
    for (std::size_t i = p_.size(); i-- > 0 && static_cast<std::int64_t>(i) > k;)
        sum += static_cast<double>(static_cast<std::int64_t>(i) - k) * p_[i];
    return sum;
}

std::int64_t Pmf::quantile(double p) const {
    double sum = 0;
    for (std::size_t k = 0; k < p_.size(); ++k) {
        sum += p_[k];
        if (sum >= p - 1e-12)
            return static_cast<std::int64_t>(k);
    }
    return static_cast<std::int64_t>(p_.size()) - 1;
}

Pmf Pmf::plus(const Pmf &other) const {
    std::vector<double> sum(p_.size() + other.p_.size() - 1, 0.0);
    for (std::size_t i = 0; i < p_.size(); ++i)
        for (std::size_t k = 0; k < other.p_.size(); ++k)
            sum[i + k] += p_[i] * other.p_[k];
    return Pmf(std::move(sum));
}

Pmf Pmf::thinned(double keep) const {
    KITROUND_REQUIRE(keep >= 0 && keep <= 1);
    std::vector<double> p = p_;
    for (double &x : p)
        x *= keep;
    p[0] += 1.0 - keep;
    return Pmf(std::move(p));
}

Pmf Pmf::mixture(std::span<const Pmf> parts, std::span<const double> weights) {
    KITROUND_REQUIRE(!parts.empty() && parts.size() == weights.size());
    std::vector<double> sum;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (sum.size() < parts[i].size())
            sum.resize(parts[i].size(), 0.0);
        for (std::size_t k = 0; k < parts[i].size(); ++k)
            sum[k] += weights[i] * parts[i][k];
    }
    return Pmf(std::move(sum));
}

} // namespace kitround::forecast
