#pragma once
// Writing one row and its lists, whatever the record.
#include "core/store/Connection.h"
#include "core/store/mapping/TableSql.h"

namespace kitround::store {

struct StoredRow {
    RowImage image;
    std::int64_t rowVersion = 0;
};

// Nothing where there is no such row.
Result<std::optional<StoredRow>> readRow(Connection &connection, const TableSql &sql, std::int64_t id);
// Gives the new id.
Result<std::int64_t> insertRow(Connection &connection, const TableSql &sql, const RowImage &image);
// Lists that did not change are left alone.
Result<void> updateRow(Connection &connection, const TableSql &sql, std::int64_t id, const RowImage &before,
                       const RowImage &after);
Result<void> removeRow(Connection &connection, const TableSql &sql, std::int64_t id);

// What a refused insert or update means for the person: a taken code (Duplicate), a row that is not there
// (UnknownRecord), a lot of another item (Conflict); else the problem as the driver gave it. Call right after
// it.
Problem explainRefusal(Connection &connection, const Problem &given, const TableSql &sql,
                       const RowImage &image, const std::vector<Reference> &references);

} // namespace kitround::store
