#include "core/desk/views/StoreroomChart.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <QStringList>

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

using ChartPoint = StoreroomChart::Point;

constexpr int kDaysAWeek = 7;

// What is asked for from today to a day: on average, 1 time in 10 more, 1 time in 10 less.
struct AskedFor {
    double mean = 0;
    std::optional<double> most, least;
};

std::optional<double> between(std::optional<double> from, std::optional<double> to, double share) {
    return from && to ? std::optional(std::lerp(*from, *to, share)) : std::nullopt;
}

AskedFor between(const AskedFor &from, const AskedFor &to, double share) {
    return {std::lerp(from.mean, to.mean, share), between(from.most, to.most, share),
            between(from.least, to.least, share)};
}

ChartPoint pointOf(Date on, double come, const AskedFor &asked) {
    ChartPoint point{on, come - asked.mean, std::nullopt, std::nullopt};
    if (asked.most)
        point.low = come - *asked.most;
    if (asked.least)
        point.high = come - *asked.least;
    return point;
}

// The table's figures lie a week apart; between them demand runs evenly, and what comes comes on its day.
std::vector<ChartPoint> pointsOf(Eaches free, const std::vector<StoreroomWeek> &weeks,
                                 const std::vector<OpenOrderRow> &open) {
    if (weeks.empty())
        return {};
    AskedFor before;
    if (weeks.front().leftLow && weeks.front().leftHigh)
        before.most = before.least = 0;
    double come = static_cast<double>(free.count());
    std::vector<ChartPoint> points{pointOf(weeks.front().from, come, before)};
    for (const StoreroomWeek &week : weeks) {
        const double byEnd = come + static_cast<double>(week.arriving.count());
        AskedFor after{byEnd - week.left, std::nullopt, std::nullopt};
        if (week.leftLow)
            after.most = byEnd - *week.leftLow;
        if (week.leftHigh)
            after.least = byEnd - *week.leftHigh;
        for (int day = 0; day < kDaysAWeek; ++day) {
            const Date on = week.from.plusDays(day);
            const double comeBefore = come;
            for (const OpenOrderRow &order : open)
                if (order.expectedOn == on)
                    come += static_cast<double>(order.quantity.count());
            if (come > comeBefore)
                points.push_back(pointOf(on, come, between(before, after, day / double(kDaysAWeek))));
            points.push_back(
                pointOf(on.plusDays(1), come, between(before, after, (day + 1) / double(kDaysAWeek))));
        }
        before = after;
    }
    return points;
}

bool isBelowNought(std::optional<double> left) {
    return left && std::llround(*left) < 0;
}

// A day that begins short was short on the day before; of what is short already, today.
template <class Get>
std::optional<Date> firstShort(const StoreroomChart &chart, Get left) {
    const auto found =
        std::ranges::find_if(chart.points, [&](const ChartPoint &p) { return isBelowNought(left(p)); });
    return found == chart.points.end() ? std::nullopt
                                       : std::optional(std::max(chart.today, found->on.plusDays(-1)));
}

void addExpiries(StoreroomChart &chart, const Agency &agency, ItemId item) {
    for (const LotRow &lot : lotRows(agency, item)) // by expiry
        if (lot.lotState == LotState::Usable && lot.storeroom.count() > 0 && lot.expiresOn &&
            !lot.isExpired && *lot.expiresOn < chart.last)
            chart.expiries.push_back({*lot.expiresOn, lot.storeroom, lot.number});
}

QString arrivalsText(const StoreroomChart &chart) {
    QStringList all;
    for (const StoreroomChart::Arrival &a : chart.arrivals)
        all << (a.isBackordered ? Text::tr("%1 on %2, backordered") : Text::tr("%1 on %2"))
                   .arg(numberText(a.units.count()), dayText(a.on, chart.today));
    return all.isEmpty() ? Text::tr("Nothing is expected to come in.")
                         : Text::tr("Expected to come in: %1.").arg(all.join(QStringLiteral("; ")));
}

QString expiryText(const StoreroomChart &chart, const StoreroomChart::Expiry &expiry) {
    return Text::tr("%1 of lot %2 may be used until %3")
        .arg(numberText(expiry.units.count()), expiry.lot, dayText(expiry.lastDay, chart.today));
}

} // namespace

StoreroomChart storeroomChart(const Agency &agency, const StoreroomRow &row,
                              const std::vector<StoreroomWeek> &weeks,
                              const std::vector<OpenOrderRow> &open) {
    StoreroomChart chart;
    chart.today = chart.last = agency.today();
    chart.itemName = row.name;
    chart.orderUpTo = row.orderUpTo;
    chart.points = pointsOf(row.free, weeks, open);
    if (chart.points.empty()) {
        chart.nothing = Text::tr("Nobody uses this item, so nothing is worked out for the coming weeks. What "
                                 "stands on the shelf is under Lots.");
        return chart;
    }
    chart.last = chart.points.back().on;
    for (const OpenOrderRow &order : open)
        if (order.expectedOn < chart.last)
            chart.arrivals.push_back({order.expectedOn, order.quantity, order.isBackordered});
    addExpiries(chart, agency, row.item);
    chart.shortOn = firstShort(chart, [](const ChartPoint &p) { return std::optional(p.left); });
    chart.shortEarly = firstShort(chart, [](const ChartPoint &p) { return p.low; });
    return chart;
}

QString shortText(const StoreroomChart &chart) {
    if (chart.points.empty())
        return {};
    const auto day = [&](Date on) { return dayText(on, chart.today); };
    if (chart.shortOn && chart.shortEarly && *chart.shortEarly < *chart.shortOn)
        return Text::tr("short on %1, 1 time in 10 by %2").arg(day(*chart.shortOn), day(*chart.shortEarly));
    if (chart.shortOn)
        return Text::tr("short on %1").arg(day(*chart.shortOn));
    if (chart.shortEarly)
        return Text::tr("lasts as expected; 1 time in 10 short by %1").arg(day(*chart.shortEarly));
    return Text::tr("lasts to %1").arg(day(chart.last));
}

QString chartText(const StoreroomChart &chart) {
    if (chart.points.empty())
        return chart.nothing;
    QStringList text;
    text << Text::tr("%1: %2 free today; %3.")
                .arg(chart.itemName, leftText(chart.points.front().left), shortText(chart));
    text << arrivalsText(chart);
    if (chart.orderUpTo)
        text << Text::tr("Orders fill up to %1.").arg(numberText(chart.orderUpTo->count()));
    for (const StoreroomChart::Expiry &expiry : chart.expiries)
        text
            << Text::tr("%1; what is left of them then is still in the line.").arg(expiryText(chart, expiry));
    return text.join(u' ');
}

QString dayFigures(const StoreroomChart &chart, Date on) {
    const auto point = std::ranges::find(chart.points, on, &ChartPoint::on);
    if (point == chart.points.end())
        return {};
    QStringList lines{dayText(on, chart.today)};
    lines << Text::tr("Expected: %1").arg(leftText(point->left));
    if (point->low && point->high)
        lines << Text::tr("8 in 10 between %1 and %2").arg(leftText(*point->low), leftText(*point->high));
    for (const StoreroomChart::Arrival &a : chart.arrivals)
        if (a.on == on)
            lines << (a.isBackordered ? Text::tr("Expected to come in, backordered: %1")
                                      : Text::tr("Expected to come in: %1"))
                         .arg(numberText(a.units.count()));
    for (const StoreroomChart::Expiry &expiry : chart.expiries)
        if (expiry.lastDay == on)
            lines << expiryText(chart, expiry);
    return lines.join(u'\n');
}

} // namespace kitround::desk
