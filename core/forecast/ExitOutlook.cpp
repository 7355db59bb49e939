#include "core/forecast/ExitOutlook.h"

#include "core/calendar/DrainCalendar.h"
#include "core/forecast/ExitLikelihood.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace kitround::forecast {
namespace {

using enum SettingKey;

constexpr double kFactorSpread = 0.5; // of the log of the factor before any exit is seen (assumed)
constexpr int kFactorSteps = 12;      // each way, a quarter of the spread apart
constexpr std::array kShapes = {1.0, 2.0, 4.0, 8.0, 0.0};
constexpr double kLeastShare = 0.02; // of the likeliest point's weight; what is below is left out

double logStaying(double h, double shape, double inServiceFor, double days) {
    if (h <= 0)
        return 0;
    if (shape <= 0)
        return days * std::log1p(-std::min(h, 1.0 - 1e-12));
    const double scale = shape / h + inServiceFor;
    return -shape * std::log1p(days / scale);
}

} // namespace

// Removal is set by how often the order drains (chest: dryness comes with drainage). In the abdomen nearly
// all die with the catheter in (90 % of 125 deaths; Cardiovasc Intervent Radiol 2018;41:753-61), so only
// death counts.
double publishedExitPerDay(const Catheter &catheter, const DrainOrder &order,
                           const AgencySettings &settings) {
    const auto perMyriad = [&](SettingKey key) { return static_cast<double>(settings[key]) / 10000.0; };
    if (catheter.site == CavitySite::Abdomen)
        return std::min(perMyriad(DeathPerMyriadAbdomen), 1.0);
    const double perDay =
        order.pattern.kind == DrainPatternKind::AsNeeded ? 0 : calendar::drainsPerDay(order.pattern);
    const SettingKey removal = perDay >= 0.75  ? RemovalPerMyriadDaily
                               : perDay >= 0.3 ? RemovalPerMyriadEveryOther
                                               : RemovalPerMyriadLess;
    return std::min(perMyriad(removal) + perMyriad(DeathPerMyriadChest), 1.0);
}

ExitOutlook ExitOutlook::learnFrom(const SnapshotIndex &agency) {
    ExitOutlook outlook;
    const ExitLikelihood likelihood(staysOf(agency));
    const double seen = likelihood.exitsSeen();
    outlook.exits_ = std::llround(seen);
    // That hardly anybody left where many should have tells as much as many exits do.
    if (std::max(seen, likelihood.exitsPublished()) <
        static_cast<double>(agency.snapshot().settings[OwnFigureLeastN]))
        return outlook;
    outlook.isLearned_ = true;
    outlook.points_.clear();
    std::vector<double> logs;
    for (const double shape : kShapes)
        for (int step = -kFactorSteps; step <= kFactorSteps; ++step) {
            const double z = 0.25 * step;
            const double factor = std::exp(kFactorSpread * z);
            outlook.points_.push_back({0, factor, shape});
            logs.push_back(likelihood.logAt(factor, shape) - z * z / 2);
        }
    const double most = *std::ranges::max_element(logs);
    double sum = 0;
    for (std::size_t i = 0; i < logs.size(); ++i) {
        const double weight = std::exp(logs[i] - most);
        outlook.points_[i].weight = weight < kLeastShare ? 0 : weight;
        sum += outlook.points_[i].weight;
    }
    std::erase_if(outlook.points_, [](const Point &p) { return p.weight <= 0; });
    for (Point &p : outlook.points_)
        p.weight /= sum;
    return outlook;
}

void ExitOutlook::staying(double publishedPerDay, Days inServiceFor, Days horizon,
                          std::vector<double> &to) const {
    const auto days = static_cast<std::size_t>(horizon.count());
    const auto tenure = static_cast<double>(std::max<std::int64_t>(inServiceFor.count(), 0));
    const auto at = [&](std::size_t day) {
        double sum = 0;
        for (const Point &p : points_)
            sum += p.weight * std::exp(logStaying(p.factor * publishedPerDay, p.shape, tenure,
                                                  static_cast<double>(day)));
        return sum;
    };
    to.clear();
    to.reserve(days + 1);
    to.push_back(1.0);
    double before = 1;
    for (std::size_t week = 0; to.size() < days + 1; ++week) {
        const double after = at(7 * week + 7);
        const double daily = before > 0 ? std::pow(after / before, 1.0 / 7.0) : 0;
        for (std::size_t i = 1; i < 7 && to.size() < days + 1; ++i)
            to.push_back(to.back() * daily);
        if (to.size() < days + 1)
            to.push_back(after);
        before = after;
    }
}

double ExitOutlook::factor() const {
    double mean = 0;
    for (const Point &p : points_)
        mean += p.weight * p.factor;
    return mean;
}

} // namespace kitround::forecast
