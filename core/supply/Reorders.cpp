#include "core/supply/Reorders.h"

#include "core/supply/Ledger.h"
#include "core/supply/Lots.h"
#include "core/supply/OpenOrders.h"
#include "core/supply/OrderTerms.h"
#include "core/supply/Outdates.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr double kMostTopUpDays = 60;
constexpr double kOverstockDays = 90;
constexpr std::int64_t kRateDays = 28;

// When an order to one supplier would go out and come.
struct Terms {
    const Supplier *supplier = nullptr; // none: nobody sells it
    LeadTime lead;
    std::vector<double> leadChances;
    OrderDay day;
};

struct ItemPlan {
    const SupplierItem *offer = nullptr;
    ReorderLine line;
};

double daysOf(Eaches stock, double perDay) {
    return perDay > 0 ? static_cast<double>(stock.count()) / perDay : 0;
}

Eaches ordered(const ReorderLine &line) {
    return toEaches(line.cases, line.pack);
}

void priceLine(ItemPlan &plan) {
    plan.line.perCase = plan.offer ? priceFor(*plan.offer, plan.line.cases) : Money{};
    plan.line.lineTotal = plan.line.perCase * plan.line.cases.count();
}

class ItemReview {
public:
    ItemReview(const SnapshotIndex &agency, const StoreroomModel &model, const Item &item,
               const Position &position, const Terms &terms, const SupplierItem *offer)
        : agency_(agency), model_(model), item_(item), position_(position), terms_(terms), offer_(offer),
          today_(agency.snapshot().asOf), wait_((terms.day.on - today_).count()),
          review_(agency.snapshot().settings[SettingKey::ReviewDays]) {
        for (const OpenLine &open : openLines(agency))
            if (open.item == item.id)
                open_.push_back(open);
    }

    ItemPlan plan() {
        ItemPlan plan;
        plan.offer = offer_;
        ReorderLine &line = plan.line;
        line.item = item_.id;
        line.supplier = terms_.supplier ? terms_.supplier->id : SupplierId{};
        line.pack = offer_ ? offer_->pack : item_.casePack;
        setPosition(line);
        setLevel(line);
        setArrival(line);
        line.chanceShortBefore = chanceShortBefore(line);
        line.cases = casesToOrder({line.position, line.orderUpTo - Eaches::of(1), line.orderUpTo, line.pack,
                                   offer_ ? offer_->leastLine : Cases::of(1)});
        return plan;
    }

private:
    // Days until an order placed at the order day is here, if it takes `lead` days; a backorder comes no
    // sooner than the supplier says.
    std::int64_t daysToArrival(std::size_t lead) const {
        std::int64_t days = wait_ + static_cast<std::int64_t>(lead);
        if (offer_ && isBackordered(*offer_, today_))
            days = std::max(days, (*offer_->backorderedUntil - today_).count());
        return days;
    }

    const forecast::Pmf &demandOver(std::int64_t days) {
        auto found = demand_.find(days);
        if (found == demand_.end())
            found = demand_.emplace(days, model_.demand(item_.id, Days::of(days)).total).first;
        return found->second;
    }

    Eaches arriving(Date from, Date before) const {
        Eaches sum;
        for (const OpenLine &open : open_)
            if (open.expectedOn >= from && open.expectedOn < before)
                sum += open.quantity;
        return sum;
    }

    void setPosition(ReorderLine &line) {
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

    std::vector<std::pair<Date, Eaches>> lotsEndingBefore(Date end) const {
        std::vector<std::pair<Date, Eaches>> lots;
        for (const StockBalance &row : agency_.balancesAt(Place::storeroom()))
            if (row.item == item_.id && row.lot && row.quantity.count() > 0 &&
                isUsable(agency_, *row.lot, today_))
                if (const auto expiry = agency_.lot(*row.lot)->expiresOn; expiry && *expiry < end)
                    lots.push_back({*expiry, row.quantity});
        std::ranges::stable_sort(lots);
        return lots;
    }

    // Demand between two days, as if days were independent, with the spread of the whole time shared out by
    // mean.
    forecast::Pmf demandBetween(std::int64_t from, std::int64_t to, double ratio) const {
        const double mean = std::max(0.0, model_.meanOver(item_.id, Days::of(to)) -
                                              model_.meanOver(item_.id, Days::of(from)));
        const double variance = mean * ratio;
        return translatedGamma(mean, variance, mean > 0 ? 2 * variance * variance / mean : 0);
    }

    Eaches expectedToExpire(Date end) const {
        const auto lots = lotsEndingBefore(end);
        if (lots.empty())
            return {};
        const ItemDemand whole = model_.demand(item_.id, end - today_);
        const double ratio = whole.mean > 0 ? whole.variance / whole.mean : 0;
        std::vector<AgeingLot> ageing;
        std::int64_t from = 0;
        for (const auto &[expiry, quantity] : lots) {
            const std::int64_t to = (expiry - today_).count() + 1; // the last day of use still counts
            ageing.push_back({quantity, demandBetween(from, to, ratio)});
            from = to;
        }
        return Eaches::of(std::llround(expectedOutdates(ageing).total));
    }

    void setLevel(ReorderLine &line) {
        std::vector<forecast::Pmf> demand;
        double mean = 0;
        for (std::size_t lead = 0; lead < terms_.leadChances.size(); ++lead) {
            demand.push_back(demandOver(daysToArrival(lead) + review_));
            mean += terms_.leadChances[lead] * demand.back().mean();
        }
        line.servicePermille = servicePermilleOf(item_, agency_.snapshot().settings);
        line.orderUpTo = Eaches::of(
            orderUpToLevel(demand, terms_.leadChances, static_cast<double>(line.servicePermille) / 1000.0));
        line.demandMean = mean;
        line.meanPerDay = model_.meanOver(item_.id, Days::of(kRateDays)) / static_cast<double>(kRateDays);
        line.exactNeed = std::max(Eaches{}, line.orderUpTo - line.position);
    }

    void setArrival(ReorderLine &line) const {
        line.expectedOn = expectedArrival(terms_.supplier, terms_.day.on, terms_.lead.meanDays);
        if (offer_ && isBackordered(*offer_, today_))
            line.expectedOn = std::max(line.expectedOn, *offer_->backorderedUntil);
    }

    double chanceShortBefore(const ReorderLine &line) {
        double chance = 0;
        for (std::size_t lead = 0; lead < terms_.leadChances.size(); ++lead) {
            const std::int64_t days = daysToArrival(lead);
            const Eaches there =
                line.storeroom - line.promised - line.expiring + arriving(today_, today_.plusDays(days + 1));
            chance += terms_.leadChances[lead] * demandOver(days).above(there.count());
        }
        return std::min(chance, 1.0);
    }

    const SnapshotIndex &agency_;
    const StoreroomModel &model_;
    const Item &item_;
    const Position &position_;
    const Terms &terms_;
    const SupplierItem *offer_;
    Date today_;
    std::int64_t wait_ = 0;
    std::int64_t review_ = 0;
    std::vector<OpenLine> open_;
    std::map<std::int64_t, forecast::Pmf> demand_;
};

class ReorderReview {
public:
    ReorderReview(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts)
        : agency_(agency), model_(agency, forecasts), positions_(positionsOf(agency)) {}

    std::vector<SupplierReorder> list() {
        std::map<SupplierId, std::vector<ItemPlan>> bySupplier;
        for (const Item &item : agency_.snapshot().items)
            if (item.isActive) {
                ItemPlan plan = planFor(item);
                bySupplier[plan.line.supplier].push_back(std::move(plan));
            }
        std::vector<SupplierReorder> all;
        for (auto &[supplier, plans] : bySupplier)
            if (auto reorder = orderFrom(supplier, plans))
                all.push_back(std::move(*reorder));
        sortByName(all);
        return all;
    }

private:
    const Terms &termsOf(SupplierId id) {
        auto found = terms_.find(id);
        if (found != terms_.end())
            return found->second;
        Terms terms;
        terms.supplier = id.isSet() ? agency_.supplier(id) : nullptr;
        terms.lead = terms.supplier ? leadTimeOf(agency_, *terms.supplier)
                                    : usualLeadTime(agency_.snapshot().settings);
        terms.leadChances = leadTimeChances(terms.lead);
        terms.day = terms.supplier ? nextOrderDay(*terms.supplier, agency_.snapshot().now)
                                   : OrderDay{agency_.snapshot().asOf, false};
        return terms_.emplace(id, std::move(terms)).first->second;
    }

    ItemPlan planFor(const Item &item) {
        const auto offers = offersFor(agency_, item.id);
        const SupplierItem *offer = offers.empty() ? nullptr : offers.front();
        const Terms &terms = termsOf(offer ? offer->supplier : SupplierId{});
        const auto position = positions_.find(item.id);
        ItemPlan plan = ItemReview(agency_, model_, item,
                                   position == positions_.end() ? Position{} : position->second, terms, offer)
                            .plan();
        setCause(plan, offers);
        return plan;
    }

    void setCause(ItemPlan &plan, const std::vector<const SupplierItem *> &offers) const {
        const Date today = agency_.snapshot().asOf;
        if (plan.offer && isBackordered(*plan.offer, today)) {
            plan.line.backorderedUntil = plan.offer->backorderedUntil;
            return;
        }
        for (const SupplierItem *offer : offers)
            if (offer->isPreferred && isBackordered(*offer, today)) {
                plan.line.cause = ReorderCause::BackorderCover;
                plan.line.backorderedUntil = offer->backorderedUntil;
                return;
            }
        for (const OpenLine &open : openLines(agency_))
            if (open.item == plan.line.item && open.isBackordered &&
                open.expectedOn >= today + plan.line.coverDays) {
                plan.line.cause = ReorderCause::BackorderCover;
                plan.line.backorderedUntil = open.expectedOn;
                return;
            }
    }

    static Money totalOf(std::vector<ItemPlan> &plans) {
        Money total;
        for (ItemPlan &plan : plans) {
            priceLine(plan);
            total += plan.line.lineTotal;
        }
        return total;
    }

    // Of the items that may take one pack more, the one that lasts the shortest.
    ItemPlan *nextToTopUp(std::vector<ItemPlan> &plans) const {
        ItemPlan *found = nullptr;
        double fewest = 0;
        for (ItemPlan &plan : plans) {
            if (!plan.offer || plan.line.meanPerDay <= 0 ||
                isBackordered(*plan.offer, agency_.snapshot().asOf))
                continue;
            const Eaches with = plan.line.position + ordered(plan.line);
            const Cases step =
                plan.line.cases.isZero() ? std::max(plan.offer->leastLine, Cases::of(1)) : Cases::of(1);
            if (daysOf(with + toEaches(step, plan.line.pack), plan.line.meanPerDay) > kMostTopUpDays)
                continue;
            const double days = daysOf(with, plan.line.meanPerDay);
            if (!found || days < fewest) {
                found = &plan;
                fewest = days;
            }
        }
        return found;
    }

    bool topUp(std::vector<ItemPlan> &plans, Money leastOrder) const {
        std::vector<ItemPlan> trial = plans;
        while (totalOf(trial) < leastOrder) {
            ItemPlan *next = nextToTopUp(trial);
            if (!next)
                return false;
            const bool isNew = next->line.cases.isZero();
            const Cases step = isNew ? std::max(next->offer->leastLine, Cases::of(1)) : Cases::of(1);
            if (isNew)
                next->line.cause = ReorderCause::TopUpToMinimum;
            next->line.cases += step;
            next->line.toppedUp += step;
        }
        plans = std::move(trial);
        return true;
    }

    void setFlags(ItemPlan &plan, const Terms &terms) const {
        ReorderLine &line = plan.line;
        const Item &item = *agency_.item(line.item);
        line.daysAfter = daysOf(line.position + ordered(line), line.meanPerDay);
        const auto flag = [&](bool applies, ReorderFlag which) {
            if (applies)
                line.flags.push_back(which);
        };
        flag(plan.offer && isBackordered(*plan.offer, agency_.snapshot().asOf), ReorderFlag::Backordered);
        flag(terms.day.isPastCutOff, ReorderFlag::PastCutOff);
        flag(!plan.offer, ReorderFlag::NoSupplier);
        flag(line.chanceShortBefore > 1 - static_cast<double>(line.servicePermille) / 1000.0,
             ReorderFlag::ShortBeforeArrival);
        flag(line.daysAfter > kOverstockDays ||
                 (item.shelfLife && line.daysAfter > static_cast<double>(item.shelfLife->count())),
             ReorderFlag::Overstock);
    }

    std::optional<SupplierReorder> orderFrom(SupplierId id, std::vector<ItemPlan> &plans) {
        const bool needed =
            std::ranges::any_of(plans, [](const ItemPlan &p) { return !p.line.cases.isZero(); });
        if (!needed)
            return std::nullopt;
        const Terms &terms = termsOf(id);
        SupplierReorder reorder;
        reorder.supplier = id;
        reorder.orderOn = terms.day.on;
        reorder.leadTime = terms.lead;
        reorder.leastOrder = terms.supplier ? terms.supplier->leastOrder : Money{};
        reorder.meetsMinimum = totalOf(plans) >= reorder.leastOrder || topUp(plans, reorder.leastOrder);
        reorder.total = totalOf(plans);
        for (ItemPlan &plan : plans)
            if (!plan.line.cases.isZero()) {
                setFlags(plan, terms);
                reorder.lines.push_back(plan.line);
            }
        return reorder;
    }

    void sortByName(std::vector<SupplierReorder> &all) const {
        std::ranges::stable_sort(all, {}, [&](const SupplierReorder &r) {
            const Supplier *supplier = agency_.supplier(r.supplier);
            return std::tuple(supplier == nullptr, supplier ? supplier->name : std::string(), r.supplier);
        });
    }

    const SnapshotIndex &agency_;
    StoreroomModel model_;
    std::map<ItemId, Position> positions_;
    std::map<SupplierId, Terms> terms_;
};

} // namespace

std::vector<SupplierReorder> reorderList(const SnapshotIndex &agency,
                                         std::span<const forecast::ItemForecast> forecasts) {
    return ReorderReview(agency, forecasts).list();
}

std::int64_t orderUpToLevel(std::span<const forecast::Pmf> demand, std::span<const double> weights,
                            double service) {
    return forecast::Pmf::mixture(demand, weights).quantile(service);
}

std::int64_t servicePermilleOf(const Item &item, const AgencySettings &settings) {
    if (item.serviceLevelPermille)
        return *item.serviceLevelPermille;
    switch (item.stockClass) {
    case StockClass::A:
        return settings[SettingKey::ServicePermilleA];
    case StockClass::B:
        return settings[SettingKey::ServicePermilleB];
    case StockClass::C:
        return settings[SettingKey::ServicePermilleC];
    }
    return settings[SettingKey::ServicePermilleA];
}

} // namespace kitround::supply
