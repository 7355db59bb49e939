#pragma once
// Productivity and cost as tables, for the load page, its CSV copies and its paper.
#include "core/caseload/WorkCost.h"
#include "core/desk/Desk.h"
#include "core/desk/Table.h"

#include <vector>

namespace kitround::desk {

// Whole weeks before the one of today. 1 to 13.
DateRange wholeWeeksBack(const Agency &agency, int weeks);
// What the work cost, each with its sum as the last row.
Table nurseCostTable(const caseload::Productivity &work, const Agency &agency);
Table areaCostTable(const caseload::Productivity &work, const Agency &agency);
Table nurseWorkTable(const caseload::Productivity &work, const Agency &agency);
Table areaWorkTable(const caseload::Productivity &work, const Agency &agency);
Table kindWorkTable(const caseload::Productivity &work, const Agency &agency);
Table supplyCostTable(const caseload::Productivity &work, const Agency &agency);
// The six, in this order.
std::vector<Table> workTables(const caseload::Productivity &work, const Agency &agency);

} // namespace kitround::desk
