#include "core/forecast/Summaries.h"

#include <array>

namespace kitround::forecast {
namespace {

// By fours: a sum of four waits for the one before once instead of four times.
template <class Count, std::size_t N>
double summarise(std::span<const double> p, const std::array<double, N> &levels,
                 std::array<Count, N> &quantiles) {
    double sum = 0, mean = 0;
    std::size_t next = 0, u = 0;
    const auto see = [&](std::size_t at) {
        sum += p[at];
        for (; next < N && sum >= levels[next] - 1e-12; ++next)
            quantiles[next] = static_cast<Count>(at);
    };
    for (; u + 4 <= p.size(); u += 4) {
        const double *c = p.data() + u;
        const double four = (c[0] + c[1]) + (c[2] + c[3]);
        mean += static_cast<double>(u) * four + ((c[1] + 2.0 * c[2]) + 3.0 * c[3]);
        if (next == N || sum + four < levels[next] - 2e-12)
            sum += four;
        else
            for (std::size_t i = 0; i < 4; ++i)
                see(u + i);
    }
    for (; u < p.size(); ++u) {
        mean += static_cast<double>(u) * p[u];
        see(u);
    }
    for (; next < N; ++next)
        quantiles[next] = static_cast<Count>(p.size()) - 1;
    return mean;
}

} // namespace

void summariseDay(std::span<const double> p, DayUse &use) {
    std::array<std::int32_t, 5> q{};
    use.mean = summarise(p, std::array{0.05, 0.25, 0.50, 0.75, 0.95}, q);
    use.p05 = q[0];
    use.p25 = q[1];
    use.p50 = q[2];
    use.p75 = q[3];
    use.p95 = q[4];
}

WeekUse weekOf(Date from, std::span<const double> p) {
    std::array<std::int32_t, 3> q{};
    WeekUse use;
    use.from = from;
    use.mean = summarise(p, std::array{0.10, 0.50, 0.90}, q);
    use.p10 = q[0];
    use.p50 = q[1];
    use.p90 = q[2];
    return use;
}

} // namespace kitround::forecast
