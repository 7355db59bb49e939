#pragma once
// Distribution of a sum of many independent counts: homes' shipments and new referrals' starter sets.
// Small sums are exact; large ones are matched in mean, variance and skewness.
#include "core/forecast/Pmf.h"

#include <cstdint>
#include <vector>

namespace kitround::supply {

// One count: `chances[i]` is the chance of `least + i`. Moments are kept so that a large sum needs no
// chances.
struct CountPart {
    std::int64_t least = 0;
    std::vector<double> chances{1.0};
    double mean = 0;
    double variance = 0;
    double thirdCentral = 0; // E[(X - mean)^3]
};
CountPart certainPart(std::int64_t value);
// With moments. Precondition: chances sum to 1.
CountPart partOf(std::int64_t least, std::vector<double> chances);

// Compound Poisson by Panjer's recursion (ASTIN Bulletin 12, 1981; from memory): the number of events is
// Poisson(rate), each of a size by `size`. p(0) = exp(-rate (1 - f(0))), p(k) = rate / k sum_j j f(j) p(k -
// j). Cut where the rest is below 1e-12. Above kLargestExactRate only the moments are given (chances empty).
CountPart compoundPoisson(double rate, const forecast::Pmf &size);
inline constexpr double kLargestExactRate = 600; // exp(-rate) must stay a normal number

// Sum of the parts. Exact (convolved in a fixed tree, tails below 1e-15 cut) while the sum's standard
// deviation is at most kLargestExactSpread and every part has its chances; else a translated gamma with the
// same first three moments (Kaas et al., Modern Actuarial Risk Theory, sec. 2.5; from memory), cut into whole
// numbers.
struct CountTotal {
    forecast::Pmf distribution;
    double mean = 0;
    double variance = 0;
    bool isExact = true;
};
inline constexpr double kLargestExactSpread = 60;
CountTotal sumOf(const std::vector<CountPart> &parts);
// The approximation by itself; negative values count as zero.
forecast::Pmf translatedGamma(double mean, double variance, double thirdCentral);

} // namespace kitround::supply
