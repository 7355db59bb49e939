#pragma once
// A belief about a parameter as a few weighted points. Gauss rules: `points` of them carry the first
// 2 points - 1 moments of the belief exactly, so a forecast that is a polynomial in the parameter (the chance
// of n sessions among m offered) is exact for m < 2 points. Deterministic. Golub and Welsch, "Calculation of
// Gauss quadrature rules", Math. Comp. 23 (1969), 221-230; recurrences of the Jacobi and Laguerre polynomials
// as in NIST DLMF 18.9 (from memory).
#include <vector>

namespace kitround::forecast {

struct WeightedPoint {
    double at = 0;
    double weight = 0; // sums to 1 over a rule
};

inline constexpr int kMostPoints = 24;

// Beta(a, b) on [0, 1]. a = 0 or b = 0 is certainty (0 or 1): one point. Precondition: not both 0.
std::vector<WeightedPoint> betaRule(double a, double b, int points);
// Gamma(shape, rate) on [0, inf). Precondition: both positive.
std::vector<WeightedPoint> gammaRule(double shape, double rate, int points);

} // namespace kitround::forecast
