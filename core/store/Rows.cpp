#include "core/store/Rows.h"

#include "core/store/Problems.h"

#include <algorithm>

namespace kitround::store {
namespace {

// SQLite's extended codes, sqlite.org/rescode.html.
constexpr int kConstraintForeignKey = 787;
constexpr int kConstraintNotNull = 1299;
constexpr int kConstraintPrimaryKey = 1555;
constexpr int kConstraintTrigger = 1811;
constexpr int kConstraintUnique = 2067;

Result<void> insertList(Connection &connection, const ListSql &sql, qlonglong owner,
                        const std::vector<QVariantList> &rows) {
    for (std::size_t position = 0; position < rows.size(); ++position) {
        QVariantList values = {owner, static_cast<qlonglong>(position)};
        values += rows[position];
        if (auto done = connection.run(sql.insert, values); !done)
            return done;
    }
    return {};
}

// The driver's NULL carries a type, ours does not; they are to compare equal.
QVariant plain(QVariant value) {
    return value.isNull() ? QVariant() : value;
}

Result<std::vector<QVariantList>> readList(Connection &connection, const ListSql &sql, qlonglong owner) {
    std::vector<QVariantList> rows;
    const auto read = connection.each(sql.selectOf, {owner}, [&](const QSqlQuery &row) {
        QVariantList &values = rows.emplace_back();
        for (std::size_t i = 0; i < sql.columns.size(); ++i)
            values.push_back(plain(row.value(static_cast<int>(i))));
        return true;
    });
    if (!read)
        return read.error();
    return rows;
}

// The named column's value in the row, for the message.
std::string valueOf(const TableSql &sql, const RowImage &image, const QString &column) {
    const auto at = std::find(sql.columns.begin(), sql.columns.end(), column);
    if (at == sql.columns.end())
        return {};
    return image.values[at - sql.columns.begin()].toString().toStdString();
}

// "UNIQUE constraint failed: lot.item_id, lot.number": the last column is the one a person can change.
QString lastColumnIn(const QString &words) {
    return words.section(u'.', -1).section(u' ', 0, 0).trimmed();
}

Problem duplicate(const QString &words, const TableSql &sql, const RowImage &image) {
    const QString column = lastColumnIn(words);
    return problem(ProblemCode::Duplicate, column.toStdString(), {valueOf(sql, image, column)});
}

Problem unknownReferences(Connection &connection, const std::vector<Reference> &references) {
    Problems missing;
    for (const Reference &reference : references) {
        const auto there = connection.single(
            QStringLiteral("SELECT 1 FROM %1 WHERE id = ?").arg(QLatin1String(reference.table)),
            {static_cast<qlonglong>(reference.id)});
        if (!there)
            return there.error();
        if (!there->isValid())
            missing.push_back(problem(ProblemCode::UnknownRecord, reference.field,
                                      {reference.table, std::to_string(reference.id)}));
    }
    if (missing.empty()) // every row is there, so it is the pair of lot and item
        return problem(ProblemCode::Conflict, "lot_id", {"item"});
    return joined(std::move(missing));
}

} // namespace

Result<std::optional<StoredRow>> readRow(Connection &connection, const TableSql &sql, std::int64_t id) {
    std::optional<StoredRow> found;
    const auto read = connection.each(sql.selectOf, {qlonglong(id)}, [&](const QSqlQuery &row) {
        StoredRow &stored = found.emplace();
        const int columns = static_cast<int>(sql.columns.size());
        for (int i = 0; i < columns; ++i)
            stored.image.values.push_back(plain(row.value(i + 1)));
        if (sql.isVersioned)
            stored.rowVersion = row.value(columns + 1).toLongLong();
        return false;
    });
    if (!read)
        return read.error();
    if (!found)
        return found;
    for (const ListSql &list : sql.lists) {
        auto rows = readList(connection, list, id);
        if (!rows)
            return rows.error();
        found->image.lists.push_back(std::move(*rows));
    }
    return found;
}

Result<std::int64_t> insertRow(Connection &connection, const TableSql &sql, const RowImage &image) {
    if (auto done = connection.run(sql.insert, image.values); !done)
        return done.error();
    const std::int64_t id = connection.lastInsertId();
    for (std::size_t i = 0; i < sql.lists.size(); ++i)
        if (auto done = insertList(connection, sql.lists[i], id, image.lists[i]); !done)
            return done.error();
    return id;
}

Result<void> updateRow(Connection &connection, const TableSql &sql, std::int64_t id, const RowImage &before,
                       const RowImage &after) {
    QVariantList values = after.values;
    values.push_back(qlonglong(id));
    if (auto done = connection.run(sql.update, values); !done)
        return done;
    for (std::size_t i = 0; i < sql.lists.size(); ++i) {
        if (before.lists[i] == after.lists[i])
            continue;
        if (auto done = connection.run(sql.lists[i].removeAll, {qlonglong(id)}); !done)
            return done;
        if (auto done = insertList(connection, sql.lists[i], id, after.lists[i]); !done)
            return done;
    }
    return {};
}

Result<void> removeRow(Connection &connection, const TableSql &sql, std::int64_t id) {
    for (const ListSql &list : sql.lists)
        if (auto done = connection.run(list.removeAll, {qlonglong(id)}); !done)
            return done;
    return connection.run(sql.remove, {qlonglong(id)});
}

Problem explainRefusal(Connection &connection, const Problem &given, const TableSql &sql,
                       const RowImage &image, const std::vector<Reference> &references) {
    const QSqlError error = connection.lastError();
    const QString words = error.databaseText();
    switch (sqliteCode(error)) {
    case kConstraintForeignKey:
        return unknownReferences(connection, references);
    case kConstraintNotNull:
        return problem(ProblemCode::Missing, lastColumnIn(words).toStdString());
    case kConstraintUnique:
    case kConstraintPrimaryKey:
        return duplicate(words, sql, image);
    case kConstraintTrigger:
        if (words.contains(QLatin1String("month closed"))) {
            const auto open = connection.single(QStringLiteral(
                "SELECT date(max(month_on), '+1 month') FROM month_close WHERE is_closed = 1"));
            return problem(ProblemCode::NotAllowed, "at",
                           {"month_closed", open ? open->toString().toStdString() : std::string()});
        }
        for (const auto &[field, ref] :
             {std::pair("from_place", "from_ref"), std::pair("to_place", "to_ref")})
            if (words.contains(QLatin1String(field)))
                return problem(ProblemCode::UnknownRecord, field,
                               {"place", valueOf(sql, image, QLatin1String(ref))});
        return given;
    default:
        return given;
    }
}

} // namespace kitround::store
