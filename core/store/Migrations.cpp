#include "core/store/Migrations.h"

#include "core/base/Require.h"
#include "core/store/Problems.h"
#include "core/store/SqlScript.h"
#include "core/store/Transaction.h"

#include <QFile>

// Asks for the resource by name: a static library's resources are otherwise left out by the linker.
static void initResources() {
    Q_INIT_RESOURCE(migrations);
}

namespace kitround::store {
namespace {

Migration fromResource(int version, const QString &name) {
    QFile file(QStringLiteral(":/kitround/migrations/") + name);
    KITROUND_REQUIRE(file.open(QIODevice::ReadOnly));
    return {version, QString::fromUtf8(file.readAll())};
}

Result<void> checkForeignKeys(Connection &connection) {
    const auto fault = connection.single(QStringLiteral("PRAGMA foreign_key_check"));
    if (!fault)
        return fault.error();
    if (fault->isValid())
        return problem(ProblemCode::FileCorrupt, fault->toString().toStdString(), {"foreign key"});
    return {};
}

Result<void> apply(Connection &connection, const Migration &migration) {
    auto transaction = Transaction::begin(connection, Transaction::Kind::Write);
    if (!transaction)
        return transaction.error();
    const auto standing = versionOf(connection);
    if (!standing)
        return standing.error();
    if (*standing >= migration.version)
        return {}; // another seat was faster
    for (const QString &statement : statementsOf(migration.sql))
        if (auto done = connection.run(statement); !done)
            return done;
    if (auto checked = checkForeignKeys(connection); !checked)
        return checked;
    if (auto set = connection.run(QStringLiteral("PRAGMA user_version = %1").arg(migration.version)); !set)
        return set;
    return transaction->commit();
}

// A pragma that does nothing inside a transaction; so it is set outside and read back.
Result<void> setForeignKeys(Connection &connection, bool on) {
    if (auto set = connection.run(QStringLiteral("PRAGMA foreign_keys = %1").arg(on ? 1 : 0)); !set)
        return set;
    const auto read = connection.single(QStringLiteral("PRAGMA foreign_keys"));
    if (!read)
        return read.error();
    if (read->toBool() != on)
        return problem(ProblemCode::StoreFailed, "file", {"foreign_keys", read->toString().toStdString()});
    return {};
}

} // namespace

std::span<const Migration> builtInMigrations() {
    static const std::vector<Migration> migrations = [] {
        initResources();
        return std::vector<Migration>{fromResource(1, QStringLiteral("0001_agency.sql")),
                                      fromResource(2, QStringLiteral("0002_supply_records.sql")),
                                      fromResource(3, QStringLiteral("0003_month.sql")),
                                      fromResource(4, QStringLiteral("0004_team.sql")),
                                      fromResource(5, QStringLiteral("0005_plan.sql")),
                                      fromResource(6, QStringLiteral("0006_people.sql")),
                                      fromResource(7, QStringLiteral("0007_patient_told.sql")),
                                      fromResource(8, QStringLiteral("0008_answers.sql")),
                                      fromResource(9, QStringLiteral("0009_incidents.sql")),
                                      fromResource(10, QStringLiteral("0010_told_taken_back.sql")),
                                      fromResource(11, QStringLiteral("0011_decision_notes.sql")),
                                      fromResource(12, QStringLiteral("0012_nurse_told_taken_back.sql")),
                                      fromResource(13, QStringLiteral("0013_arrived_short.sql"))};
    }();
    return migrations;
}

Result<int> versionOf(Connection &connection) {
    const auto version = connection.single(QStringLiteral("PRAGMA user_version"));
    if (!version)
        return version.error();
    return version->toInt();
}

Result<void> migrate(Connection &connection, int from, std::span<const Migration> migrations) {
    // A migration may rebuild a table that others point at.
    if (auto off = setForeignKeys(connection, false); !off)
        return off;
    Result<void> done;
    for (const Migration &migration : migrations) {
        if (migration.version <= from)
            continue;
        connection.forgetStatements();
        done = apply(connection, migration);
        if (!done)
            break;
    }
    connection.forgetStatements();
    const auto on = setForeignKeys(connection, true);
    return done ? on : done;
}

} // namespace kitround::store
