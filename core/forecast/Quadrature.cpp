#include "core/forecast/Quadrature.h"

#include "core/base/Require.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace kitround::forecast {
namespace {

// Symmetric tridiagonal matrix: diagonal d, and off[k] between rows k and k + 1.
struct Tridiagonal {
    std::array<double, kMostPoints> d{};
    std::array<double, kMostPoints> off{};
    std::array<double, kMostPoints> first{}; // becomes the first component of each eigenvector
    int n = 0;
};

// Implicit QL with Wilkinson's shift. Only the first row of the rotations is kept: its squares are the
// weights.
void diagonalise(Tridiagonal &t) {
    constexpr double kEpsilon = std::numeric_limits<double>::epsilon();
    const auto at = [](int i) { return static_cast<std::size_t>(i); };
    t.first.fill(0.0);
    t.first[0] = 1.0;
    t.off[at(t.n - 1)] = 0.0;
    for (int low = 0; low < t.n; ++low) {
        for (int rounds = 0;; ++rounds) {
            KITROUND_REQUIRE(rounds < 200);
            int high = low;
            while (high + 1 < t.n && std::abs(t.off[at(high)]) >
                                         kEpsilon * (std::abs(t.d[at(high)]) + std::abs(t.d[at(high + 1)])))
                ++high;
            if (high == low)
                break;
            double g = (t.d[at(low + 1)] - t.d[at(low)]) / (2.0 * t.off[at(low)]);
            double r = std::hypot(g, 1.0);
            g = t.d[at(high)] - t.d[at(low)] + t.off[at(low)] / (g + std::copysign(r, g));
            double sine = 1.0, cosine = 1.0, carried = 0.0;
            bool isSplit = false;
            for (int i = high - 1; i >= low; --i) {
                const double f = sine * t.off[at(i)];
                const double b = cosine * t.off[at(i)];
                r = std::hypot(f, g);
                t.off[at(i + 1)] = r;
                if (r == 0.0) {
                    t.d[at(i + 1)] -= carried;
                    t.off[at(high)] = 0.0;
                    isSplit = true;
                    break;
                }
                sine = f / r;
                cosine = g / r;
                g = t.d[at(i + 1)] - carried;
                r = (t.d[at(i)] - g) * sine + 2.0 * cosine * b;
                carried = sine * r;
                t.d[at(i + 1)] = g + carried;
                g = cosine * r - b;
                const double above = t.first[at(i + 1)];
                t.first[at(i + 1)] = sine * t.first[at(i)] + cosine * above;
                t.first[at(i)] = cosine * t.first[at(i)] - sine * above;
            }
            if (isSplit)
                continue;
            t.d[at(low)] -= carried;
            t.off[at(low)] = g;
            t.off[at(high)] = 0.0;
        }
    }
}

std::vector<WeightedPoint> ruleOf(Tridiagonal &t) {
    diagonalise(t);
    std::vector<WeightedPoint> rule;
    double sum = 0;
    for (std::size_t i = 0; i < static_cast<std::size_t>(t.n); ++i) {
        rule.push_back({t.d[i], t.first[i] * t.first[i]});
        sum += rule.back().weight;
    }
    for (WeightedPoint &p : rule)
        p.weight /= sum;
    std::ranges::sort(rule, {}, &WeightedPoint::at);
    return rule;
}

} // namespace

std::vector<WeightedPoint> betaRule(double a, double b, int points) {
    KITROUND_REQUIRE(a >= 0 && b >= 0 && a + b > 0 && points >= 1 && points <= kMostPoints);
    if (b == 0.0)
        return {{1.0, 1.0}};
    if (a == 0.0)
        return {{0.0, 1.0}};
    // Jacobi polynomials with weight (1-x)^alpha (1+x)^beta on [-1, 1].
    const double alpha = b - 1.0, beta = a - 1.0, s = alpha + beta;
    Tridiagonal t;
    t.n = points;
    t.d[0] = (beta - alpha) / (s + 2.0);
    for (int k = 1; k < points; ++k) {
        const double m = 2.0 * k + s;
        t.d[static_cast<std::size_t>(k)] = (beta * beta - alpha * alpha) / (m * (m + 2.0));
        const double squared =
            k == 1 ? 4.0 * (1.0 + alpha) * (1.0 + beta) / ((2.0 + s) * (2.0 + s) * (3.0 + s))
                   : 4.0 * k * (k + alpha) * (k + beta) * (k + s) / (m * m * (m + 1.0) * (m - 1.0));
        t.off[static_cast<std::size_t>(k - 1)] = std::sqrt(squared);
    }
    std::vector<WeightedPoint> rule = ruleOf(t);
    for (WeightedPoint &p : rule)
        p.at = std::clamp((1.0 + p.at) / 2.0, 0.0, 1.0);
    return rule;
}

std::vector<WeightedPoint> gammaRule(double shape, double rate, int points) {
    KITROUND_REQUIRE(shape > 0 && rate > 0 && points >= 1 && points <= kMostPoints);
    Tridiagonal t;
    t.n = points;
    for (int k = 0; k < points; ++k) {
        t.d[static_cast<std::size_t>(k)] = 2.0 * k + shape;
        if (k > 0)
            t.off[static_cast<std::size_t>(k - 1)] = std::sqrt(k * (k + shape - 1.0));
    }
    std::vector<WeightedPoint> rule = ruleOf(t);
    for (WeightedPoint &p : rule)
        p.at = std::max(p.at / rate, 0.0);
    return rule;
}

} // namespace kitround::forecast
