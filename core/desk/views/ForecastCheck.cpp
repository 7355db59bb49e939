#include "core/desk/views/ForecastCheck.h"

#include "core/desk/words/Text.h"
#include "core/forecast/backtest/Backtest.h"

#include <algorithm>

namespace kitround::desk {
namespace {

QString methodName(forecast::Baseline baseline) {
    using forecast::Baseline;
    switch (baseline) {
    case Baseline::PlainRule:
        return Text::tr("Plain rule");
    case Baseline::LastWeek:
        return Text::tr("Last week again");
    case Baseline::MovingAverage:
        return Text::tr("Mean of four weeks");
    case Baseline::ExponentialSmoothing:
        return Text::tr("Exponential smoothing");
    case Baseline::Croston:
        return Text::tr("Croston's method");
    case Baseline::SyntetosBoylan:
        return Text::tr("Syntetos and Boylan's method");
    case Baseline::TeunterSyntetosBabai:
        return Text::tr("Teunter, Syntetos and Babai's method");
    }
    return {};
}

} // namespace

Result<ForecastCheck> checkForecast(const Agency &agency, std::stop_token stop,
                                    const ProgressSink &progress) {
    const auto tested = forecast::backtest(agency.index(), {}, std::move(stop), progress);
    if (!tested)
        return tested.error();
    ForecastCheck check;
    const forecast::ForecastScore ours = tested->comparison.score();
    check.cases = ours.cases;
    check.origins = static_cast<int>(tested->origins.size());
    if (!tested->origins.empty()) {
        check.first = tested->origins.back();
        check.last = tested->origins.front();
    }
    if (ours.cases == 0) {
        check.notes << Text::tr("There is not enough log yet: at least four weeks before the day looked "
                                "from, and what came after it.");
        return check;
    }
    check.coverage = {{50, ours.coverage50}, {80, ours.coverage80}, {90, ours.coverage90}};
    check.methods.push_back({Text::tr("This forecast"), ours.pinball, ours.bias, true});
    const auto all = tested->comparison.baselines();
    const auto plain =
        std::ranges::find(all, forecast::Baseline::PlainRule, &forecast::BaselineScore::baseline);
    const auto best = tested->comparison.bestBaseline();
    const bool isPlainBest = best.baseline == plain->baseline;
    check.methods.push_back(
        {isPlainBest ? Text::tr("Plain rule, the best simple one") : methodName(plain->baseline),
         plain->pinball, plain->bias, false});
    if (!isPlainBest)
        check.methods.push_back(
            {Text::tr("Best simple one: %1").arg(methodName(best.baseline)), best.pinball, best.bias, false});
    if (ours.cases < 200)
        check.notes << Text::tr("Few cases: a difference of some per cent may be chance.");
    return check;
}

} // namespace kitround::desk
