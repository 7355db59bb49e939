#include "core/forecast/HomeForecast.h"

#include "core/base/Require.h"
#include "core/forecast/ItemForecaster.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

// Items of the orders ahead, the order's that the forecast starts from first. Orders that ended are still
// read for the silent days, but their items are not forecast.
std::vector<const ItemUse *> itemsAhead(const HomeQuestion &home) {
    const auto ahead = std::span(home.timeline.days).subspan(home.timeline.today);
    std::vector<const ItemUse *> items;
    for (const auto &[order, uses] : home.unitsByOrder) {
        const auto isIts = [o = order](const DayPlan &day) { return day.order == o; };
        if (order != home.unitsByOrder.front().first && std::ranges::none_of(ahead, isIts))
            continue;
        for (const ItemUse &use : uses)
            if (std::ranges::none_of(items, [&](const ItemUse *i) { return i->item == use.item; }))
                items.push_back(&use);
    }
    return items;
}

void appendHome(const SnapshotIndex &agency, const Catheter &catheter, const ForecastOptions &options,
                const AgencyFigures &figures, ForecastBuffers &buffers, std::vector<ItemForecast> &to) {
    KITROUND_REQUIRE(options.horizon.count() > 0);
    HomeQuestion &home = buffers.home;
    if (!readQuestion(agency, catheter, options, figures, home))
        return;
    if (home.hasOneOrder())
        buffers.counts.build(home, buffers.recursion);
    for (const ItemUse *use : itemsAhead(home))
        to.push_back(ItemForecaster(home, options, buffers).run(*use));
}

} // namespace

std::vector<ItemForecast> forecastHome(const SnapshotIndex &agency, const Catheter &catheter,
                                       const ForecastOptions &options, const AgencyFigures &figures) {
    ForecastBuffers buffers;
    std::vector<ItemForecast> forecasts;
    appendHome(agency, catheter, options, figures, buffers, forecasts);
    return forecasts;
}

std::vector<ItemForecast> forecastHome(const SnapshotIndex &agency, const Catheter &catheter,
                                       const ForecastOptions &options) {
    return forecastHome(agency, catheter, options, learnFigures(agency));
}

Result<std::vector<ItemForecast>> forecastAll(const SnapshotIndex &agency, const ForecastOptions &options,
                                              std::stop_token stop, const ProgressSink &progress) {
    return forecastAll(agency, options, learnFigures(agency), std::move(stop), progress);
}

Result<std::vector<ItemForecast>> forecastAll(const SnapshotIndex &agency, const ForecastOptions &options,
                                              const AgencyFigures &figures, std::stop_token stop,
                                              const ProgressSink &progress) {
    constexpr std::size_t kHomesBetweenReports = 64;
    std::vector<const Catheter *> catheters;
    for (const Catheter &catheter : agency.snapshot().catheters)
        if (agency.isInService(catheter))
            catheters.push_back(&catheter);
    std::ranges::stable_sort(catheters, {}, &Catheter::id);

    ForecastBuffers buffers;
    buffers.results = largePages();
    std::vector<ItemForecast> forecasts;
    forecasts.reserve(2 * catheters.size());
    for (std::size_t i = 0; i < catheters.size(); ++i) {
        if (stop.stop_requested())
            return Problem{ProblemCode::Cancelled, "forecast", {}, 0, 0, {}};
        if (progress && i % kHomesBetweenReports == 0)
            progress({static_cast<double>(i) / static_cast<double>(catheters.size()), "forecast",
                      static_cast<double>(i), 0});
        const std::size_t first = forecasts.size();
        appendHome(agency, *catheters[i], options, figures, buffers, forecasts);
        std::ranges::sort(std::span(forecasts).subspan(first), {}, &ItemForecast::item);
    }
    if (progress)
        progress({1.0, "forecast", static_cast<double>(catheters.size()), 0});
    return forecasts;
}

} // namespace kitround::forecast
