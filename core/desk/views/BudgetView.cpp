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
    const Money drafts = draftsTotal(agency);
    const Money over = state.overBy(drafts + proposed);
    const QString waiting = drafts.isZero() ? QString() : Text::tr(" drafts %1,").arg(money(drafts));
    const QString start =
        Text::tr("Budget of %1: %2; ordered %3,%4 proposed %5: ")
            .arg(monthText(state.month), money(state.budget), money(state.ordered), waiting, money(proposed));
    return start + (over.isZero()
                        ? Text::tr("%1 left.").arg(money(state.budget - state.ordered - drafts - proposed))
                        : Text::tr("%1 over, somebody has to approve it by name.").arg(money(over)));
}

} // namespace kitround::desk
