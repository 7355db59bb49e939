#include "core/forecast/Stays.h"

#include "core/base/Require.h"
#include "core/forecast/ExitOutlook.h"

#include <boost/math/special_functions/gamma.hpp>

#include <algorithm>
#include <cmath>

namespace kitround::forecast {
namespace {

std::optional<Date> exitDay(const SnapshotIndex &agency, const Catheter &catheter) {
    const Patient *patient = agency.patient(catheter.patient);
    std::optional<Instant> at = catheter.removedAt;
    if (patient && patient->exitedAt)
        at = std::min(at.value_or(*patient->exitedAt), *patient->exitedAt);
    if (!at)
        return std::nullopt;
    return Date::fromDayNumber(at->unixSeconds() / 86400); // within a day; counted by the week
}

} // namespace

std::vector<Stay> staysOf(const SnapshotIndex &agency) {
    const Snapshot &s = agency.snapshot();
    std::vector<Stay> all;
    for (const Catheter &catheter : s.catheters) {
        const std::span<const DrainOrder *const> orders = agency.ordersOf(catheter.id);
        if (orders.empty())
            continue;
        const Date start = catheter.insertedOn.value_or(orders.front()->start);
        const std::optional<Date> exit = exitDay(agency, catheter);
        const Date from = std::max(start, s.logFrom), to = exit ? std::min(*exit, s.asOf) : s.asOf;
        if (to <= from || (!exit && !agency.isInService(catheter)))
            continue;
        all.push_back({publishedExitPerDay(catheter, *orders.back(), s.settings), (from - start).count(),
                       (to - start).count(), exit && *exit <= s.asOf});
    }
    return all;
}

std::vector<StayPoint> productLimit(std::span<const Stay> stays) {
    std::vector<std::int64_t> days;
    for (const Stay &stay : stays)
        if (stay.hasLeft)
            days.push_back(stay.to);
    std::ranges::sort(days);
    const auto repeated = std::ranges::unique(days);
    days.erase(repeated.begin(), repeated.end());
    std::vector<StayPoint> curve;
    double share = 1, sum = 0; // Greenwood's sum of d / (n (n - d))
    for (const std::int64_t day : days) {
        StayPoint point;
        point.day = day;
        for (const Stay &stay : stays) {
            point.atRisk += stay.from < day && day <= stay.to ? 1 : 0;
            point.left += stay.hasLeft && stay.to == day ? 1 : 0;
        }
        const auto n = static_cast<double>(point.atRisk), d = static_cast<double>(point.left);
        share *= 1 - d / n;
        if (n > d)
            sum += d / (n * (n - d));
        point.share = share;
        point.error = share * std::sqrt(sum);
        curve.push_back(point);
    }
    return curve;
}

StayPoint curveOn(std::span<const StayPoint> curve, std::int64_t day) {
    StayPoint found;
    for (const StayPoint &point : curve)
        if (point.day <= day)
            found = point;
    return found;
}

double ExitRate::perDay() const {
    return days > 0 ? static_cast<double>(exits) / static_cast<double>(days) : 0;
}

ExitRate::Interval ExitRate::interval(double confidence) const {
    KITROUND_REQUIRE(days > 0 && confidence > 0 && confidence < 1);
    const double tail = (1 - confidence) / 2;
    const auto n = static_cast<double>(exits), t = static_cast<double>(days);
    return {exits > 0 ? boost::math::gamma_p_inv(n, tail) / t : 0, boost::math::gamma_q_inv(n + 1, tail) / t};
}

ExitRate exitRateOf(std::span<const Stay> stays) {
    ExitRate rate;
    for (const Stay &stay : stays) {
        rate.exits += stay.hasLeft ? 1 : 0;
        rate.days += stay.to - stay.from;
    }
    return rate;
}

} // namespace kitround::forecast
