#pragma once
// One item looked at before an order: where it stands, what will be asked of it until the next order could
// come, and what that makes to order. Shared by the reorder list and the look at other service levels; the
// formulas stand in Reorders.h.
#include "core/supply/Ledger.h"
#include "core/supply/OpenOrders.h"
#include "core/supply/OrderTerms.h"
#include "core/supply/Reorders.h"

#include <map>

namespace kitround::supply {

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

// The terms of every supplier, worked out once each. Borrows the agency.
class TermsBook {
public:
    explicit TermsBook(const SnapshotIndex &agency) : agency_(agency) {}
    const Terms &of(SupplierId id); // an id that is not set: nobody sells it

private:
    const SnapshotIndex &agency_;
    std::map<SupplierId, Terms> terms_;
};

// Borrows everything it is given.
class ItemReview {
public:
    ItemReview(const SnapshotIndex &agency, const StoreroomModel &model, const Item &item,
               const Position &position, const Terms &terms, const SupplierItem *offer);

    ItemPlan plan();
    // Demand from now until the order after this one could be here: a mixture over the lead time.
    forecast::Pmf demandToCover();
    forecast::Pmf demandToArrival(); // until this order could be, likewise

private:
    // Days until an order placed at the order day is here, if it takes `lead` days; a backorder comes no
    // sooner than the supplier says.
    std::int64_t daysToArrival(std::size_t lead) const;
    forecast::Pmf demandPast(std::int64_t days); // the arrival of this order
    void setEconomic(ReorderLine &line) const;
    const ItemDemand &demandOver(std::int64_t days);
    double fromReferrals(); // part of the mean of demandToCover()
    Eaches arriving(Date from, Date before) const;
    void setPosition(ReorderLine &line);
    std::vector<std::pair<Date, Eaches>> lotsEndingBefore(Date end) const;
    Eaches expectedToExpire(Date end) const;
    void setLevel(ReorderLine &line);
    void setArrival(ReorderLine &line) const;
    double chanceShortBefore(const ReorderLine &line);

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
    std::map<std::int64_t, ItemDemand> demand_;
};

} // namespace kitround::supply
