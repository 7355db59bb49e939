#include "core/store/Transaction.h"

namespace kitround::store {
namespace {

// SQLite ends the transaction by itself after some failures (disk full); then there is nothing left to roll
// back and the statement's own failure is expected.
void rollBack(Connection &connection) {
    (void)connection.run(QStringLiteral("ROLLBACK"));
}

} // namespace

Result<Transaction> Transaction::begin(Connection &connection, Kind kind) {
    const QString sql = kind == Kind::Write ? QStringLiteral("BEGIN IMMEDIATE") : QStringLiteral("BEGIN");
    auto begun = connection.run(sql);
    if (!begun && connection.lastError().databaseText().contains(QLatin1String("within a transaction"))) {
        rollBack(connection); // an earlier rollback failed
        begun = connection.run(sql);
    }
    if (!begun)
        return begun.error();
    return Transaction(connection);
}

Transaction::~Transaction() {
    if (connection_)
        rollBack(*connection_);
}

Result<void> Transaction::commit() {
    if (auto done = connection_->run(QStringLiteral("COMMIT")); !done)
        return done; // the destructor rolls back
    connection_ = nullptr;
    return {};
}

} // namespace kitround::store
