#include "core/store/UnitOfWorkInner.h"

#include "core/store/mapping/MapCare.h"
#include "core/store/mapping/MapPeople.h"
#include "core/store/mapping/MapSupply.h"

namespace kitround::store {

UnitOfWork::Inner::Inner(AgencyFile &agency, UserId user, Instant moment, AuditDetail wanted)
    : file(agency.inner()), connection(*file.connection), by(user), at(moment), detail(wanted),
      log(connection) {
    if (file.mode == OpenMode::ReadOnly) {
        failure = problem(ProblemCode::FileReadOnly, "file", {file.path});
        return;
    }
    if (auto lost = file.whatIsLost(false)) {
        failure = std::move(*lost);
        return;
    }
    auto begun = Transaction::begin(connection, Transaction::Kind::Write);
    if (!begun) {
        failure = begun.error();
        return;
    }
    transaction.emplace(std::move(*begun));
    if (auto head = log.readHead(); !head)
        failure = head.error();
}

Problem UnitOfWork::Inner::fail(Problem given) {
    if (!failure)
        failure = given;
    return given;
}

std::optional<Problem> UnitOfWork::Inner::refusal() const {
    if (isCommitted)
        return problem(ProblemCode::NotAllowed, "unit", {"committed"});
    return failure;
}

Result<void> UnitOfWork::Inner::record(AuditAction action, const std::string &table, std::int64_t id,
                                       QByteArray before, QByteArray after) {
    if (detail == AuditDetail::EachChange)
        return log.append({0, at, by, action, table, id, before.toStdString(), after.toStdString(), {}});
    std::unique_ptr<Summary> &summary = summaries[table];
    if (!summary)
        summary = std::make_unique<Summary>();
    (action == AuditAction::Insert   ? summary->inserted
     : action == AuditAction::Update ? summary->updated
                                     : summary->removed) += 1;
    summary->digest.addData(QByteArray::number(qlonglong(id)) + '\n' + before + '\n' + after + '\n');
    return {};
}

Result<void> UnitOfWork::Inner::recordSummaries() {
    for (const auto &[table, summary] : summaries) {
        const QByteArray after = "{\"inserted\":" + QByteArray::number(qlonglong(summary->inserted)) +
                                 ",\"updated\":" + QByteArray::number(qlonglong(summary->updated)) +
                                 ",\"removed\":" + QByteArray::number(qlonglong(summary->removed)) +
                                 ",\"sha256\":\"" + summary->digest.result().toHex() + "\"}";
        if (auto done = log.append({0, at, by, AuditAction::Insert, table, 0, {}, after.toStdString(), {}});
            !done)
            return done;
    }
    return {};
}

Result<std::int64_t> UnitOfWork::Inner::insert(const TableSql &sql, const RowImage &image) {
    const auto id = insertRow(connection, sql, image);
    if (!id)
        return id;
    if (auto kept = record(AuditAction::Insert, sql.table.toStdString(), *id, {}, jsonOf(sql, image)); !kept)
        return kept.error();
    return id;
}

Result<StoredRow> UnitOfWork::Inner::standing(const TableSql &sql, std::int64_t id, std::int64_t rowVersion) {
    auto stored = readRow(connection, sql, id);
    if (!stored)
        return stored.error();
    if (!*stored)
        return problem(ProblemCode::UnknownRecord, "id", {sql.table.toStdString(), std::to_string(id)});
    if ((*stored)->rowVersion != rowVersion)
        return problem(ProblemCode::ChangedMeanwhile, "row_version", {sql.table.toStdString()});
    return std::move(**stored);
}

Result<std::int64_t> UnitOfWork::Inner::update(const TableSql &sql, std::int64_t id, std::int64_t rowVersion,
                                               const RowImage &image) {
    const auto before = standing(sql, id, rowVersion);
    if (!before)
        return before.error();
    if (before->image == image)
        return rowVersion;
    if (auto done = updateRow(connection, sql, id, before->image, image); !done)
        return done.error();
    if (auto kept = record(AuditAction::Update, sql.table.toStdString(), id, jsonOf(sql, before->image),
                           jsonOf(sql, image));
        !kept)
        return kept.error();
    return rowVersion + 1;
}

Result<void> UnitOfWork::Inner::remove(const TableSql &sql, std::int64_t id, std::int64_t rowVersion) {
    if (auto no = refusal())
        return *no;
    const auto before = standing(sql, id, rowVersion);
    if (!before)
        return fail(before.error());
    if (auto done = removeRow(connection, sql, id); !done)
        return fail(done.error());
    if (auto kept = record(AuditAction::Delete, sql.table.toStdString(), id, jsonOf(sql, before->image), {});
        !kept)
        return fail(kept.error());
    return {};
}

UnitOfWork::UnitOfWork(AgencyFile &file, UserId by, Instant at, AuditDetail detail)
    : inner_(std::make_unique<Inner>(file, by, at, detail)) {}
UnitOfWork::~UnitOfWork() = default;

Result<AgencySettings> UnitOfWork::save(AgencySettings settings) {
    if (auto no = inner_->refusal())
        return *no;
    if (Problems problems = validate(settings); !problems.empty())
        return inner_->fail(joined(std::move(problems)));
    const auto version = inner_->connection.single(QStringLiteral("SELECT row_version FROM agency_settings"));
    if (!version)
        return inner_->fail(version.error());
    SettingsRow row = rowOf(settings, version->toLongLong());
    if (version->isValid())
        row.id = decltype(row.id)(1);
    if (auto saved = inner_->save(std::move(row)); !saved)
        return saved.error();
    return settings;
}

Result<void> UnitOfWork::remove(ShiftPatternId id, std::int64_t rowVersion) {
    return inner_->remove(tableSql<ShiftPattern>(), id.value(), rowVersion);
}
Result<void> UnitOfWork::remove(ExtraShiftId id, std::int64_t rowVersion) {
    return inner_->remove(tableSql<ExtraShift>(), id.value(), rowVersion);
}
Result<void> UnitOfWork::remove(TimeOffId id, std::int64_t rowVersion) {
    return inner_->remove(tableSql<TimeOff>(), id.value(), rowVersion);
}
Result<void> UnitOfWork::remove(KeptWhatIfId id, std::int64_t rowVersion) {
    return inner_->remove(tableSql<KeptWhatIf>(), id.value(), rowVersion);
}
Result<void> UnitOfWork::remove(SupplierItemId id, std::int64_t rowVersion) {
    return inner_->remove(tableSql<SupplierItem>(), id.value(), rowVersion);
}
Result<void> UnitOfWork::remove(HoldId id, std::int64_t rowVersion) {
    return inner_->remove(tableSql<Hold>(), id.value(), rowVersion);
}

Result<void> UnitOfWork::note(AuditAction action, const std::string &table, std::int64_t record,
                              const std::string &what) {
    if (auto no = inner_->refusal())
        return *no;
    const QByteArray after = "{\"what\":" + jsonText(QString::fromStdString(what)) + "}";
    if (auto done = inner_->log.append(
            {0, inner_->at, inner_->by, action, table, record, {}, after.toStdString(), {}});
        !done)
        return inner_->fail(done.error());
    return {};
}

Result<void> UnitOfWork::commit() {
    if (auto no = inner_->refusal())
        return *no;
    Result<void> done = inner_->recordSummaries();
    if (done)
        done = inner_->log.writeHead();
    if (done)
        done = inner_->transaction->commit();
    if (!done)
        return inner_->fail(done.error());
    inner_->isCommitted = true;
    if (auto lost = inner_->file.whatIsLost(true))
        return inner_->fail(std::move(*lost)); // to this program only: it would be told as saved, and be gone
    return {};
}

} // namespace kitround::store
