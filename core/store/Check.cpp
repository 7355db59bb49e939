#include "core/store/Check.h"

#include "core/records/Validate.h"
#include "core/store/Audit.h"
#include "core/store/Loader.h"
#include "core/store/Problems.h"
#include "core/store/Transaction.h"
#include "core/store/mapping/Codec.h"

#include <algorithm>
#include <map>

namespace kitround::store {
namespace {

std::string textAt(const QSqlQuery &row, int column) {
    return row.value(column).toString().toStdString();
}

Result<void> checkPages(Connection &connection, Problems &faults) {
    return connection.each(QStringLiteral("PRAGMA integrity_check"), {}, [&](const QSqlQuery &row) {
        if (textAt(row, 0) != "ok")
            faults.push_back(problem(ProblemCode::FileCorrupt, "file", {textAt(row, 0)}));
        return true;
    });
}

Result<void> checkReferences(Connection &connection, Problems &faults) {
    return connection.each(QStringLiteral("PRAGMA foreign_key_check"), {}, [&](const QSqlQuery &row) {
        faults.push_back(
            problem(ProblemCode::UnknownRecord, textAt(row, 0), {textAt(row, 2), textAt(row, 1)}));
        return true;
    });
}

// Without their guards the ledger and the audit are not append-only any more.
Result<void> checkGuards(Connection &connection, Problems &faults) {
    for (const char *guard : {"stock_movement_no_update", "stock_movement_no_delete", "audit_entry_no_update",
                              "audit_entry_no_delete", "stock_movement_from_exists",
                              "stock_movement_to_exists", "stock_movement_month_is_open"}) {
        const auto there = connection.single(
            QStringLiteral("SELECT 1 FROM sqlite_master WHERE type = 'trigger' AND name = ?"),
            {QString::fromLatin1(guard)});
        if (!there)
            return there.error();
        if (!there->isValid())
            faults.push_back(problem(ProblemCode::FileCorrupt, "schema", {guard}));
    }
    return {};
}

Result<void> checkAudit(Connection &connection, const std::stop_token &stop, Problems &faults) {
    const auto broken = [&](std::int64_t number, const char *how) {
        faults.push_back(problem(ProblemCode::FileCorrupt, "audit_entry", {how, std::to_string(number)}));
    };
    std::int64_t number = 0;
    std::string chain;
    const auto read =
        eachAuditEntry(connection, QStringLiteral("ORDER BY number"), {}, [&](AuditEntry entry) {
            if (entry.number != number + 1)
                broken(number + 1, "missing");
            if (chainOf(chain, entry) != entry.chain)
                broken(entry.number, "changed");
            number = entry.number;
            chain = std::move(entry.chain); // go on from what stands, so that one change is one fault
            return !stop.stop_requested();
        });
    if (!read)
        return read;
    if (stop.stop_requested())
        return problem(ProblemCode::Cancelled, "check");
    return connection.each(QStringLiteral("SELECT number, chain FROM audit_head"), {},
                           [&](const QSqlQuery &row) {
                               if (row.value(0).toLongLong() != number || textAt(row, 1) != chain)
                                   broken(row.value(0).toLongLong(), "cut off");
                               return true;
                           });
}

Result<void> checkLedger(Connection &connection, const std::stop_token &stop, Problems &faults) {
    const LocalTime endOfTime{Date::of(2199, 12, 31), Minutes::of(1439)};
    const auto balances = loadBalances(connection, endOfTime, stop);
    if (!balances)
        return balances.error();
    // A lot may be unknown on one side of a line, so the line as a whole is judged.
    std::map<std::pair<Place, ItemId>, Eaches> lines;
    for (const StockBalance &balance : *balances)
        lines[{balance.place, balance.item}] += balance.quantity;
    for (const auto &[line, sum] : lines)
        if (sum.isNegative())
            faults.push_back(problem(ProblemCode::Negative, "stock_movement",
                                     {wordOf(line.first.kind).data(), std::to_string(line.first.ref),
                                      std::to_string(line.second.value()), std::to_string(sum.count())}));
    return {};
}

Result<void> checkSettings(Connection &connection, Problems &faults) {
    const auto settings = loadSettings(connection);
    if (!settings) {
        faults.push_back(settings.error());
        return {};
    }
    for (Problem &fault : validate(*settings))
        faults.push_back(std::move(fault));
    return {};
}

} // namespace

Result<Problems> checkFile(Connection &connection, const std::stop_token &stop,
                           const ProgressSink &progress) {
    auto transaction = Transaction::begin(connection, Transaction::Kind::Read);
    if (!transaction)
        return transaction.error();
    Problems faults;
    const std::function<Result<void>()> steps[] = {
        [&] { return checkPages(connection, faults); },
        [&] { return checkGuards(connection, faults); },
        [&] { return checkReferences(connection, faults); },
        [&] { return checkSettings(connection, faults); },
        [&] { return checkLedger(connection, stop, faults); },
        [&] { return checkAudit(connection, stop, faults); },
    };
    double done = 0;
    for (const auto &step : steps) {
        if (stop.stop_requested())
            return problem(ProblemCode::Cancelled, "check");
        if (auto checked = step(); !checked) {
            // A step that cannot even read is itself the finding; what was found before is kept.
            if (checked.error().code != ProblemCode::FileCorrupt)
                return checked.error();
            faults.push_back(checked.error());
        }
        if (progress)
            progress({.share = ++done / double(std::size(steps)), .stage = "check"});
    }
    return faults;
}

} // namespace kitround::store
