#include "core/forecast/Summaries.h"

#include <algorithm>
#include <array>
#include <limits>

namespace kitround::forecast {
namespace {

// The smallest counts whose chance up to them reaches each level, else the last. By eights: most of the sweep
// asks for no level, and a sum of eight waits for the one before once; where eight reach a level, those
// below it are counted, since no processor foretells which it will be.
template <class Count, std::size_t N>
std::array<Count, N> quantilesOf(std::span<const double> p, const std::array<double, N> &levels) {
    constexpr std::size_t kStep = 8;
    constexpr double kRounding = 1e-12;
    const auto counted = [](std::size_t at) {
        return static_cast<Count>(std::min<std::size_t>(at, std::numeric_limits<Count>::max()));
    };
    std::array<Count, N> quantiles;
    quantiles.fill(counted(p.size() - 1));
    double sum = 0;
    std::array<double, kStep> rest{}; // the end of p, and zeros
    for (std::size_t u = 0, next = 0; u < p.size() && next < N; u += kStep) {
        const double *c = p.data() + u;
        if (p.size() - u < kStep) {
            std::ranges::copy(p.subspan(u), rest.begin());
            c = rest.data();
        }
        const double step = ((c[0] + c[1]) + (c[2] + c[3])) + ((c[4] + c[5]) + (c[6] + c[7]));
        if (sum + step < levels[next] - 2 * kRounding) {
            sum += step;
            continue;
        }
        std::array<double, kStep> upTo;
        for (std::size_t i = 0; i < kStep; ++i)
            upTo[i] = sum += c[i];
        for (; next < N && sum >= levels[next] - kRounding; ++next) {
            std::size_t below = 0;
            for (const double chance : upTo)
                below += chance < levels[next] - kRounding ? 1U : 0U;
            quantiles[next] = counted(u + below);
        }
    }
    return quantiles;
}

} // namespace

void summariseDay(std::span<const double> p, DayUse &use) {
    const auto q = quantilesOf<std::uint16_t>(p, std::array{0.05, 0.25, 0.50, 0.75, 0.95});
    use.p05 = q[0];
    use.p25 = q[1];
    use.p50 = q[2];
    use.p75 = q[3];
    use.p95 = q[4];
}

WeekUse weekOf(Date from, std::span<const double> p) {
    const auto q = quantilesOf<std::int32_t>(p, std::array{0.10, 0.50, 0.90});
    WeekUse use;
    use.from = from;
    for (std::size_t u = 0; u < p.size(); ++u)
        use.mean += static_cast<double>(u) * p[u];
    use.p10 = q[0];
    use.p50 = q[1];
    use.p90 = q[2];
    return use;
}

} // namespace kitround::forecast
