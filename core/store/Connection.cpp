#include "core/store/Connection.h"

#include "core/store/Problems.h"

#include <QUrl>

#include <atomic>

namespace kitround::store {
namespace {

constexpr int kBusyMilliseconds = 2000;

QString freshName() {
    static std::atomic<std::uint64_t> made = 0;
    return QStringLiteral("kitround-%1").arg(++made);
}

struct Pragma {
    QString name;
    QVariant value;
};

std::vector<Pragma> pragmasFor(Connection::Access access) {
    std::vector<Pragma> pragmas = {
        {QStringLiteral("foreign_keys"), 1},
        {QStringLiteral("trusted_schema"), 0},
        {QStringLiteral("cell_size_check"), 1},
        {QStringLiteral("temp_store"), 2},      // in memory: no names of patients in temporary files
        {QStringLiteral("cache_size"), -65536}, // KiB
        {QStringLiteral("busy_timeout"), kBusyMilliseconds},
    };
    if (access == Connection::Access::ReadWrite) {
        pragmas.push_back({QStringLiteral("journal_mode"), QStringLiteral("wal")});
        pragmas.push_back({QStringLiteral("synchronous"), 2}); // FULL: what was saved outlives a power cut
        pragmas.push_back({QStringLiteral("secure_delete"), 1});
    }
    return pragmas;
}

} // namespace

int sqliteCode(const QSqlError &error) {
    return error.nativeErrorCode().toInt();
}

Problem problemOf(const QSqlError &error, const QString &purpose) {
    const std::string words = error.text().trimmed().toStdString();
    switch (sqliteCode(error) & 0xff) {
    case 5: // SQLITE_BUSY
    case 6: // SQLITE_LOCKED
        return problem(ProblemCode::FileLocked, "file", {words});
    case 8: // SQLITE_READONLY
        return problem(ProblemCode::FileReadOnly, "file", {words});
    case 9: // SQLITE_INTERRUPT
        return problem(ProblemCode::Cancelled, "file");
    case 11: // SQLITE_CORRUPT
        return problem(ProblemCode::FileCorrupt, "file", {words});
    case 13: // SQLITE_FULL
        return problem(ProblemCode::DiskFull, "file");
    case 14: // SQLITE_CANTOPEN
        return problem(ProblemCode::FileNotReadable, "file", {words});
    case 26: // SQLITE_NOTADB
        return problem(ProblemCode::FileForeign, "file", {words});
    default:
        return problem(ProblemCode::StoreFailed, "file", {purpose.left(120).toStdString(), words});
    }
}

Result<std::unique_ptr<Connection>> Connection::open(const std::string &path, Access access, Fault fault) {
    std::unique_ptr<Connection> made(new Connection(freshName(), path));
    made->fault_ = std::move(fault);
    QSqlDatabase database = QSqlDatabase::addDatabase(QStringLiteral("QSQLITE"), made->name_);
    QString name = QString::fromStdString(path);
    QString options = QStringLiteral("QSQLITE_BUSY_TIMEOUT=%1").arg(kBusyMilliseconds);
    if (access != Access::ReadWrite)
        options += QStringLiteral(";QSQLITE_OPEN_READONLY");
    if (access == Access::Frozen) {
        options += QStringLiteral(";QSQLITE_OPEN_URI");
        name = QUrl::fromLocalFile(name).toString(QUrl::FullyEncoded) + QStringLiteral("?immutable=1");
    }
    database.setConnectOptions(options);
    database.setDatabaseName(name);
    const bool isOpen = database.open();
    made->database_ = std::move(database);
    if (!isOpen)
        return problemOf(made->database_.lastError(), QStringLiteral("open"));
    if (auto set = made->setPragmas(access); !set)
        return set.error();
    made->forgetStatements();
    return made;
}

Connection::~Connection() {
    // The driver keeps a connection alive while a query or a handle to it stands.
    statements_.clear();
    database_.close();
    database_ = QSqlDatabase();
    QSqlDatabase::removeDatabase(name_);
}

Result<void> Connection::setPragmas(Access access) {
    for (const Pragma &pragma : pragmasFor(access)) {
        if (auto set = single(QStringLiteral("PRAGMA %1 = %2").arg(pragma.name, pragma.value.toString()));
            !set)
            return set.error();
        const auto read = single(QStringLiteral("PRAGMA %1").arg(pragma.name));
        if (!read)
            return read.error();
        if (read->toString() != pragma.value.toString())
            return problem(ProblemCode::StoreFailed, "file",
                           {pragma.name.toStdString(), read->toString().toStdString()});
    }
    return {};
}

Problem Connection::failed(const QSqlError &error, const QString &sql) {
    lastError_ = error;
    return problemOf(error, sql);
}

Result<QSqlQuery *> Connection::start(const QString &sql, const QVariantList &values) {
    lastError_ = {};
    if (fault_)
        if (std::optional<Problem> fault = fault_(sql))
            return *fault;
    std::unique_ptr<QSqlQuery> &query = statements_[sql];
    if (!query) {
        auto fresh = std::make_unique<QSqlQuery>(database_);
        fresh->setForwardOnly(true);
        if (!fresh->prepare(sql)) {
            Problem why = failed(fresh->lastError(), sql);
            statements_.erase(sql);
            return why;
        }
        query = std::move(fresh);
    }
    for (qsizetype i = 0; i < values.size(); ++i)
        query->bindValue(static_cast<int>(i), values[i]);
    if (!query->exec()) {
        Problem why = failed(query->lastError(), sql);
        query->finish();
        return why;
    }
    return query.get();
}

Result<void> Connection::run(const QString &sql, const QVariantList &values) {
    const auto query = start(sql, values);
    if (!query)
        return query.error();
    lastInsertId_ = (*query)->lastInsertId().toLongLong();
    rowsChanged_ = (*query)->numRowsAffected();
    (*query)->finish();
    return {};
}

Result<void> Connection::each(const QString &sql, const QVariantList &values,
                              const std::function<bool(const QSqlQuery &)> &row) {
    const auto started = start(sql, values);
    if (!started)
        return started.error();
    QSqlQuery &query = **started;
    bool goesOn = true;
    while (goesOn && query.next())
        goesOn = row(query);
    const QSqlError error = query.lastError();
    query.finish();
    if (goesOn && error.isValid())
        return failed(error, sql);
    return {};
}

Result<QVariant> Connection::single(const QString &sql, const QVariantList &values) {
    QVariant value;
    if (auto read = each(sql, values, [&](const QSqlQuery &row) { return value = row.value(0), false; });
        !read)
        return read.error();
    return value;
}

} // namespace kitround::store
