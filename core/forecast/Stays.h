#pragma once
// How long catheters have stayed in service, as the agency has seen it: what the forecast's outlook learns
// from (ExitOutlook), and the curve that says so without any model.
#include "core/records/Snapshot.h"

#include <span>
#include <vector>

namespace kitround::forecast {

// Days count from the insertion (else the first order). Before `from` the loaded log could not have seen the
// catheter leave.
struct Stay {
    double publishedExitPerDay = 0; // of its site and latest order (ExitOutlook.h)
    std::int64_t from = 0;
    std::int64_t to = 0; // left, or the as-of date
    bool hasLeft = false;
};
std::vector<Stay> staysOf(const SnapshotIndex &agency);

// Product limit (Kaplan and Meier, JASA 53, 1958) with late entry: at each day on which somebody left, those
// at risk are from < day <= to. A catheter last seen on the day of an exit was still at risk.
struct StayPoint {
    std::int64_t day = 0;
    std::int64_t atRisk = 0;
    std::int64_t left = 0;
    double share = 1; // still in service after the day
    double error = 0; // its standard error (Greenwood 1926)
};
std::vector<StayPoint> productLimit(std::span<const Stay> stays);
// The curve on a day: its last step; surely in service before the first.
StayPoint curveOn(std::span<const StayPoint> curve, std::int64_t day);

// Exits over days in service: the likeliest constant rate, also where stays are cut off or seen late
// (NIST/SEMATECH e-Handbook, sec. 8.4.5.1).
struct ExitRate {
    std::int64_t exits = 0;
    std::int64_t days = 0;

    double perDay() const; // 0 without days
    // Central interval of the rate by gamma quantiles of the days: exits for its lower end (0 without exits),
    // exits + 1 for its upper (same source, the chi-squared form; Garwood, Biometrika 28, 1936).
    // Preconditions: days > 0, 0 < confidence < 1.
    struct Interval {
        double low = 0;
        double high = 0;
    };
    Interval interval(double confidence) const;
};
ExitRate exitRateOf(std::span<const Stay> stays);

} // namespace kitround::forecast
