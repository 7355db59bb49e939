#pragma once
// Simulated annealing (Kirkpatrick, Gelatt and Vecchi, Science 220, 1983) in the form of Christiaens and
// Vanden Berghe (2020), section 4: a candidate is accepted when its cost < current - T ln U, T falling
// geometrically with the share of the work that is done. Logarithm and power are made of the four operations,
// so that every machine decides alike.
#include "core/base/Random.h"

#include <algorithm>
#include <cmath>

namespace kitround::rounds {

// ln x for 0 < x <= 1, to about 1e-12. ln m = 2 artanh((m - 1) / (m + 1)) on 1/2 <= m < 1.
inline double steadyLog(double x) {
    constexpr double kLn2 = 0.693147180559945309417;
    int exponent = 0;
    const double m = std::frexp(x, &exponent); // exact
    const double s = (m - 1) / (m + 1);
    const double s2 = s * s;
    double sum = 0;
    for (int k = 23; k >= 1; k -= 2)
        sum = sum * s2 + 1.0 / k;
    return 2 * s * sum + exponent * kLn2;
}

class Annealing {
public:
    // Temperatures in the unit of the cost; `last` > 0.
    Annealing(double first, double last) : first_(first), ratio_(last / first), now_(first) {}

    void setRange(double first, double last) {
        first_ = first;
        ratio_ = last / first;
    }
    // Share of the work done, 0 to 1.
    void cool(double share) {
        // ratio ^ share by square roots: bits of share, most significant first.
        double power = 1;
        double root = ratio_;
        double rest = std::clamp(share, 0.0, 1.0);
        if (rest >= 1) {
            now_ = first_ * ratio_;
            return;
        }
        for (int bit = 0; bit < 20; ++bit) {
            root = std::sqrt(root); // exactly rounded everywhere (IEEE 754)
            rest *= 2;
            if (rest >= 1) {
                power *= root;
                rest -= 1;
            }
        }
        now_ = first_ * power;
    }
    // The highest cost that is still accepted beside `current`.
    double threshold(double current, Random &random) const {
        return current - now_ * steadyLog(1.0 - random.uniform());
    }

private:
    double first_, ratio_, now_;
};

} // namespace kitround::rounds
