#pragma once
// What costs alone would say of one item's shelf, as a second opinion beside the rule the agency orders by
// (Reorders.h): how a shelf watched every day would be kept, and in which of the coming weeks orders would be
// cheapest. Nothing is ordered by it.
#include "core/supply/ItemReview.h"
#include "core/supply/LotSizing.h"
#include "core/supply/MinMax.h"

#include <optional>

namespace kitround::supply {

struct CostOpinion {
    MinMax watched;      // with `least` or fewer free and on order, fill up to `most`
    OrderPlan orders;    // of the coming weeks; eaches, beyond what is free and on order
    double perDay = 0;   // mean demand of the next four weeks
    double leadDays = 0; // mean
};
// Costs: an order's work (OrderCostMinor), keeping a piece (HoldingPermilleAYear of its price), a courier run
// a day for a piece that is missing (the worst case). Demand of the next four weeks taken as even and each
// day for itself: shipments of one or two sizes that come in by themselves, with the mean and the variance of
// those weeks. An order arrives after a lead time of the supplier's own distribution, and the shelf is looked
// at once a day (MinMax.h; by the power approximation where demand is large); at most kOverstockDays of use
// are kept. Nothing without demand, offer, price or costs.
//
// `left`: what is left of free stock and orders under way at the end of each of the coming weeks, by mean
// demand; the orders (LotSizing.h) take it below nought never.
std::optional<CostOpinion> costOpinion(const AgencySettings &settings, const StoreroomModel &model,
                                       ItemId item, const Terms &terms, const SupplierItem *offer,
                                       std::span<const double> left);

// Shipments a day with that mean and variance: a compound Poisson count of the two whole sizes around
// variance / mean (at least 1).
struct Shipments {
    double rate = 0;
    forecast::Pmf size;
};
Shipments shipmentsOf(double mean, double variance);

} // namespace kitround::supply
