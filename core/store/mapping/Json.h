#pragma once
// A row as JSON for the audit: {"column": value, ..., "list_table": [{...}, ...]}, in the order of the
// schema, so that the same row always gives the same text.
#include "core/store/mapping/TableSql.h"

#include <QByteArray>

namespace kitround::store {

QByteArray jsonOf(const TableSql &table, const RowImage &image);
QByteArray jsonText(const QString &text); // quoted and escaped

} // namespace kitround::store
