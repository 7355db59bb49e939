#pragma once
// Where the tables go: standard output or files, in one of three formats.
#include "app/headless/Arguments.h"
#include "core/base/Result.h"
#include "core/desk/Table.h"

#include <vector>

namespace kitround::headless {

// Problems: FileReadOnly, DiskFull with the file, or standard output, as field. A file is complete or not
// there.
Result<void> writeTables(const std::vector<desk::Table> &tables, const Arguments &arguments,
                         const QString &asOf);
Result<void> writeText(const QString &text); // to standard output
void complain(const QString &line);          // to standard error

} // namespace kitround::headless
