#pragma once
// The month's money for supplies: what was ordered in the month against the agency's budget.
#include "core/records/Snapshot.h"

namespace kitround::supply {

struct BudgetState {
    Date month;    // its first day
    Money budget;  // 0: none is set, and nothing is ever over it
    Money ordered; // orders sent in the month; of a cancelled one what came
    // How far `more` would go beyond the budget; zero where it stays within, or where none is set.
    Money overBy(Money more) const;
};
BudgetState budgetOf(const SnapshotIndex &agency, Date day);
Money totalOf(const PurchaseOrder &order);

} // namespace kitround::supply
