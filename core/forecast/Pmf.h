#pragma once
// Distribution of a small count: probabilities of 0, 1, 2, ... n. Exact arithmetic of such distributions.
#include <cstdint>
#include <span>
#include <vector>

namespace kitround::forecast {

class Pmf {
public:
    Pmf() : p_{1.0} {}                               // surely zero
    explicit Pmf(std::vector<double> probabilities); // non-negative, sum 1 within 1e-9 (required)
    static Pmf certain(std::int64_t value);

    std::span<const double> values() const { return p_; }
    double operator[](std::size_t k) const { return k < p_.size() ? p_[k] : 0.0; }
    std::size_t size() const { return p_.size(); } // largest value + 1
    double mean() const;
    double variance() const;
    double cdf(std::int64_t k) const;      // P(X <= k)
    double above(std::int64_t k) const;    // P(X > k)
    double shortage(std::int64_t k) const; // E[(X - k)+], the loss function; k may be below 0
    std::int64_t quantile(double p) const; // smallest k with cdf(k) >= p (less 1e-12)
    Pmf plus(const Pmf &other) const;      // sum of independents, exact convolution, O(n m)
    Pmf thinned(double keep) const;        // X happens as a whole with probability `keep`, else 0
    static Pmf mixture(std::span<const Pmf> parts, std::span<const double> weights);

private:
    std::vector<double> p_;
};

} // namespace kitround::forecast
