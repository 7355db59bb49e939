#include "core/store/Audit.h"

#include "core/store/Problems.h"
#include "core/store/mapping/Codec.h"

#include <QCryptographicHash>

namespace kitround::store {
namespace {

void add(QCryptographicHash &hash, const std::string &text) {
    const std::string length = std::to_string(text.size()) + ":";
    hash.addData(QByteArrayView(length.data(), qsizetype(length.size())));
    hash.addData(QByteArrayView(text.data(), qsizetype(text.size())));
}

} // namespace

std::string chainOf(const std::string &previous, const AuditEntry &entry) {
    QCryptographicHash hash(QCryptographicHash::Sha256);
    add(hash, previous);
    add(hash, std::to_string(entry.number));
    add(hash, entry.at.toIso());
    add(hash, std::to_string(entry.user.value()));
    add(hash, wordOf(entry.action).data());
    add(hash, entry.table);
    add(hash, std::to_string(entry.record));
    add(hash, entry.before);
    add(hash, entry.after);
    return hash.result().toHex().toStdString();
}

Result<void> AuditLog::readHead() {
    bool found = false;
    const auto read = connection_.each(QStringLiteral("SELECT number, chain FROM audit_head WHERE id = 1"),
                                       {}, [&](const QSqlQuery &row) {
                                           number_ = row.value(0).toLongLong();
                                           chain_ = row.value(1).toString().toStdString();
                                           found = true;
                                           return false;
                                       });
    if (read && !found)
        return problem(ProblemCode::FileCorrupt, "audit_head", {"missing"});
    return read;
}

Result<void> AuditLog::append(AuditEntry entry) {
    entry.number = number_ + 1;
    entry.chain = chainOf(chain_, entry);
    const auto done = connection_.run(
        QStringLiteral(
            "INSERT INTO audit_entry (number, at, user_id, action, table_name, record_id, before, after, "
            "chain) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"),
        {Codec<std::int64_t>::put(entry.number), Codec<Instant>::put(entry.at),
         Codec<UserId>::put(entry.user), Codec<AuditAction>::put(entry.action),
         Codec<std::string>::put(entry.table), Codec<std::int64_t>::put(entry.record),
         Codec<std::string>::put(entry.before), Codec<std::string>::put(entry.after),
         Codec<std::string>::put(entry.chain)});
    if (!done)
        return done;
    number_ = entry.number;
    chain_ = std::move(entry.chain);
    return {};
}

Result<void> AuditLog::writeHead() {
    return connection_.run(QStringLiteral("UPDATE audit_head SET number = ?, chain = ? WHERE id = 1"),
                           {Codec<std::int64_t>::put(number_), Codec<std::string>::put(chain_)});
}

Result<void> eachAuditEntry(Connection &connection, const QString &tail, const QVariantList &values,
                            const std::function<bool(AuditEntry)> &take) {
    std::optional<Problem> failure;
    const auto read = connection.each(
        QStringLiteral("SELECT number, at, user_id, action, table_name, record_id, before, after, chain "
                       "FROM audit_entry ") +
            tail,
        values, [&](const QSqlQuery &row) {
            AuditEntry entry;
            const bool good = Codec<std::int64_t>::take(row.value(0), entry.number) &&
                              Codec<Instant>::take(row.value(1), entry.at) &&
                              Codec<UserId>::take(row.value(2), entry.user) &&
                              Codec<AuditAction>::take(row.value(3), entry.action) &&
                              Codec<std::string>::take(row.value(4), entry.table) &&
                              Codec<std::int64_t>::take(row.value(5), entry.record) &&
                              Codec<std::string>::take(row.value(6), entry.before) &&
                              Codec<std::string>::take(row.value(7), entry.after) &&
                              Codec<std::string>::take(row.value(8), entry.chain);
            if (good)
                return take(std::move(entry));
            failure = problem(ProblemCode::FileCorrupt, "audit_entry", {std::to_string(entry.number)});
            return false;
        });
    if (failure)
        return *failure;
    return read;
}

} // namespace kitround::store
