#include "core/supply/CountSum.h"

#include "core/base/Require.h"

#include <boost/math/distributions/gamma.hpp>
#include <boost/math/distributions/normal.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

namespace kitround::supply {
namespace {

constexpr double kTail = 1e-15;
constexpr double kSpreads = 9; // how far out the approximation is written down

struct Shifted {
    std::int64_t least = 0;
    std::vector<double> p{1.0};
};

// The cut mass goes to the edge, so that the sum stays 1.
void cutTails(Shifted &s) {
    double low = 0;
    std::size_t first = 0;
    while (first + 1 < s.p.size() && low + s.p[first] < kTail)
        low += s.p[first++];
    double high = 0;
    std::size_t last = s.p.size() - 1;
    while (last > first && high + s.p[last] < kTail)
        high += s.p[last--];
    s.p[first] += low;
    s.p[last] += high;
    s.p.resize(last + 1);
    s.p.erase(s.p.begin(), s.p.begin() + static_cast<std::ptrdiff_t>(first));
    s.least += static_cast<std::int64_t>(first);
}

Shifted convolved(const Shifted &a, const Shifted &b) {
    Shifted sum;
    sum.least = a.least + b.least;
    sum.p.assign(a.p.size() + b.p.size() - 1, 0.0);
    for (std::size_t i = 0; i < a.p.size(); ++i) {
        if (a.p[i] == 0.0)
            continue; // shipments come in lots: most places are empty
        for (std::size_t j = 0; j < b.p.size(); ++j)
            sum.p[i + j] += a.p[i] * b.p[j];
    }
    cutTails(sum);
    return sum;
}

Shifted treeOf(std::vector<Shifted> level) {
    while (level.size() > 1) {
        std::vector<Shifted> next;
        for (std::size_t i = 0; i + 1 < level.size(); i += 2)
            next.push_back(convolved(level[i], level[i + 1]));
        if (level.size() % 2 == 1)
            next.push_back(std::move(level.back()));
        level = std::move(next);
    }
    return level.empty() ? Shifted{} : std::move(level.front());
}

forecast::Pmf asPmf(const Shifted &s) {
    KITROUND_REQUIRE(s.least >= 0);
    std::vector<double> p(static_cast<std::size_t>(s.least), 0.0);
    p.insert(p.end(), s.p.begin(), s.p.end());
    const double sum = std::accumulate(p.begin(), p.end(), 0.0);
    for (double &value : p)
        value /= sum;
    return forecast::Pmf(std::move(p));
}

// A wide distribution is smooth: its function is asked at this many points, and runs straight between them.
constexpr std::int64_t kMostPoints = 2048;

// Chances of first, first + 1, ... last; what lies below or above goes to the ends.
forecast::Pmf cutIntoCounts(std::int64_t first, std::int64_t last, const std::function<double(double)> &cdf) {
    std::vector<double> p(static_cast<std::size_t>(last) + 1, 0.0);
    const std::int64_t step = std::max<std::int64_t>(1, (last - first) / kMostPoints);
    double before = 0;
    for (std::int64_t from = first; from <= last; from += step) {
        const std::int64_t to = std::min(from + step - 1, last);
        const double upTo = to == last ? 1.0 : std::max(before, cdf(static_cast<double>(to) + 0.5));
        for (std::int64_t k = from; k <= to; ++k)
            p[static_cast<std::size_t>(k)] = (upTo - before) / static_cast<double>(to - from + 1);
        before = upTo;
    }
    return forecast::Pmf(std::move(p));
}

// Plain double is enough; the library would promote to long double, three times slower.
using Plain = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

} // namespace

CountPart certainPart(std::int64_t value) {
    CountPart part;
    part.least = value;
    part.mean = static_cast<double>(value);
    return part;
}

CountPart partOf(std::int64_t least, std::vector<double> chances) {
    CountPart part;
    part.least = least;
    part.chances = std::move(chances);
    for (std::size_t i = 0; i < part.chances.size(); ++i)
        part.mean += part.chances[i] * static_cast<double>(least + static_cast<std::int64_t>(i));
    for (std::size_t i = 0; i < part.chances.size(); ++i) {
        const double off = static_cast<double>(least + static_cast<std::int64_t>(i)) - part.mean;
        part.variance += part.chances[i] * off * off;
        part.thirdCentral += part.chances[i] * off * off * off;
    }
    return part;
}

CountPart compoundPoisson(double rate, const forecast::Pmf &size) {
    const std::span<const double> f = size.values();
    CountPart part;
    double second = 0;
    for (std::size_t j = 1; j < f.size(); ++j) {
        const double value = static_cast<double>(j);
        part.mean += rate * f[j] * value;
        second += rate * f[j] * value * value;
        part.thirdCentral += rate * f[j] * value * value * value;
    }
    part.variance = second;
    if (rate > kLargestExactRate) {
        part.chances.clear();
        return part;
    }
    constexpr double kRest = 1e-12;
    const double most = part.mean + 40 * std::sqrt(part.variance) + 40 * static_cast<double>(f.size());
    part.chances.assign(1, std::exp(-rate * (1 - f[0])));
    double sum = part.chances[0];
    for (std::size_t k = 1; sum < 1 - kRest && static_cast<double>(k) < most; ++k) {
        double p = 0;
        for (std::size_t j = 1; j < f.size() && j <= k; ++j)
            p += static_cast<double>(j) * f[j] * part.chances[k - j];
        part.chances.push_back(p * rate / static_cast<double>(k));
        sum += part.chances.back();
    }
    return part;
}

forecast::Pmf translatedGamma(double mean, double variance, double thirdCentral) {
    const double spread = std::sqrt(std::max(variance, 0.0));
    if (spread < 1e-9)
        return forecast::Pmf::certain(std::llround(std::max(mean, 0.0)));
    const auto last = static_cast<std::int64_t>(std::ceil(std::max(mean, 0.0) + kSpreads * spread)) + 1;
    const auto first = static_cast<std::int64_t>(std::max(0.0, std::floor(mean - kSpreads * spread)));
    const double skew = thirdCentral / (spread * spread * spread);
    // Near no skew, and for the rare left skew, the gamma is as good as normal.
    constexpr double kNoSkew = 1e-3;
    try {
        if (skew < kNoSkew) {
            const boost::math::normal_distribution<double, Plain> normal(mean, spread);
            return cutIntoCounts(first, last, [&](double x) { return boost::math::cdf(normal, x); });
        }
        const double shape = 4 / (skew * skew);
        const double scale = skew * spread / 2;
        const double shift = mean - shape * scale;
        const boost::math::gamma_distribution<double, Plain> gamma(shape, scale);
        return cutIntoCounts(first, last,
                             [&](double x) { return x <= shift ? 0.0 : boost::math::cdf(gamma, x - shift); });
    } catch (const std::exception &) {
        return forecast::Pmf::certain(std::llround(std::max(mean, 0.0)));
    }
}

CountTotal sumOf(const std::vector<CountPart> &parts) {
    CountTotal total;
    double third = 0;
    bool haveChances = true;
    for (const CountPart &part : parts) {
        total.mean += part.mean;
        total.variance += part.variance;
        third += part.thirdCentral;
        haveChances = haveChances && !part.chances.empty();
    }
    total.isExact = haveChances && total.variance <= kLargestExactSpread * kLargestExactSpread;
    if (!total.isExact) {
        total.distribution = translatedGamma(total.mean, total.variance, third);
        return total;
    }
    std::vector<Shifted> leaves;
    for (const CountPart &part : parts)
        leaves.push_back({part.least, part.chances});
    total.distribution = asPmf(treeOf(std::move(leaves)));
    return total;
}

} // namespace kitround::supply
