#pragma once
// The normal distribution as inventory textbooks use it: how much of a demand a level misses, and how much of
// that over a range of levels. For textbook formulas only: small counts have their own exact distributions
// (CountSum.h).
namespace kitround::supply {

// spread: one standard deviation, above 0.
struct NormalDemand {
    double mean = 0;
    double spread = 1;

    double cdf(double x) const;
    double quantile(double p) const; // 0 < p < 1
    // n(x) = E[(D - x)+] = spread (phi(z) - z (1 - Phi(z))), z = (x - mean) / spread.
    double loss(double x) const;
    // n2(x) = 1/2 E[((D - x)+)^2] = the integral of n from x on = spread^2 / 2 ((z^2 + 1)(1 - Phi(z)) - z
    // phi(z)) (Hadley and Whitin, Analysis of Inventory Systems, 1963, appendix 4).
    double secondLoss(double x) const;
    // The x that misses `amount` of the demand: n falls from without bound to 0. Precondition: amount > 0.
    double levelMissing(double amount) const;
};

} // namespace kitround::supply
