#pragma once
// How likely the exits an agency has seen are under a hazard: what the outlook learns from (ExitOutlook). A
// home's hazard a day after d days in service is shape x h / (shape + h d), h = factor x published; shape 0:
// the same h on every day. Exits in a week of service are Poisson, hazard x days seen in it:
//   log L = sum of exits x log(hazard) - days x hazard,
// the likelihood of stays cut off and seen late (e.g. NIST/SEMATECH e-Handbook, sec. 8.4.5.1, for a constant
// one).
#include "core/forecast/Stays.h"

#include <array>

namespace kitround::forecast {

class ExitLikelihood {
public:
    explicit ExitLikelihood(std::span<const Stay> stays);

    double logAt(double factor, double shape) const;
    double exitsSeen() const;
    double exitsPublished() const; // that the published hazards had led to expect in the days seen

private:
    static constexpr std::size_t kWeeks = 60; // of service; the last holds all later ones
    struct Tenure {                           // homes of one published hazard
        double publishedPerDay = 0;
        std::array<double, kWeeks> days{};
        std::array<double, kWeeks> exits{};
    };
    void add(const Stay &stay);

    std::vector<Tenure> tenures_;
};

} // namespace kitround::forecast
