#include "core/supply/ItemReview.h"

#include "core/supply/Economics.h"
#include "core/supply/Lots.h"
#include "core/supply/Outdates.h"

#include <algorithm>
#include <cmath>

namespace kitround::supply {
namespace {

constexpr std::int64_t kRateDays = 28;

} // namespace

const Terms &TermsBook::of(SupplierId id) {
    const auto found = terms_.find(id);
    if (found != terms_.end())
        return found->second;
    Terms terms;
    terms.supplier = id.isSet() ? agency_.supplier(id) : nullptr;
    terms.lead =
        terms.supplier ? leadTimeOf(agency_, *terms.supplier) : usualLeadTime(agency_.snapshot().settings);
    terms.leadChances = leadTimeChances(terms.lead);
    terms.day = terms.supplier ? nextOrderDay(*terms.supplier, agency_.snapshot().now)
                               : OrderDay{agency_.snapshot().asOf, false};
    return terms_.emplace(id, std::move(terms)).first->second;
}

ItemReview::ItemReview(const SnapshotIndex &agency, const StoreroomModel &model, const Item &item,
                       const Position &position, const Terms &terms, const SupplierItem *offer)
    : agency_(agency), model_(model), item_(item), position_(position), terms_(terms), offer_(offer),
      today_(agency.snapshot().asOf), wait_((terms.day.on - today_).count()),
      review_(agency.snapshot().settings[SettingKey::ReviewDays]) {
    for (const OpenLine &open : openLines(agency))
        if (open.item == item.id)
            open_.push_back(open);
}

ItemPlan ItemReview::plan() {
    ItemPlan plan;
    plan.offer = offer_;
    ReorderLine &line = plan.line;
    line.item = item_.id;
    line.supplier = terms_.supplier ? terms_.supplier->id : SupplierId{};
    line.pack = offer_ ? offer_->pack : item_.casePack;
    setPosition(line);
    setLevel(line);
    setArrival(line);
    setEconomic(line);
    line.chanceShortBefore = chanceShortBefore(line);
    line.cases = casesToOrder({line.position, line.orderUpTo - Eaches::of(1), line.orderUpTo, line.pack,
                               offer_ ? offer_->leastLine : Cases::of(1)});
    return plan;
}

std::int64_t ItemReview::daysToArrival(std::size_t lead) const {
    std::int64_t days = wait_ + static_cast<std::int64_t>(lead);
    if (offer_ && isBackordered(*offer_, today_))
        days = std::max(days, (*offer_->backorderedUntil - today_).count());
    return days;
}

const ItemDemand &ItemReview::demandOver(std::int64_t days) {
    auto found = demand_.find(days);
    if (found == demand_.end())
        found = demand_.emplace(days, model_.demand(item_.id, Days::of(days))).first;
    return found->second;
}

Eaches ItemReview::arriving(Date from, Date before) const {
    Eaches sum;
    for (const OpenLine &open : open_)
        if (open.expectedOn >= from && open.expectedOn < before)
            sum += open.quantity;
    return sum;
}

void ItemReview::setPosition(ReorderLine &line) {
    const std::int64_t arrival = daysToArrival(
        static_cast<std::size_t>(std::max<std::int64_t>(0, std::llround(terms_.lead.meanDays))));
    line.coverDays = Days::of(arrival + review_);
    const Date end = today_ + line.coverDays;
    line.storeroom = position_.storeroom;
    line.promised = position_.promised;
    line.onOrder = arriving(today_, end);
    line.onOrderLater = position_.onOrder - line.onOrder;
    line.expiring = expectedToExpire(end);
    line.position = line.storeroom - line.promised + line.onOrder - line.expiring;
}

std::vector<std::pair<Date, Eaches>> ItemReview::lotsEndingBefore(Date end) const {
    std::vector<std::pair<Date, Eaches>> lots;
    for (const StockBalance &row : agency_.balancesAt(Place::storeroom()))
        if (row.item == item_.id && row.lot && row.quantity.count() > 0 &&
            isUsable(agency_, *row.lot, today_))
            if (const auto expiry = agency_.lot(*row.lot)->expiresOn; expiry && *expiry < end)
                lots.push_back({*expiry, row.quantity});
    std::ranges::stable_sort(lots);
    return lots;
}

Eaches ItemReview::expectedToExpire(Date end) const {
    const auto lots = lotsEndingBefore(end);
    if (lots.empty())
        return {};
    const ItemDemand whole = model_.demand(item_.id, end - today_);
    const double ratio = whole.mean > 0 ? whole.variance / whole.mean : 0;
    std::vector<AgeingLot> ageing;
    std::int64_t from = 0;
    for (const auto &[expiry, quantity] : lots) {
        const std::int64_t to = (expiry - today_).count() + 1; // the last day of use still counts
        ageing.push_back({quantity, model_.demandBetween(item_.id, from, to, ratio)});
        from = to;
    }
    return Eaches::of(std::llround(expectedOutdates(ageing).total));
}

forecast::Pmf ItemReview::demandPast(std::int64_t days) {
    std::vector<forecast::Pmf> demand;
    for (std::size_t lead = 0; lead < terms_.leadChances.size(); ++lead)
        demand.push_back(demandOver(daysToArrival(lead) + days).total);
    return forecast::Pmf::mixture(demand, terms_.leadChances);
}

forecast::Pmf ItemReview::demandToCover() {
    return demandPast(review_);
}

forecast::Pmf ItemReview::demandToArrival() {
    return demandPast(0);
}

double ItemReview::fromReferrals() {
    double mean = 0;
    for (std::size_t lead = 0; lead < terms_.leadChances.size(); ++lead)
        mean += terms_.leadChances[lead] * demandOver(daysToArrival(lead) + review_).meanFromReferrals;
    return mean;
}

void ItemReview::setEconomic(ReorderLine &line) const {
    if (!offer_)
        return;
    const AgencySettings &settings = agency_.snapshot().settings;
    double mostDays = kOverstockDays;
    if (item_.shelfLife)
        mostDays = std::min(mostDays, static_cast<double>(item_.shelfLife->count()));
    OrderCosts costs;
    costs.eachesPerYear = 365 * line.meanPerDay;
    costs.perOrder = static_cast<double>(settings[SettingKey::OrderCostMinor]);
    costs.holdingPerYear = static_cast<double>(settings[SettingKey::HoldingPermilleAYear]) / 1000.0;
    costs.mostCases = std::max<std::int64_t>(
        1, static_cast<std::int64_t>(line.meanPerDay * mostDays /
                                     static_cast<double>(line.pack.eachesPerCase.count())));
    line.economic = economicOrder(*offer_, costs);
}

void ItemReview::setLevel(ReorderLine &line) {
    const forecast::Pmf demand = demandToCover();
    line.servicePermille = servicePermilleOf(item_, agency_.snapshot().settings);
    line.orderUpTo = Eaches::of(demand.quantile(static_cast<double>(line.servicePermille) / 1000.0));
    line.demandMean = demand.mean();
    line.fromReferrals = fromReferrals();
    line.meanPerDay = model_.meanOver(item_.id, Days::of(kRateDays)) / static_cast<double>(kRateDays);
    line.exactNeed = std::max(Eaches{}, line.orderUpTo - line.position);
}

void ItemReview::setArrival(ReorderLine &line) const {
    line.expectedOn = arrivalIfSent(terms_.supplier, agency_.snapshot().now, terms_.lead);
    if (offer_ && isBackordered(*offer_, today_))
        line.expectedOn = std::max(line.expectedOn, *offer_->backorderedUntil);
}

double ItemReview::chanceShortBefore(const ReorderLine &line) {
    double chance = 0;
    for (std::size_t lead = 0; lead < terms_.leadChances.size(); ++lead) {
        const std::int64_t days = daysToArrival(lead);
        const Eaches there =
            line.storeroom - line.promised - line.expiring + arriving(today_, today_.plusDays(days + 1));
        chance += terms_.leadChances[lead] * demandOver(days).total.above(there.count());
    }
    return std::min(chance, 1.0);
}

} // namespace kitround::supply
