#include "core/forecast/backtest/UseHistory.h"

#include "core/base/Require.h"
#include "core/forecast/Bottling.h"
#include "core/forecast/LogReading.h"

#include <algorithm>
#include <array>

namespace kitround::forecast {
namespace {

std::optional<Date> dayOf(const std::optional<Instant> &at) {
    if (!at)
        return std::nullopt;
    return Date::fromDayNumber(at->unixSeconds() / 86400); // the local day may differ by one; use is by week
}

std::optional<Date> leftOn(const SnapshotIndex &agency, const Catheter &catheter) {
    const Patient *patient = agency.patient(catheter.patient);
    std::optional<Date> left = dayOf(catheter.removedAt);
    if (const std::optional<Date> exit = patient ? dayOf(patient->exitedAt) : std::nullopt)
        left = std::min(left.value_or(*exit), *exit);
    return left;
}

void addEntry(const DrainEntry &entry, const Bottling &bottling, std::size_t day, std::span<HomeUse> lines) {
    std::array<std::int64_t, kRoleCount> units{};
    bool isWrittenDown = false;
    for (const BottleUse &use : entry.supplies)
        for (const HomeUse &line : lines)
            if (use.item == line.item) {
                isWrittenDown = true;
                units[static_cast<std::size_t>(line.role)] += (use.used + use.lost).count();
            }
    if (!isWrittenDown) {
        const SessionUnits asked = unitsOf(bottling, entry.volume.value_or(Millilitres{}));
        units = {asked.kits, asked.extras};
    }
    for (HomeUse &line : lines) {
        line.daily[day] += static_cast<double>(units[static_cast<std::size_t>(line.role)]);
        line.sessions[day] += 1;
    }
}

} // namespace

double HomeUse::usedBetween(Date on, std::int64_t days) const {
    const std::int64_t first = (on - from).count();
    KITROUND_REQUIRE(first >= 0 && first + days <= static_cast<std::int64_t>(daily.size()));
    double sum = 0;
    for (std::int64_t d = first; d < first + days; ++d)
        sum += daily[static_cast<std::size_t>(d)];
    return sum;
}

std::vector<HomeUse> usesOf(const SnapshotIndex &agency) {
    const Snapshot &s = agency.snapshot();
    std::vector<HomeUse> uses;
    for (const Catheter &catheter : s.catheters) {
        const std::span<const DrainOrder *const> orders = agency.ordersOf(catheter.id);
        if (orders.empty())
            continue;
        const DrainOrder *inForce = agency.orderInForce(catheter.id, s.asOf);
        const DrainOrder &order = inForce ? *inForce : *orders.back();
        const Date from =
            std::max({s.logFrom, orders.front()->start, catheter.insertedOn.value_or(s.logFrom)});
        if (from >= s.asOf)
            continue;
        const std::span<const DrainEntry> entries = agency.entriesOf(catheter.id);
        HomeUse line;
        line.catheter = catheter.id;
        line.item = order.kit;
        line.from = from;
        line.leftOn = leftOn(agency, catheter);
        if (!entries.empty())
            line.lastEntry = entries.back().at.date;
        line.daily.assign(static_cast<std::size_t>((s.asOf - from).count()), 0.0);
        line.sessions = line.daily;
        const std::size_t first = uses.size();
        uses.push_back(line);
        const Bottling bottling = bottlingOf(agency, order);
        if (bottling.extra) {
            line.item = *bottling.extra;
            line.role = ItemRole::ExtraBottle;
            uses.push_back(line);
        }
        for (const DrainEntry &entry : entries)
            if (isDone(entry) && entry.at.date >= from && entry.at.date < s.asOf)
                addEntry(entry, bottling, static_cast<std::size_t>((entry.at.date - from).count()),
                         std::span(uses).subspan(first));
    }
    return uses;
}

} // namespace kitround::forecast
