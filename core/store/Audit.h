#pragma once
// The append-only record of changes. chain(n) = SHA-256 hex over chain(n-1) and every field of entry n, each
// with its length before it, so that no field can borrow from its neighbour. The head (last number and chain)
// is kept in a row of its own: entries cut off at the end show. Whoever can rewrite the whole file can
// rewrite the chain too; what it proves is that nobody changed a part of it.
#include "core/records/Users.h"
#include "core/store/Connection.h"

#include <QByteArray>

namespace kitround::store {

std::string chainOf(const std::string &previous, const AuditEntry &entry);

class AuditLog {
public:
    explicit AuditLog(Connection &connection) : connection_(connection) {}
    // Inside the write transaction.
    Result<void> readHead();
    // Number and chain are set here.
    Result<void> append(AuditEntry entry);
    Result<void> writeHead();

private:
    Connection &connection_;
    std::int64_t number_ = 0;
    std::string chain_;
};

// `tail` follows the select; "WHERE ... ORDER BY number".
Result<void> eachAuditEntry(Connection &connection, const QString &tail, const QVariantList &values,
                            const std::function<bool(AuditEntry)> &take);

} // namespace kitround::store
