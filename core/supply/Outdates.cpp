#include "core/supply/Outdates.h"

#include <algorithm>
#include <numeric>

namespace kitround::supply {
namespace {

// left[x]: chance that x eaches are left, after the demand took what there was.
std::vector<double> afterDemand(const std::vector<double> &left, const forecast::Pmf &demand) {
    std::vector<double> next(left.size(), 0.0);
    for (std::size_t x = 0; x < left.size(); ++x) {
        if (left[x] == 0.0)
            continue;
        double kept = 0;
        for (std::size_t d = 0; d < x && d < demand.size(); ++d) {
            next[x - d] += left[x] * demand[d];
            kept += demand[d];
        }
        next[0] += left[x] * std::max(0.0, 1 - kept);
    }
    return next;
}

} // namespace

OutdateForecast expectedOutdates(const std::vector<AgeingLot> &lots) {
    std::int64_t later = 0;
    for (const AgeingLot &lot : lots)
        later += lot.quantity.count();
    std::vector<double> left(static_cast<std::size_t>(later) + 1, 0.0);
    left.back() = 1;
    OutdateForecast forecast;
    for (const AgeingLot &lot : lots) {
        later -= lot.quantity.count();
        left = afterDemand(left, lot.demand);
        double lost = 0;
        for (auto x = static_cast<std::size_t>(later) + 1; x < left.size(); ++x) {
            lost += left[x] * static_cast<double>(static_cast<std::int64_t>(x) - later);
            left[static_cast<std::size_t>(later)] += left[x];
        }
        left.resize(static_cast<std::size_t>(later) + 1);
        forecast.byLot.push_back(lost);
        forecast.total += lost;
    }
    return forecast;
}

} // namespace kitround::supply
