#pragma once
#include "core/caseload/Load.h"
#include "core/desk/Table.h"
#include "core/desk/views/WeekView.h"

namespace kitround::desk {

caseload::LoadReview loadReview(const WeekPicture &week);
caseload::LoadReview loadReview(const WeekPicture &week, DateRange days); // one week of several
Table loadTable(const WeekPicture &week, const caseload::LoadReview &review);
Table continuityTable(const WeekPicture &week, const caseload::LoadReview &review);

} // namespace kitround::desk
