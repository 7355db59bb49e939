#include "core/supply/Budget.h"

#include <algorithm>
#include <cmath>

namespace kitround::supply {
namespace {

Money receivedOf(const PurchaseOrder &order) {
    Money sum;
    for (const PurchaseLine &line : order.lines)
        sum += Money::of(std::llround(static_cast<double>(line.received.count() * line.perCase.count()) /
                                      static_cast<double>(line.pack.eachesPerCase.count())));
    return sum;
}

} // namespace

Money totalOf(const PurchaseOrder &order) {
    Money sum;
    for (const PurchaseLine &line : order.lines)
        sum += line.perCase * line.cases.count();
    return sum;
}

Money BudgetState::overBy(Money more) const {
    return budget.isZero() ? Money{} : std::max(Money{}, ordered + more - budget);
}

BudgetState budgetOf(const SnapshotIndex &agency, Date day) {
    BudgetState state;
    state.month = monthOf(day);
    state.budget = Money::of(agency.snapshot().settings[SettingKey::SupplyBudgetMinor]);
    for (const PurchaseOrder &order : agency.snapshot().purchaseOrders)
        if (order.orderedOn && monthOf(*order.orderedOn) == state.month)
            state.ordered += order.status == PurchaseStatus::Cancelled ? receivedOf(order) : totalOf(order);
    return state;
}

} // namespace kitround::supply
