#include "core/forecast/backtest/Backtest.h"

#include <algorithm>
#include <iterator>

namespace kitround::forecast {
namespace {

constexpr std::int64_t kLeastLogDays = 28;

bool isAfter(const std::optional<Instant> &at, Date origin) {
    return at && at->unixSeconds() / 86400 >= origin.dayNumber();
}

// What the home used, as far as its log can know.
std::optional<std::int64_t> usedIn(std::span<const HomeUse> uses, CatheterId catheter, ItemId item, Date from,
                                   int weeks) {
    auto line = std::ranges::lower_bound(uses, catheter, {}, &HomeUse::catheter);
    while (line != uses.end() && line->catheter == catheter && line->item != item)
        ++line;
    if (line == uses.end() || line->catheter != catheter || from < line->from)
        return std::nullopt;
    const Date end = from.plusDays(7 * weeks);
    const bool hasLeft = line->leftOn && *line->leftOn <= end;
    const bool isLogged = line->lastEntry && *line->lastEntry >= end.plusDays(-7);
    if (end > line->from.plusDays(static_cast<std::int64_t>(line->daily.size())) || (!hasLeft && !isLogged))
        return std::nullopt;
    return static_cast<std::int64_t>(line->usedBetween(from, 7 * weeks));
}

} // namespace

Snapshot asKnownOn(const Snapshot &now, Date origin) {
    Snapshot s;
    s.asOf = origin;
    s.now = {origin, Minutes{}};
    s.logFrom = now.logFrom;
    s.settings = now.settings;
    s.payers = now.payers;
    s.items = now.items;
    s.patients = now.patients;
    for (Patient &patient : s.patients)
        if (isExit(patient.status) && isAfter(patient.exitedAt, origin)) {
            patient.status = CareStatus::Active;
            patient.exitedAt.reset();
        }
    s.catheters = now.catheters;
    for (Catheter &catheter : s.catheters)
        if (isAfter(catheter.removedAt, origin))
            catheter.removedAt.reset();
    for (DrainOrder order : now.drainOrders) {
        if (order.start > origin)
            continue;
        if (order.end && *order.end > origin)
            order.end.reset();
        s.drainOrders.push_back(std::move(order));
    }
    std::ranges::copy_if(now.drainEntries, std::back_inserter(s.drainEntries),
                         [&](const DrainEntry &e) { return e.at.date < origin; });
    for (Hold hold : now.holds) {
        if (hold.from > origin)
            continue;
        if (hold.to && *hold.to > origin)
            hold.to.reset();
        s.holds.push_back(std::move(hold));
    }
    std::ranges::copy_if(now.homeCounts, std::back_inserter(s.homeCounts),
                         [&](const HomeCount &c) { return c.at.date < origin; });
    std::ranges::copy_if(now.deliveries, std::back_inserter(s.deliveries), [&](const Delivery &d) {
        return d.status == DeliveryStatus::Delivered && d.deliveredAt && d.deliveredAt->date < origin;
    });
    return s;
}

Result<Backtest> backtest(const SnapshotIndex &agency, const BacktestOptions &options, std::stop_token stop,
                          const ProgressSink &progress) {
    const Snapshot &now = agency.snapshot();
    const std::vector<HomeUse> uses = usesOf(agency);
    Backtest result;
    for (int i = 1; i <= options.origins; ++i) {
        const Date origin = now.asOf.plusDays(-7 * options.weeksApart * i);
        if (origin < now.logFrom.plusDays(kLeastLogDays))
            break;
        if (progress)
            progress(
                {static_cast<double>(i - 1) / options.origins, "backtest", static_cast<double>(i - 1), 0});
        const Snapshot past = asKnownOn(now, origin);
        const SnapshotIndex index(past);
        const auto forecasts = forecastAll(index, {}, stop, {});
        if (!forecasts)
            return forecasts.error();
        result.comparison.add(
            compareWithBaselines(index, *forecasts, [&](CatheterId catheter, ItemId item, int weeks) {
                return usedIn(uses, catheter, item, origin, weeks);
            }));
        result.origins.push_back(origin);
    }
    if (progress)
        progress({1.0, "backtest", static_cast<double>(result.origins.size()), 0});
    return result;
}

} // namespace kitround::forecast
