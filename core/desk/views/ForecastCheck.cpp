#include "core/desk/views/ForecastCheck.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/forecast/AgencyFigures.h"
#include "core/forecast/ExitLikelihood.h"
#include "core/forecast/backtest/Backtest.h"

#include <algorithm>
#include <array>
#include <map>

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
    case Baseline::ShaleBoylanJohnston:
        return Text::tr("Shale, Boylan and Johnston's method");
    case Baseline::TeunterSyntetosBabai:
        return Text::tr("Teunter, Syntetos and Babai's method");
    }
    return {};
}

QString kindName(forecast::UsePattern pattern) {
    using forecast::UsePattern;
    switch (pattern) {
    case UsePattern::Smooth:
        return Text::tr("Most days, alike");
    case UsePattern::Intermittent:
        return Text::tr("Some days, alike");
    case UsePattern::Erratic:
        return Text::tr("Most days, unlike");
    case UsePattern::Lumpy:
        return Text::tr("Some days, unlike");
    }
    return {};
}

std::vector<ForecastCheck::Kind> kindsOf(const forecast::Comparison &all) {
    std::vector<ForecastCheck::Kind> kinds;
    for (std::size_t p = 0; p < forecast::kUsePatternCount; ++p) {
        const auto pattern = static_cast<forecast::UsePattern>(p);
        const forecast::Comparison its = all.only(pattern);
        const forecast::ForecastScore ours = its.score();
        const forecast::BaselineScore best = its.bestBaseline();
        if (ours.cases > 0)
            kinds.push_back(
                {kindName(pattern), ours.cases, ours.pinball, methodName(best.baseline), best.pinball});
    }
    return kinds;
}

constexpr std::array kDaysInService = {28, 56, 84, 182};

std::vector<ForecastCheck::InService> timeInService(const SnapshotIndex &agency,
                                                    const std::vector<forecast::Stay> &stays) {
    const std::vector<forecast::StayPoint> curve = forecast::productLimit(stays);
    const forecast::ExitOutlook outlook = forecast::learnFigures(agency).exits;
    std::map<double, double> homesByHazard;
    for (const forecast::Stay &stay : stays)
        homesByHazard[stay.publishedExitPerDay] += 1;
    std::vector<double> forecast(kDaysInService.back() + 1, 0.0), staying;
    for (const auto &[hazard, homes] : homesByHazard) {
        outlook.staying(hazard, Days::of(0), Days::of(kDaysInService.back()), staying);
        for (std::size_t d = 0; d < forecast.size(); ++d)
            forecast[d] += staying[d] * homes / static_cast<double>(stays.size());
    }
    std::vector<ForecastCheck::InService> rows;
    for (const int days : kDaysInService) {
        const auto seen = [&](const forecast::Stay &stay) { return stay.from < days && days <= stay.to; };
        const forecast::StayPoint point = forecast::curveOn(curve, days);
        if (const auto atRisk = std::ranges::count_if(stays, seen); atRisk > 0)
            rows.push_back(
                {days, atRisk, point.share, point.error, forecast[static_cast<std::size_t>(days)]});
    }
    return rows;
}

QString exitsText(const std::vector<forecast::Stay> &stays) {
    const forecast::ExitRate rate = forecast::exitRateOf(stays);
    if (rate.days == 0)
        return {};
    constexpr int kConfidence = 90; // per cent
    const auto interval = rate.interval(kConfidence / 100.0);
    const auto aThousand = [](double perDay) { return QString::number(1000 * perDay, 'f', 1); };
    return Text::tr(
               "Catheters out of service: %1 in %2 days of service, that is %3 in 1000 days (%4 % interval: "
               "%5 to %6). By the published rates it would have been %7.")
        .arg(QString::number(rate.exits), QString::number(rate.days), aThousand(rate.perDay()),
             QString::number(kConfidence), aThousand(interval.low), aThousand(interval.high),
             QString::number(forecast::ExitLikelihood(stays).exitsPublished(), 'f', 0));
}

Table tableOf(const QString &title, const char *key, std::vector<Column> columns) {
    Table table;
    table.title = title.toStdString();
    table.key = key;
    table.columns = std::move(columns);
    return table;
}

} // namespace

Result<ForecastCheck> checkForecast(const Agency &agency, std::stop_token stop,
                                    const ProgressSink &progress) {
    const auto tested = forecast::backtest(agency.index(), {}, std::move(stop), progress);
    if (!tested)
        return tested.error();
    ForecastCheck check;
    const std::vector<forecast::Stay> stays = forecast::staysOf(agency.index());
    check.inService = timeInService(agency.index(), stays);
    check.exits = exitsText(stays);
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
    check.kinds = kindsOf(tested->comparison);
    if (ours.cases < 200)
        check.notes << Text::tr("Few cases: a difference of some per cent may be chance.");
    return check;
}

std::vector<Table> forecastCheckTables(const ForecastCheck &check) {
    Table coverage = tableOf(Text::tr("What came inside the intervals"), "coverage",
                             {numberColumn(Text::tr("Interval, %"), "interval_percent"),
                              numberColumn(Text::tr("Came inside, %"), "inside_percent")});
    for (const ForecastCheck::Coverage &c : check.coverage)
        coverage.rows.push_back({cell(std::int64_t{c.promised}), cell(100 * c.share, 1)});
    if (check.cases > 0)
        coverage.notes.push_back(cell(
            Text::tr("%1 cases, looked from %2 past days, %3 to %4; each forecast used only what was known "
                     "then.")
                .arg(check.cases)
                .arg(check.origins)
                .arg(dayText(*check.first), dayText(*check.last))));
    for (const QString &note : check.notes)
        coverage.notes.push_back(cell(note));
    Table methods = tableOf(Text::tr("Beside simple forecasts"), "methods",
                            {textColumn(Text::tr("Method"), "method"),
                             numberColumn(Text::tr("Mean loss, units a week"), "mean_loss"),
                             numberColumn(Text::tr("Too high by, a week"), "bias")});
    for (const ForecastCheck::Method &m : check.methods)
        methods.rows.push_back({cell(m.name), cell(m.loss, 4), cell(m.bias, 3)});
    Table kinds =
        tableOf(Text::tr("By kind of use"), "kinds",
                {textColumn(Text::tr("Kind of use"), "kind"), numberColumn(Text::tr("Cases"), "cases"),
                 numberColumn(Text::tr("Mean loss, units a week"), "mean_loss"),
                 textColumn(Text::tr("Best simple method"), "best_simple"),
                 numberColumn(Text::tr("Its mean loss"), "best_simple_loss")});
    for (const ForecastCheck::Kind &k : check.kinds)
        kinds.rows.push_back(
            {cell(k.name), cell(k.cases), cell(k.loss, 4), cell(k.best), cell(k.bestLoss, 4)});
    Table stays = tableOf(Text::tr("Catheters still in service"), "in_service",
                          {numberColumn(Text::tr("Days"), "days"), numberColumn(Text::tr("Seen"), "at_risk"),
                           numberColumn(Text::tr("Still there, %"), "seen_percent"),
                           numberColumn(Text::tr("Give or take"), "standard_error"),
                           numberColumn(Text::tr("By the forecast, %"), "forecast_percent")});
    for (const ForecastCheck::InService &r : check.inService)
        stays.rows.push_back({cell(std::int64_t{r.days}), cell(r.atRisk), cell(100 * r.seen, 1),
                              cell(100 * r.error, 1), cell(100 * r.forecast, 1)});
    if (!check.exits.isEmpty())
        stays.notes.push_back(cell(check.exits));
    return {coverage, methods, kinds, stays};
}

} // namespace kitround::desk
