#include "core/forecast/backtest/Comparison.h"

#include "core/calendar/DrainCalendar.h"
#include "core/forecast/backtest/Baselines.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {
namespace {

constexpr double kWeekAlpha = 0.2;
constexpr double kDayAlpha = 0.1;
constexpr std::size_t kAverageWeeks = 4;
constexpr std::int64_t kLatestSeriesEnd = 14; // days
constexpr int kOrigins = 8;                   // past origins for the errors of a horizon

// Past weeks, the last full one last.
std::vector<double> weeksOf(std::span<const double> daily) {
    std::vector<double> weeks(daily.size() / 7, 0.0);
    const std::size_t skip = daily.size() % 7;
    for (std::size_t i = 0; i < 7 * weeks.size(); ++i)
        weeks[i / 7] += daily[skip + i];
    return weeks;
}

double sumOf(std::span<const double> values) {
    double sum = 0;
    for (double value : values)
        sum += value;
    return sum;
}

// Units a day by each method, from the first `days` days of the line.
std::array<double, kBaselineCount> ratesAt(const SnapshotIndex &agency, const HomeUse &line,
                                           std::int64_t days, Date on) {
    const auto count = static_cast<std::size_t>(days);
    const std::span<const double> daily = std::span(line.daily).first(count);
    const std::vector<double> weeks = weeksOf(daily);
    std::array<double, kBaselineCount> rates{};
    const auto at = [&](Baseline b) -> double & { return rates[static_cast<std::size_t>(b)]; };

    const double sessions = sumOf(std::span(line.sessions).first(count));
    const double units = sessions > 0 ? sumOf(daily) / sessions : line.role == ItemRole::Kit ? 1.0 : 0.0;
    if (const DrainOrder *order = agency.orderInForce(line.catheter, on))
        at(Baseline::PlainRule) = units * calendar::drainsPerDay(order->pattern);
    const auto aDay = [&](double aWeek) { return weeks.empty() ? movingAverage(daily, count) : aWeek / 7.0; };
    at(Baseline::LastWeek) = aDay(movingAverage(weeks, 1));
    at(Baseline::MovingAverage) = aDay(movingAverage(weeks, kAverageWeeks));
    at(Baseline::ExponentialSmoothing) = aDay(exponentialSmoothing(weeks, kWeekAlpha));
    const CrostonLevels levels = croston(daily, kDayAlpha);
    at(Baseline::Croston) = levels.rate();
    at(Baseline::SyntetosBoylan) = syntetosBoylan(levels, kDayAlpha);
    at(Baseline::ShaleBoylanJohnston) = shaleBoylanJohnston(levels, kDayAlpha);
    at(Baseline::TeunterSyntetosBabai) = teunterSyntetosBabai(daily, kDayAlpha, kDayAlpha).rate();
    return rates;
}

struct ErrorPools {
    std::array<std::array<std::array<PastErrors, kBaselineCount>, kScoredWeeks.size()>, kRoleCount> pools;

    PastErrors &of(ItemRole role, std::size_t horizon, std::size_t baseline) {
        return pools[static_cast<std::size_t>(role)][horizon][baseline];
    }
};

ErrorPools learnErrors(const SnapshotIndex &agency, std::span<const HomeUse> uses) {
    const Date asOf = agency.snapshot().asOf;
    ErrorPools pools;
    for (const HomeUse &line : uses)
        for (int week = 1; week < kOrigins + kScoredWeeks.back(); ++week) {
            const Date origin = asOf.plusDays(-7 * week);
            const std::int64_t days = (origin - line.from).count();
            if (days < 7 || !line.isInServiceOn(origin))
                continue;
            const auto rates = ratesAt(agency, line, days, origin);
            for (std::size_t h = 0; h < kScoredWeeks.size(); ++h) {
                const int length = kScoredWeeks[h];
                if (week < length || week >= length + kOrigins)
                    continue;
                const double actual = line.usedBetween(origin, 7 * length);
                for (std::size_t b = 0; b < kBaselineCount; ++b)
                    pools.of(line.role, h, b).add(7 * length * rates[b], actual);
            }
        }
    for (auto &role : pools.pools)
        for (auto &horizon : role)
            for (PastErrors &errors : horizon)
                errors.sort();
    return pools;
}

double trainingScale(const HomeUse &line) {
    const std::vector<double> weeks = weeksOf(line.daily);
    double sum = 0;
    for (std::size_t i = 1; i < weeks.size(); ++i)
        sum += std::abs(weeks[i] - weeks[i - 1]);
    return weeks.size() > 2 ? sum / static_cast<double>(weeks.size() - 1) : 0;
}

} // namespace

std::string_view nameOf(Baseline baseline) {
    static constexpr std::array<std::string_view, kBaselineCount> kNames = {
        "plain_rule", "last_week", "moving_average", "exponential_smoothing", "croston", "sba", "sbj", "tsb"};
    return kNames[static_cast<std::size_t>(baseline)];
}

void Comparison::add(const Case &c) {
    const auto weeks = static_cast<double>(kScoredWeeks[c.horizon]);
    const auto actual = static_cast<double>(c.actual);
    Sums &s = sums_[c.horizon][static_cast<std::size_t>(c.pattern)];
    const PitInterval pit = pitInterval(c.pmf, c.actual);
    const std::array<double, kLevelCount> quantiles = quantilesOf(c.pmf);
    double mean = 0;
    for (std::size_t k = 0; k < c.pmf.size(); ++k)
        mean += static_cast<double>(k) * c.pmf[k];
    s.cases += 1;
    s.coverage50 += fairCoverage(pit, 0.5);
    s.coverage80 += fairCoverage(pit, 0.8);
    s.coverage90 += fairCoverage(pit, 0.9);
    s.pinball += meanPinball(quantiles, actual) / weeks;
    s.crps += rankedProbabilityScore(c.pmf, c.actual) / weeks;
    s.bias += (mean - actual) / weeks;
    s.pit.add(pit);
    constexpr std::size_t kMedian = kLevelCount / 2;
    const auto scaled = [&](double forecast) {
        return c.scale > 0 ? std::abs(forecast - actual) / weeks / c.scale : 0.0;
    };
    s.scaledCases += c.scale > 0 ? 1 : 0;
    s.scaledError += scaled(quantiles[kMedian]);
    for (std::size_t b = 0; b < kBaselineCount; ++b) {
        const auto &theirs = c.baselineQuantiles[b];
        double sum = 0;
        for (double q : theirs)
            sum += q;
        s.baselinePinball[b] += meanPinball(theirs, actual) / weeks;
        s.baselineBias[b] += (sum / static_cast<double>(kLevelCount) - actual) / weeks;
        s.baselineScaledError[b] += scaled(theirs[kMedian]);
    }
}

void Comparison::Sums::add(const Sums &o) {
    cases += o.cases;
    coverage50 += o.coverage50;
    coverage80 += o.coverage80;
    coverage90 += o.coverage90;
    pinball += o.pinball;
    crps += o.crps;
    bias += o.bias;
    scaledError += o.scaledError;
    scaledCases += o.scaledCases;
    for (std::size_t b = 0; b < kBaselineCount; ++b) {
        baselinePinball[b] += o.baselinePinball[b];
        baselineBias[b] += o.baselineBias[b];
        baselineScaledError[b] += o.baselineScaledError[b];
    }
    pit.add(o.pit);
}

void Comparison::add(const Comparison &other) {
    for (std::size_t h = 0; h < sums_.size(); ++h)
        for (std::size_t p = 0; p < kUsePatternCount; ++p)
            sums_[h][p].add(other.sums_[h][p]);
}

Comparison Comparison::only(UsePattern pattern) const {
    const auto p = static_cast<std::size_t>(pattern);
    Comparison its;
    for (std::size_t h = 0; h < sums_.size(); ++h)
        its.sums_[h][p] = sums_[h][p];
    return its;
}

Comparison::Sums Comparison::over(std::size_t horizon) const {
    Sums sums;
    for (const Sums &s : sums_[horizon])
        sums.add(s);
    return sums;
}

Comparison::Sums Comparison::total() const {
    Sums sums;
    for (std::size_t h = 0; h < sums_.size(); ++h)
        sums.add(over(h));
    return sums;
}

ForecastScore Comparison::scoreOf(const Sums &s) {
    const double n = std::max(static_cast<double>(s.cases), 1.0);
    return {s.cases,       s.coverage50 / n, s.coverage80 / n, s.coverage90 / n,
            s.pinball / n, s.crps / n,       s.bias / n,       s.scaledError / std::max(s.scaledCases, 1.0),
            s.pit.shares()};
}

ForecastScore Comparison::score() const {
    return scoreOf(total());
}

ForecastScore Comparison::scoreOf(std::size_t horizon) const {
    return scoreOf(over(horizon));
}

std::array<BaselineScore, kBaselineCount> Comparison::baselines() const {
    const Sums s = total();
    const double n = std::max(static_cast<double>(s.cases), 1.0);
    std::array<BaselineScore, kBaselineCount> scores;
    for (std::size_t b = 0; b < kBaselineCount; ++b)
        scores[b] = {static_cast<Baseline>(b), s.baselinePinball[b] / n, s.baselineBias[b] / n,
                     s.baselineScaledError[b] / std::max(s.scaledCases, 1.0)};
    return scores;
}

BaselineScore Comparison::bestBaseline() const {
    const auto all = baselines();
    return *std::ranges::min_element(all, {}, &BaselineScore::pinball);
}

Comparison compareWithBaselines(const SnapshotIndex &agency, std::span<const ItemForecast> forecasts,
                                const ActualUse &actual) {
    const Date asOf = agency.snapshot().asOf;
    const std::vector<HomeUse> uses = usesOf(agency);
    ErrorPools pools = learnErrors(agency, uses);
    Comparison comparison;
    for (const HomeUse &line : uses) {
        const auto key = std::pair(line.catheter, line.item);
        const auto f = std::ranges::lower_bound(
            forecasts, key, {}, [](const ItemForecast &i) { return std::pair(i.catheter, i.item); });
        if (f == forecasts.end() || std::pair(f->catheter, f->item) != key)
            continue;
        std::int64_t days = static_cast<std::int64_t>(line.daily.size());
        if (line.lastEntry)
            days = std::clamp((line.lastEntry->plusDays(1) - line.from).count(),
                              std::max<std::int64_t>(1, days - kLatestSeriesEnd), days);
        const auto rates = ratesAt(agency, line, days, asOf);
        Comparison::Case c;
        c.scale = trainingScale(line);
        c.pattern = patternOf(shapeOf(std::span(line.daily).first(static_cast<std::size_t>(days))));
        for (std::size_t h = 0; h < kScoredWeeks.size(); ++h) {
            const int weeks = kScoredWeeks[h];
            const std::optional<std::int64_t> used = actual(line.catheter, line.item, weeks);
            const auto day = static_cast<std::size_t>(7 * weeks - 1);
            if (!used || day >= f->cumulated.size())
                continue;
            c.horizon = h;
            c.pmf = f->cumulated[day].values();
            c.actual = *used;
            for (std::size_t b = 0; b < kBaselineCount; ++b)
                for (std::size_t i = 0; i < kLevelCount; ++i)
                    c.baselineQuantiles[b][i] =
                        pools.of(line.role, h, b).quantile(levelAt(i), 7 * weeks * rates[b]);
            comparison.add(c);
        }
    }
    return comparison;
}

} // namespace kitround::forecast
