#pragma once
// Records out of the file: one pass over the table, one over each list, merged by id; never a query a row.
#include "core/store/Connection.h"
#include "core/store/Problems.h"
#include "core/store/mapping/TableSql.h"

#include <algorithm>
#include <stop_token>

namespace kitround::store {

inline Problem unreadable(const QString &table, std::int64_t id, const char *column) {
    return problem(ProblemCode::FileCorrupt, table.toStdString(), {column, std::to_string(id)});
}

template <class R>
std::optional<Problem> takeRow(const QSqlQuery &row, R &record) {
    TakeVisitor fields{row, 1};
    record.id = decltype(record.id)(row.value(0).toLongLong());
    Mapping<R>::columns(fields, record);
    if constexpr (kIsVersioned<R>)
        fields("row_version", record.rowVersion);
    if (fields.bad)
        return unreadable(tableSql<R>().table, record.id.value(), fields.bad);
    return std::nullopt;
}

// Asked of the stop token every so many rows.
inline constexpr std::size_t kRowsBetweenStops = 4096;

template <class R>
Result<void> readLists(Connection &connection, std::vector<R> &records, const std::stop_token &stop) {
    const TableSql &sql = tableSql<R>();
    const qlonglong first = records.front().id.value(), last = records.back().id.value();
    for (std::size_t which = 0; which < sql.lists.size(); ++which) {
        const ListSql &list = sql.lists[which];
        std::optional<Problem> failure;
        auto owner = records.begin();
        std::size_t rows = 0;
        const auto read = connection.each(
            list.select + QStringLiteral(" WHERE %1 BETWEEN ? AND ? ORDER BY %1, position").arg(list.owner),
            {first, last}, [&](const QSqlQuery &row) {
                const std::int64_t id = row.value(0).toLongLong();
                while (owner->id.value() < id) // ends: the last owner's id is not below any
                    ++owner;
                if (owner->id.value() != id)
                    return true; // an owner that was not asked for
                TakeListVisitor visitor{{row, 1}, which};
                Mapping<R>::lists(visitor, *owner);
                if (visitor.fields.bad)
                    failure = unreadable(list.table, id, visitor.fields.bad);
                if (++rows % kRowsBetweenStops == 0 && stop.stop_requested())
                    failure = problem(ProblemCode::Cancelled, "load");
                return !failure;
            });
        if (failure)
            return *failure;
        if (!read)
            return read;
    }
    return {};
}

// `where` is "" or what follows the select ("WHERE at >= ?"); the records come by id.
template <class R>
Result<std::vector<R>> readRecords(Connection &connection, const QString &where, const QVariantList &values,
                                   const std::stop_token &stop) {
    std::vector<R> records;
    std::optional<Problem> failure;
    const auto read =
        connection.each(tableSql<R>().select + QLatin1Char(' ') + where, values, [&](const QSqlQuery &row) {
            failure = takeRow(row, records.emplace_back());
            if (records.size() % kRowsBetweenStops == 0 && stop.stop_requested())
                failure = problem(ProblemCode::Cancelled, "load");
            return !failure;
        });
    if (failure)
        return *failure;
    if (!read)
        return read.error();
    const auto byId = [](const R &a, const R &b) { return a.id < b.id; };
    if (!std::is_sorted(records.begin(), records.end(), byId))
        std::sort(records.begin(), records.end(), byId);
    if (records.empty())
        return records;
    if (auto lists = readLists(connection, records, stop); !lists)
        return lists.error();
    return records;
}

} // namespace kitround::store
