#include "tests/bench/Calibration.h"

#include "core/forecast/backtest/Comparison.h"
#include "tests/bench/Measure.h"

#include <algorithm>
#include <chrono>
#include <iomanip>
#include <sstream>

namespace kitround::bench {
namespace {

using forecast::Comparison;

struct Scored {
    std::string name;
    Comparison comparison;
    forecast::AgencyFigures figures; // what the caseload taught
};

Result<Scored> scoreWorld(const WorldWish &wish) {
    const World world = makeWorld(wish);
    const SnapshotIndex agency(world.snapshot);
    const auto forecasts = forecast::forecastAll(agency, {}, {}, {});
    if (!forecasts)
        return forecasts.error();
    const auto actual = [&](CatheterId catheter, ItemId item, int weeks) -> std::optional<std::int64_t> {
        const auto at = std::ranges::lower_bound(world.futures, catheter, {}, &HomeFuture::catheter);
        if (at == world.futures.end() || at->catheter != catheter)
            return std::nullopt;
        const auto &line = at->units[item.value() > 2 ? 1 : 0]; // the kits are items 1 and 2
        std::int64_t used = 0;
        for (int day = 0; day < 7 * weeks; ++day)
            used += line[static_cast<std::size_t>(day)];
        return used;
    };
    return Scored{"", forecast::compareWithBaselines(agency, *forecasts, actual),
                  forecast::learnFigures(agency)};
}

std::string textOf(const forecast::AgencyFigures &figures) {
    std::ostringstream out;
    out << std::fixed << std::setprecision(2) << "   learned: steady sessions "
        << figures.wander.steadySessions << ", units' tilt " << figures.wander.unitsTilt << ", exits x "
        << figures.exits.factor() << " (" << figures.exits.exitsSeen() << " seen), beyond the order "
        << figures.wander.beyondPerDay << " a day\n";
    return out.str();
}

std::string jsonOf(const std::string &name, const Comparison &comparison) {
    const forecast::ForecastScore score = comparison.score();
    const forecast::BaselineScore best = comparison.bestBaseline();
    std::ostringstream out;
    out << std::fixed << std::setprecision(4) << "{\"name\": \"" << name << "\", \"cases\": " << score.cases
        << ", \"coverage50\": " << score.coverage50 << ", \"coverage80\": " << score.coverage80
        << ", \"coverage90\": " << score.coverage90 << ", \"pinball\": " << score.pinball
        << ", \"best_baseline\": \"" << nameOf(best.baseline)
        << "\", \"best_baseline_pinball\": " << best.pinball << ", \"crps\": " << score.crps
        << ", \"bias\": " << score.bias << ", \"mase\": " << score.mase
        << ", \"best_baseline_mase\": " << best.mase << ", \"pit\": [";
    for (std::size_t i = 0; i < score.pit.size(); ++i)
        out << (i > 0 ? ", " : "") << score.pit[i];
    out << "], \"horizons\": [";
    for (std::size_t h = 0; h < forecast::kScoredWeeks.size(); ++h) {
        const forecast::ForecastScore s = comparison.scoreOf(h);
        out << (h > 0 ? ", " : "") << "{\"weeks\": " << forecast::kScoredWeeks[h]
            << ", \"coverage80\": " << s.coverage80 << ", \"pinball\": " << s.pinball
            << ", \"bias\": " << s.bias << "}";
    }
    out << "], \"baselines\": [";
    bool isFirst = true;
    for (const forecast::BaselineScore &b : comparison.baselines()) {
        out << (isFirst ? "" : ", ") << "{\"name\": \"" << nameOf(b.baseline)
            << "\", \"pinball\": " << b.pinball << ", \"bias\": " << b.bias << ", \"mase\": " << b.mase
            << "}";
        isFirst = false;
    }
    out << "]}";
    return out.str();
}

std::string textOf(const std::string &name, const Comparison &comparison) {
    const forecast::ForecastScore s = comparison.score();
    const forecast::BaselineScore best = comparison.bestBaseline();
    std::ostringstream out;
    out << std::fixed << std::setprecision(3) << std::left << std::setw(16) << name << std::right;
    for (double figure : {s.coverage50, s.coverage80, s.coverage90, s.pinball, best.pinball,
                          best.pinball > 0 ? s.pinball / best.pinball : 0.0, s.bias})
        out << std::setw(10) << figure;
    out << "  " << nameOf(best.baseline) << "\n   by weeks:";
    for (std::size_t h = 0; h < forecast::kScoredWeeks.size(); ++h) {
        const forecast::ForecastScore w = comparison.scoreOf(h);
        out << "  " << forecast::kScoredWeeks[h] << ": " << w.coverage80 << " " << w.pinball << " " << w.bias;
    }
    out << "\n   pit:";
    for (double share : s.pit)
        out << " " << share;
    out << "\n";
    return out.str();
}

} // namespace

Result<std::string> benchCalibration(const CalibrationWish &wish) {
    const auto start = std::chrono::steady_clock::now();
    std::vector<Scored> worlds;
    Comparison pooled;
    for (const WorldName &world : worldNames()) {
        if (wish.world && *wish.world != world.name)
            continue;
        auto scored = scoreWorld({.kind = world.kind, .patients = wish.patients, .seed = wish.seed});
        if (!scored)
            return scored.error();
        scored->name = world.name;
        pooled.add(scored->comparison);
        worlds.push_back(std::move(*scored));
    }
    if (worlds.empty())
        return Problem{ProblemCode::Missing, "world", {}, 0, 0, {}};
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    std::ostringstream out;
    out << std::fixed << std::setprecision(3);
    if (!wish.asJson) {
        out << std::left << std::setw(16) << "world" << std::right;
        for (const char *head : {"cover50", "cover80", "cover90", "pinball", "best", "ratio", "bias"})
            out << std::setw(10) << head;
        out << "  best baseline\n";
        for (const Scored &world : worlds)
            out << textOf(world.name, world.comparison) << textOf(world.figures);
        out << textOf("pooled", pooled);
        out << seconds << " s, peak " << peakMemoryKib() / 1024 << " MiB\n";
        return out.str();
    }
    out << "{\"verb\": \"calibration\", \"patients\": " << wish.patients << ", \"seed\": " << wish.seed
        << ", \"seconds\": " << seconds << ", \"peak_mib\": " << static_cast<double>(peakMemoryKib()) / 1024.0
        << ", \"coverage\": \"of the randomised PIT, in expectation: exact for counts\""
        << ", \"pinball_unit\": \"eaches a week of horizon, mean of 19 levels, horizons 1, 2, 4, 8, 12 "
           "weeks\""
        << ", \"worlds\": [";
    for (std::size_t i = 0; i < worlds.size(); ++i)
        out << (i > 0 ? ",\n  " : "\n  ") << jsonOf(worlds[i].name, worlds[i].comparison);
    out << "\n], \"pooled\": " << jsonOf("pooled", pooled) << "}\n";
    return out.str();
}

} // namespace kitround::bench
