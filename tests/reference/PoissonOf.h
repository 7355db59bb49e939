#pragma once
// The Poisson distribution as the storeroom counts new referrals: one unit each.
#include "core/supply/CountSum.h"

namespace kitround::test {

inline forecast::Pmf poisson(double mean) {
    return supply::sumOf({supply::compoundPoisson(mean, forecast::Pmf::certain(1))}).distribution;
}

} // namespace kitround::test
