#pragma once
// Demand on the storeroom: dependent on the homes' refills and their uncertainty, plus new referrals' starter
// sets (compound Poisson), by item, over a lead time and a review period.
//
// A home: with stock s, cumulated use U(t), shipments of q and C the use of c cover days of who is still in
// service, what is sent within D days is q ceil(max(0, U(D) + C - s) / q): a shipment leaves whenever what
// the home holds no longer covers c days, even of somebody who leaves soon after. c is the courier's lead
// time, the longest gap between courier days and the spare sessions' days, at most half the days held; q is
// the plain rule's use over the days held less the cover, at least a week's, in whole cases where the item is
// sent so. What is promised already is in s, and off the storeroom's free stock, once each. Unknown stock
// counts as an empty home: the storeroom must be able to fill it. Referrals: Poisson at
// ReferralsPerWeekHundredths, arriving on any day alike; each is like a catheter of today's caseload drawn at
// random and is sent the plain rule's use of StarterDays, or to the end of the window plus cover if that is
// longer. Homes are taken as independent: uncertainty they share makes the truth a little wider.
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

// Homes prepared once, then asked for many items and lengths. Borrows the forecasts.
class StoreroomModel {
public:
    StoreroomModel(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts);

    // Over the first `days` days from the as-of date. Without meanByWeek.
    ItemDemand demand(ItemId item, Days days) const;
    double meanOver(ItemId item, Days days) const;
    // Demand of the days [from, to) from the as-of date, as if independent of the days before, with a spread
    // of `ratio` (variance over mean, of the whole time looked at).
    forecast::Pmf demandBetween(ItemId item, std::int64_t from, std::int64_t to, double ratio) const;
    // Mean demand of each of the next 12 weeks.
    std::vector<double> meanByWeek(ItemId item) const;
    // Items any home uses, by id.
    std::vector<ItemId> items() const;

private:
    struct Home {
        HomeLine line;
        std::int64_t cover = 0;
        std::int64_t shipment = 1;
    };
    // Homes alike for a new referral: the plain rule's use a day and the cover.
    using Likes = std::map<std::pair<double, std::int64_t>, std::int64_t>;

    void prepare(const forecast::ItemForecast &forecast, const Catheter &catheter, std::int64_t courierDays);
    std::int64_t coverUse(const Home &home, std::int64_t days) const;
    CountPart homePart(const Home &home, std::int64_t days, bool withChances) const;
    CountPart referralPart(const Likes &likes, std::int64_t days) const;
    std::vector<CountPart> parts(ItemId item, std::int64_t days, bool withChances) const;

    const SnapshotIndex &agency_;
    std::map<ItemId, std::vector<Home>> homes_;
    std::map<ItemId, Likes> likes_;
    std::size_t catheters_ = 0;
};

// Demand over the next `days` of one item: what homes will be sent, given what they hold.
ItemDemand storeroomDemand(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts,
                           ItemId item, Days days);

} // namespace kitround::supply
