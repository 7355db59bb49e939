#pragma once
// Demand on the storeroom: dependent on the homes' refills and their uncertainty, plus new referrals' starter
// sets (compound Poisson), by item, over a lead time and a review period.
//
// A home: all lines of one patient are asked for together, as the refills do. A line with stock s and
// cumulated use U(t) asks once s - U falls below R, the use of the days from the call to the delivery that is
// exceeded with the run-out target's chance. The patient's first delivery leaves within D days with chance
//   1 - prod over the lines of P(U(D) <= s - R), lines taken as independent;
// it brings of each line what the refill rule (RefillNeeds) sends on the day it is expected for. Later ones
// are counted on the line that asks first, by its lots q (the plain rule's use over the days held less the
// call days, at least a week's): ceil((U(D) + R - s) / q) deliveries in all, each with every line's lot,
// whole cases where the item is sent so. Who leaves has been sent what was asked for until then. On hold only
// what the forecast expects of the call days after D is kept in hand. What is promised already is in s, and
// off the storeroom's free stock, once each. Unknown stock counts as an empty home: the storeroom must be
// able to fill it. Referrals: Poisson at ReferralsPerWeekHundredths, arriving on any day alike; each is like
// a catheter of today's caseload drawn at random and is sent the plain rule's use of StarterDays, or to the
// end of the window and the call days if that is longer. Homes are taken as independent: uncertainty they
// share makes the truth a little wider.
#include "core/forecast/HomeForecast.h"
#include "core/supply/CountSum.h"
#include "core/supply/HomeLine.h"
#include "core/supply/Refills.h"

#include <map>
#include <vector>

namespace kitround::supply {

struct ItemDemand {
    ItemId item;
    double mean = 0;
    double variance = 0;
    double meanPerDay = 0;
    forecast::Pmf total; // demand on the storeroom from the as-of date over `days`
    Days days;
    std::vector<double> meanByWeek; // 12
    double meanFromReferrals = 0;   // part of the mean
    bool isExact = true;            // else matched in three moments (CountSum.h)
};

// Homes prepared once, then asked for many items and lengths, by one thread. Borrows the forecasts.
class StoreroomModel {
public:
    StoreroomModel(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts);

    // Over the first `days` days from the as-of date. Without meanByWeek.
    ItemDemand demand(ItemId item, Days days) const;
    double meanOver(ItemId item, Days days) const;
    double meanFromReferrals(ItemId item, Days days) const; // of it: for people nobody knows yet
    // Demand of the days [from, to) from the as-of date, as if independent of the days before, with a spread
    // of `ratio` (variance over mean, of the whole time looked at).
    forecast::Pmf demandBetween(ItemId item, std::int64_t from, std::int64_t to, double ratio) const;
    // Mean demand of each of the next 12 weeks.
    std::vector<double> meanByWeek(ItemId item) const;
    // Items any home uses, by id.
    std::vector<ItemId> items() const;

private:
    struct Line {
        HomeLine line;
        std::int64_t asksBelow = 0; // R
        std::int64_t first = 0;     // what the first delivery brings
        std::int64_t lot = 1;       // and each later one
        std::int64_t due = 0;       // days to the last delivery that holds the target
        std::size_t home = 0;
    };
    struct Home { // its lines lie side by side in lines_
        std::size_t from = 0, to = 0;
        std::size_t asksFirst = 0; // line
        // The answer given last: a home's lines, and items in turn, are mostly asked for the same days.
        mutable std::int64_t days = 0;
        mutable std::vector<double> deliveries;
    };
    // Units a day by the plain rule of those who use an item: how many there are of each.
    using Likes = std::map<double, std::int64_t>;

    std::optional<Line> lineOf(const forecast::ItemForecast &forecast, const Catheter &catheter) const;
    void addHome(const Patient &patient, std::vector<Line> lines);
    std::int64_t spareOf(const Line &line, std::int64_t days) const;
    const std::vector<double> &deliveries(const Home &home, std::int64_t days) const;
    std::vector<double> countDeliveries(const Home &home, std::int64_t days) const;
    CountPart linePart(const Line &line, std::int64_t days, bool withChances) const;
    CountPart referralPart(const Likes &likes, std::int64_t days) const;
    std::vector<CountPart> parts(ItemId item, std::int64_t days, bool withChances) const;

    const SnapshotIndex &agency_;
    std::int64_t callDays_ = 0;      // from the call to the delivery, on average over the days of the week
    std::int64_t firstDelivery_ = 0; // days to the first the courier can still make
    std::vector<Line> lines_;
    std::vector<Home> homes_;
    std::map<ItemId, std::vector<std::size_t>> linesOf_;
    std::map<ItemId, Likes> likes_;
    std::size_t catheters_ = 0;
};

// Demand over the next `days` of one item: what homes will be sent, given what they hold.
ItemDemand storeroomDemand(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts,
                           ItemId item, Days days);

} // namespace kitround::supply
