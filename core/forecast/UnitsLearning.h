#pragma once
// Units of each item a session, learned from the log: what was written down, else what the volume asks for.
#include "core/forecast/Bottling.h"
#include "core/forecast/Discount.h"
#include "core/forecast/UseModel.h"

#include <array>
#include <span>
#include <vector>

namespace kitround::forecast {

inline constexpr std::int64_t kMostUnits = 12; // a session: 6 L in 500 mL bottles; more is a typing error

struct Counts {
    std::array<double, kMostUnits + 1> weight{};
    void add(std::int64_t units, double w, std::int64_t most) {
        weight[static_cast<std::size_t>(std::clamp<std::int64_t>(units, 0, most))] += w;
    }
    double total() const {
        double sum = 0;
        for (double w : weight)
            sum += w;
        return sum;
    }
    double mean() const {
        double sum = 0;
        for (std::size_t k = 0; k < weight.size(); ++k)
            sum += static_cast<double>(k) * weight[k];
        return sum / total();
    }
    std::vector<double> shares() const {
        const double sum = total();
        std::vector<double> p(weight.begin(), weight.end());
        for (double &x : p)
            x /= sum;
        while (p.size() > 1 && p.back() == 0.0)
            p.pop_back();
        return p;
    }
};

struct VolumeLog {
    double weight = 0;
    double sum = 0; // of mL
    double wetWeight = 0;
    double logSum = 0; // of ln mL, drains that gave anything
};

struct UnitsLog {
    Counts kits, extras; // as logged
    BetaBelief waste;
    VolumeLog volume;
    double sessions = 0;
};

UnitsLog readUnits(std::span<const DrainEntry> entries, const Bottling &bottling,
                   const AgencySettings &settings, const Discount &discount);
// The kit first, then the extra bottle. Dirichlet over counts, its prior a log-normal volume cut at the
// bottle sizes, centred between the plan volume and the log; waste: each unit used is preceded by a
// beta-geometric number of lost ones. `wander`: how much a home's own units move over the horizon
// (CaseloadWander).
std::vector<ItemUse> itemsFrom(const Bottling &bottling, const UnitsLog &log, CavitySite site,
                               const AgencySettings &settings, double wander);

} // namespace kitround::forecast
