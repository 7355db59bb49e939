#pragma once
// The columns of a what-if's two tables: the week and its nurses, before and after.
#include "core/desk/views/WhatIf.h"
#include "ui/shared/RowsModel.h"

#include <vector>

namespace kitround::ui {

std::vector<RowsColumn<desk::WhatIfLine>> whatIfColumns(const QString &first); // the heading of the first
std::vector<RowsColumn<desk::WhatIfLine>> whatIfNurseColumns();

} // namespace kitround::ui
