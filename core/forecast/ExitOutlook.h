#pragma once
// How long homes stay in service. The published hazards by site and schedule (settings) are the start; an
// agency that has seen enough exits, or enough days in service for as many by the published hazards
// (own_figure_least_n), learns its own level and how unlike its homes are:
//   hazard of a home = factor x published x frailty, frailty ~ Gamma(k, k), so that after T days in service
//   P(stays d more days) = ((k / h + T) / (k / h + T + d))^k,  h = factor x published
// (Lomax 1954; k large: the exponential; small k: the first weeks are the worst). Factor (log-normal prior,
// median 1, assumed) and k (even prior over kShapes, assumed) by their posterior on a grid
// (ExitLikelihood.h).
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::forecast {

// Chance a day to leave, by the settings: removal by how often the order drains, and death.
double publishedExitPerDay(const Catheter &catheter, const DrainOrder &order, const AgencySettings &settings);

class ExitOutlook {
public:
    ExitOutlook() = default; // the published hazards, surely
    static ExitOutlook learnFrom(const SnapshotIndex &agency);

    // Chance to be in service still at the start of day d of the horizon, d = 0 .. horizon, given that the
    // home is in service today. Geometric between whole weeks.
    void staying(double publishedPerDay, Days inServiceFor, Days horizon, std::vector<double> &to) const;

    std::int64_t exitsSeen() const { return exits_; }
    bool isLearned() const { return isLearned_; }
    double factor() const; // mean, against the published hazards

private:
    struct Point {
        double weight = 1;
        double factor = 1;
        double shape = 0; // k; 0: all homes alike
    };
    std::vector<Point> points_{Point{}};
    std::int64_t exits_ = 0;
    bool isLearned_ = false;
};

} // namespace kitround::forecast
