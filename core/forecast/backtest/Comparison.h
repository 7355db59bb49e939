#pragma once
// The forecast held against what came, beside the simple forecasts. Cases: one home, item and horizon each.
// All losses are in units a week of horizon, so that a short and a long horizon weigh alike.
#include "core/forecast/HomeForecast.h"
#include "core/forecast/backtest/Scores.h"
#include "core/forecast/backtest/UseHistory.h"
#include "core/forecast/backtest/UsePattern.h"

#include <array>
#include <functional>
#include <string_view>

namespace kitround::forecast {

inline constexpr std::array<int, 5> kScoredWeeks = {1, 2, 4, 8, 12};

enum class Baseline : std::uint8_t {
    PlainRule, // sessions on the plan x mean units a session
    LastWeek,
    MovingAverage,        // of four weeks
    ExponentialSmoothing, // of weeks, alpha 0.2
    Croston,              // of days, alpha 0.1
    SyntetosBoylan,
    ShaleBoylanJohnston,
    TeunterSyntetosBabai,
};
inline constexpr std::size_t kBaselineCount = 8;
std::string_view nameOf(Baseline baseline); // stable, snake_case

struct ForecastScore {
    std::int64_t cases = 0;
    double coverage50 = 0, coverage80 = 0, coverage90 = 0; // fair: see fairCoverage
    double pinball = 0;                                    // mean over the levels
    double crps = 0;
    double bias = 0; // mean of forecast mean less actual
    double mase = 0; // mean absolute error of the median over the training weeks' mean lag-1 difference
    std::array<double, PitHistogram::kBins> pit{};
};
struct BaselineScore {
    Baseline baseline = Baseline::PlainRule;
    double pinball = 0;
    double bias = 0;
    double mase = 0;
};

class Comparison {
public:
    struct Case {
        std::size_t horizon = 0; // index into kScoredWeeks
        UsePattern pattern = UsePattern::Smooth;
        std::span<const double> pmf;
        std::int64_t actual = 0;
        double scale = 0; // of the training weeks; 0: no MASE
        std::array<std::array<double, kLevelCount>, kBaselineCount> baselineQuantiles{};
    };
    void add(const Case &c);
    void add(const Comparison &other);

    Comparison only(UsePattern pattern) const; // its cases alone
    ForecastScore score() const;               // all horizons
    ForecastScore scoreOf(std::size_t horizon) const;
    std::array<BaselineScore, kBaselineCount> baselines() const;
    BaselineScore bestBaseline() const; // by pinball

private:
    struct Sums {
        std::int64_t cases = 0;
        double coverage50 = 0, coverage80 = 0, coverage90 = 0, pinball = 0, crps = 0, bias = 0;
        double scaledError = 0, scaledCases = 0;
        std::array<double, kBaselineCount> baselinePinball{}, baselineBias{}, baselineScaledError{};
        PitHistogram pit;
        void add(const Sums &other);
    };
    static ForecastScore scoreOf(const Sums &sums);
    Sums over(std::size_t horizon) const;
    Sums total() const;
    std::array<std::array<Sums, kUsePatternCount>, kScoredWeeks.size()> sums_;
};

// What the home used of the item in `weeks` weeks from the as-of date; nothing where it is not known.
using ActualUse = std::function<std::optional<std::int64_t>(CatheterId, ItemId, int weeks)>;

// Scores `forecasts` (as forecastAll gives them, with their cumulated distributions) of the agency as of its
// date. The simple forecasts read the same log: each home's daily series up to its last entry (at most two
// weeks back: days not written down yet are no zeros), whose pattern is the case's, and their spread from all
// homes' own past errors over the same horizon, homes that left meanwhile among them.
Comparison compareWithBaselines(const SnapshotIndex &agency, std::span<const ItemForecast> forecasts,
                                const ActualUse &actual);

} // namespace kitround::forecast
