#include "core/supply/NormalLoss.h"

#include "core/base/Require.h"

#include <boost/math/distributions/normal.hpp>
#include <boost/math/tools/roots.hpp>

#include <cstdint>

namespace kitround::supply {
namespace {

const boost::math::normal_distribution<double> kUnit;

double density(double z) {
    return boost::math::pdf(kUnit, z);
}
double beyond(double z) {
    return boost::math::cdf(boost::math::complement(kUnit, z));
}
double unitLoss(double z) {
    return density(z) - z * beyond(z);
}

} // namespace

double NormalDemand::cdf(double x) const {
    return boost::math::cdf(kUnit, (x - mean) / spread);
}

double NormalDemand::quantile(double p) const {
    return mean + spread * boost::math::quantile(kUnit, p);
}

double NormalDemand::loss(double x) const {
    return spread * unitLoss((x - mean) / spread);
}

double NormalDemand::secondLoss(double x) const {
    const double z = (x - mean) / spread;
    return spread * spread / 2 * ((z * z + 1) * beyond(z) - z * density(z));
}

double NormalDemand::levelMissing(double amount) const {
    KITROUND_REQUIRE(amount > 0);
    // n(x) >= mean - x, so that at mean - amount at least `amount` is missed.
    const double low = -amount / spread;
    double high = 1;
    while (spread * unitLoss(high) > amount)
        high *= 2;
    std::uintmax_t steps = 200;
    const auto [from, to] =
        boost::math::tools::toms748_solve([&](double z) { return spread * unitLoss(z) - amount; }, low, high,
                                          boost::math::tools::eps_tolerance<double>(50), steps);
    return mean + spread * (from + to) / 2;
}

} // namespace kitround::supply
