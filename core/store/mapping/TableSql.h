#pragma once
// The statements of one record's table and of its lists, made once from its Mapping.
#include "core/store/mapping/Visitors.h"

#include <QString>

#include <vector>

namespace kitround::store {

struct ListSql {
    QString table;
    QString owner; // the column that names the owner
    std::vector<QString> columns;
    QString insert;    // owner, position, columns
    QString removeAll; // of one owner
    QString selectOf;  // columns of one owner, in order
    QString select;    // owner, columns; a WHERE is to follow
};
struct TableSql {
    QString table;
    std::vector<QString> columns;
    bool isVersioned = false;
    QString insert;   // columns; the row version is 1
    QString update;   // columns, id
    QString remove;   // id
    QString select;   // id, columns, row_version where there is one; a WHERE may follow
    QString selectOf; // one id
    std::vector<ListSql> lists;
};
TableSql makeTableSql(const QString &table, std::vector<QString> columns, bool isVersioned,
                      std::vector<ListNames> lists);

template <class R>
inline constexpr bool kIsVersioned = requires(R r) {
    r.rowVersion;
};

template <class R>
const TableSql &tableSql() {
    static const TableSql made = [] {
        R example{};
        NameVisitor fields;
        Mapping<R>::columns(fields, example);
        ListNameVisitor lists;
        Mapping<R>::lists(lists, example);
        return makeTableSql(QString::fromLatin1(Mapping<R>::table), std::move(fields.names), kIsVersioned<R>,
                            std::move(lists.found));
    }();
    return made;
}

} // namespace kitround::store
