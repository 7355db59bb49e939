#include "core/store/mapping/TableSql.h"

#include <QStringList>

namespace kitround::store {
namespace {

QString joinedNames(const std::vector<QString> &names) {
    return QStringList(names.begin(), names.end()).join(QStringLiteral(", "));
}

QString marks(std::size_t count) {
    return QStringList(static_cast<qsizetype>(count), QStringLiteral("?")).join(QStringLiteral(", "));
}

ListSql makeListSql(const QString &ownerTable, ListNames names) {
    ListSql list;
    list.table = std::move(names.table);
    list.owner = ownerTable + QStringLiteral("_id");
    list.columns = std::move(names.columns);
    const QString columns = joinedNames(list.columns);
    list.insert = QStringLiteral("INSERT INTO %1 (%2, position, %3) VALUES (%4)")
                      .arg(list.table, list.owner, columns, marks(list.columns.size() + 2));
    list.removeAll = QStringLiteral("DELETE FROM %1 WHERE %2 = ?").arg(list.table, list.owner);
    list.selectOf = QStringLiteral("SELECT %1 FROM %2 WHERE %3 = ? ORDER BY position")
                        .arg(columns, list.table, list.owner);
    list.select = QStringLiteral("SELECT %1, %2 FROM %3").arg(list.owner, columns, list.table);
    return list;
}

} // namespace

TableSql makeTableSql(const QString &table, std::vector<QString> columns, bool isVersioned,
                      std::vector<ListNames> lists) {
    TableSql made;
    made.table = table;
    made.isVersioned = isVersioned;
    const QString names = joinedNames(columns);
    const QString version = isVersioned ? QStringLiteral(", row_version") : QString();
    made.insert = QStringLiteral("INSERT INTO %1 (%2%3) VALUES (%4%5)")
                      .arg(table, names, version, marks(columns.size()),
                           isVersioned ? QStringLiteral(", 1") : QString());
    QStringList sets;
    for (const QString &column : columns)
        sets.push_back(column + QStringLiteral(" = ?"));
    if (isVersioned)
        sets.push_back(QStringLiteral("row_version = row_version + 1"));
    made.update = QStringLiteral("UPDATE %1 SET %2 WHERE id = ?").arg(table, sets.join(QStringLiteral(", ")));
    made.remove = QStringLiteral("DELETE FROM %1 WHERE id = ?").arg(table);
    made.select = QStringLiteral("SELECT id, %1%2 FROM %3").arg(names, version, table);
    made.selectOf = made.select + QStringLiteral(" WHERE id = ?");
    for (ListNames &list : lists)
        made.lists.push_back(makeListSql(table, std::move(list)));
    made.columns = std::move(columns);
    return made;
}

} // namespace kitround::store
