#pragma once
// Forecasts made by hand, so that a supply rule can be checked against arithmetic and not against the
// forecast.
#include "core/forecast/HomeForecast.h"

#include <cmath>

namespace kitround::test {

inline forecast::Pmf poisson(double rate) {
    std::vector<double> p;
    double sum = 0;
    for (int k = 0; k < 2000 && sum < 1 - 1e-15; ++k) {
        p.push_back(std::exp(-rate + k * std::log(rate) - std::lgamma(k + 1.0)));
        sum += p.back();
    }
    p.back() += std::max(0.0, 1 - sum);
    return forecast::Pmf(std::move(p));
}

// Uses one each `everyDays` days from the as-of date on, with the chance given each time; nothing is
// unlogged.
inline forecast::ItemForecast steadyHome(CatheterId catheter, PatientId patient, ItemId item,
                                         std::int64_t onHand, int everyDays, double chance = 1.0,
                                         std::int64_t horizon = 84) {
    forecast::ItemForecast f;
    f.catheter = catheter;
    f.patient = patient;
    f.item = item;
    f.knowledge = forecast::StockKnowledge::Counted;
    f.onHand = Eaches::of(onHand);
    const forecast::Pmf session({1 - chance, chance});
    forecast::Pmf use;
    std::int32_t plain = 0;
    for (std::int64_t d = 0; d < horizon; ++d) {
        if (d % everyDays == 0) {
            use = use.plus(session);
            ++plain;
        }
        f.cumulated.push_back(use);
        f.plain.cumulated.push_back(plain);
    }
    return f;
}

} // namespace kitround::test
