#pragma once
// One SQLite connection through Qt SQL: every statement of the store passes here, so that failures become
// Problems in one place, statements are prepared once, and a test can make the Nth one fail. Belongs to one
// thread.
#include "core/base/Result.h"
#include "core/store/HeldFiles.h"

#include <QSqlDatabase>
#include <QSqlError>
#include <QSqlQuery>
#include <QString>
#include <QVariantList>

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <unordered_map>

namespace kitround::store {

// The driver's words as a Problem: locked, full, corrupt, read-only; StoreFailed for the rest, with
// args {purpose, driver's words}.
Problem problemOf(const QSqlError &error, const QString &purpose);
// SQLite's extended result code; 0 where the driver gave none.
int sqliteCode(const QSqlError &error);

class Connection {
public:
    enum class Access : std::uint8_t {
        ReadWrite,
        ReadOnly,
        Frozen // read-only without lock or wal files: for a file on a medium nobody can write
    };
    // The file must exist; SQLite is not allowed to make one. Sets every pragma and reads it back.
    using Fault = std::function<std::optional<Problem>(const QString &sql)>;
    static Result<std::unique_ptr<Connection>> open(const std::string &path, Access access, Fault fault = {});
    ~Connection();
    Connection(const Connection &) = delete;
    Connection &operator=(const Connection &) = delete;

    // A statement without rows. After a failure lastError() has the driver's own.
    Result<void> run(const QString &sql, const QVariantList &values = {});
    // Each row to `row`, in order, until it gives false.
    Result<void> each(const QString &sql, const QVariantList &values,
                      const std::function<bool(const QSqlQuery &)> &row);
    // The first column of the first row; invalid where there is no row.
    Result<QVariant> single(const QString &sql, const QVariantList &values = {});

    std::int64_t lastInsertId() const { return lastInsertId_; }
    std::int64_t rowsChanged() const { return rowsChanged_; }
    const QSqlError &lastError() const { return lastError_; }

    // Prepared statements hold locks on the schema; dropped before a migration or a copy.
    void forgetStatements() { statements_.clear(); }

    // A fault is called before each statement; what it returns is the statement's failure. For tests.
    void setFault(Fault fault) { fault_ = std::move(fault); }

private:
    Connection(QString name, const std::string &path) : held_(path), name_(std::move(name)) {}
    Result<void> setPragmas(Access access);
    Result<QSqlQuery *> start(const QString &sql, const QVariantList &values);
    Problem failed(const QSqlError &error, const QString &sql);

    HeldFile held_; // outlives the driver's connection
    QString name_;
    QSqlDatabase database_;
    std::unordered_map<QString, std::unique_ptr<QSqlQuery>> statements_;
    Fault fault_;
    QSqlError lastError_;
    std::int64_t lastInsertId_ = 0;
    std::int64_t rowsChanged_ = 0;
};

} // namespace kitround::store
