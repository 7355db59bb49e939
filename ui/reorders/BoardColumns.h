#pragma once
// The columns of the shortage board and of the suppliers' list.
#include "core/desk/views/SupplyBoards.h"
#include "ui/shared/RowsModel.h"

namespace kitround::ui {

class Session;

std::vector<RowsColumn<desk::ShortageRow>> shortageColumns();
std::vector<RowsColumn<desk::SupplierRow>> supplierColumns(Session &session); // for the currency

} // namespace kitround::ui
