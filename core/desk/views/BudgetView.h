#pragma once
// The month's budget for supplies beside what was ordered and what a list proposes.
#include "core/desk/Desk.h"
#include "core/supply/Budget.h"

#include <QString>

namespace kitround::desk {

// "Budget of Nov 2026: 5,000.00; ordered 3,200.00, drafts 100.00, proposed 2,000.00: 300.00 over, somebody
// has to approve it." Empty where no budget is set. `proposed`: beside the drafts, which are counted here.
QString budgetText(const Agency &agency, Money proposed);
// By how much `proposed` goes beyond the budget; zero within it or without one.
Money overBudget(const Agency &agency, Money proposed);
Money draftsTotal(const Agency &agency);

} // namespace kitround::desk
