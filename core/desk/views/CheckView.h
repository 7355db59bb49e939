#pragma once
// What a check of the file found, as a table.
#include "core/base/Problem.h"
#include "core/desk/Table.h"

namespace kitround::desk {

// Stock below zero by the ledger happens in life (a delivery nobody wrote down): shown as a remark, no fault.
bool isRemark(const Problem &found);
bool hasFault(const Problems &found);
Table checkTable(const Problems &found);

} // namespace kitround::desk
