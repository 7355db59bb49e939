#include "core/supply/Reorders.h"

#include "core/supply/ItemReview.h"
#include "core/supply/OpenOrders.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr double kMostTopUpDays = 60;
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

class ReorderReview {
public:
    ReorderReview(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts)
        : agency_(agency), model_(agency, forecasts), positions_(positionsOf(agency)), terms_(agency) {}

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
    ItemPlan planFor(const Item &item) {
        const auto offers = offersFor(agency_, item.id);
        const SupplierItem *offer = offers.empty() ? nullptr : offers.front();
        const Terms &terms = terms_.of(offer ? offer->supplier : SupplierId{});
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
        const Terms &terms = terms_.of(id);
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
    TermsBook terms_;
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
