#include "core/desk/views/BudgetView.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

Money overBudget(const Agency &agency, Money proposed) {
    return supply::budgetOf(agency.index(), agency.today()).overBy(proposed);
}

Money draftsTotal(const Agency &agency) {
    Money sum;
    for (const PurchaseOrder &order : agency.snapshot().purchaseOrders)
        if (order.status == PurchaseStatus::Draft)
            sum += supply::totalOf(order);
    return sum;
}

QString budgetText(const Agency &agency, Money proposed) {
    const supply::BudgetState state = supply::budgetOf(agency.index(), agency.today());
    if (state.budget.isZero())
        return {};
    const auto money = [&](Money amount) { return moneyText(amount, agency.settings().currency); };
    const Money over = state.overBy(proposed);
    const QString start =
        Text::tr("Budget of %1: %2; ordered %3, proposed %4: ")
            .arg(monthText(state.month), money(state.budget), money(state.ordered), money(proposed));
    return start + (over.isZero()
                        ? Text::tr("%1 left.").arg(money(state.budget - state.ordered - proposed))
                        : Text::tr("%1 over, somebody has to approve it by name.").arg(money(over)));
}

} // namespace kitround::desk
