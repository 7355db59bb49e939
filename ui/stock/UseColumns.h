#pragma once
// The columns of "Use against order".
#include "core/desk/views/SupplyBoards.h"
#include "ui/shared/RowsModel.h"

namespace kitround::ui {

std::vector<RowsColumn<desk::UseRow>> useColumns();

} // namespace kitround::ui
