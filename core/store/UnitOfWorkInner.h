#pragma once
// The work behind UnitOfWork::save: validate, look at what stands there, write, keep the audit.
#include "core/records/Validate.h"
#include "core/store/AgencyFileInner.h"
#include "core/store/Audit.h"
#include "core/store/Problems.h"
#include "core/store/Rows.h"
#include "core/store/Transaction.h"
#include "core/store/mapping/Json.h"

#include <QCryptographicHash>

#include <map>

namespace kitround::store {

struct UnitOfWork::Inner {
    Inner(AgencyFile &agency, UserId by, Instant at, AuditDetail detail);

    AgencyFile::Inner &file;
    Connection &connection;
    UserId by;
    Instant at;
    AuditDetail detail;
    AuditLog log;
    std::optional<Transaction> transaction;
    std::optional<Problem> failure; // the first; given to every further call
    bool isCommitted = false;

    struct Summary {
        std::int64_t inserted = 0, updated = 0, removed = 0;
        QCryptographicHash digest{QCryptographicHash::Sha256};
    };
    std::map<std::string, std::unique_ptr<Summary>> summaries;

    Problem fail(Problem problem);
    // The first problem, or the unit's end, if there was one.
    std::optional<Problem> refusal() const;
    Result<void> record(AuditAction action, const std::string &table, std::int64_t id, QByteArray before,
                        QByteArray after);
    Result<void> recordSummaries();
    Result<std::int64_t> insert(const TableSql &sql, const RowImage &image);
    // Gives the new row version.
    Result<std::int64_t> update(const TableSql &sql, std::int64_t id, std::int64_t rowVersion,
                                const RowImage &image);
    Result<void> remove(const TableSql &sql, std::int64_t id, std::int64_t rowVersion);
    Result<StoredRow> standing(const TableSql &sql, std::int64_t id, std::int64_t rowVersion);

    template <class R>
    Result<R> save(R row);
    // For records that are written once.
    template <class R>
    Result<R> add(R row);
};

template <class R>
Result<R> UnitOfWork::Inner::save(R row) {
    if (auto no = refusal())
        return *no;
    if constexpr (requires { validate(row); })
        if (Problems problems = validate(row); !problems.empty())
            return fail(joined(std::move(problems)));
    const TableSql &sql = tableSql<R>();
    const RowImage image = imageOf(row);
    std::optional<Problem> refused;
    if (row.id.isSet()) {
        if constexpr (kIsVersioned<R>) {
            const auto version = update(sql, row.id.value(), row.rowVersion, image);
            if (version)
                row.rowVersion = *version;
            else
                refused = version.error();
        }
    } else {
        const auto id = insert(sql, image);
        if (id) {
            row.id = decltype(row.id)(*id);
            if constexpr (kIsVersioned<R>)
                row.rowVersion = 1;
        } else {
            refused = id.error();
        }
    }
    if (refused) {
        std::vector<Reference> references = referencesOf(row);
        references.push_back({"user_id", kTableOf<UserTag>, by.value()}); // the audit's own
        return fail(explainRefusal(connection, *refused, sql, image, references));
    }
    return row;
}

template <class R>
Result<R> UnitOfWork::Inner::add(R row) {
    if (auto no = refusal())
        return *no;
    if (row.id.isSet())
        return fail(problem(ProblemCode::NotAllowed, "id", {"stored"}));
    return save(std::move(row));
}

} // namespace kitround::store
