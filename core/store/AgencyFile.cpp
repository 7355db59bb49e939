#include "core/store/AgencyFile.h"

#include "core/store/AgencyFileInner.h"
#include "core/store/Audit.h"
#include "core/store/Backup.h"
#include "core/store/Check.h"
#include "core/store/Loader.h"
#include "core/store/Opening.h"
#include "core/store/Problems.h"
#include "core/store/mapping/MapCare.h"
#include "core/store/mapping/MapPeople.h"
#include "core/store/mapping/MapSupply.h"
#include "core/store/mapping/Reading.h"

#include <QStringList>

#include <filesystem>

namespace kitround::store {
namespace {

Result<void> writeFirst(AgencyFile &file, const AgencySettings &settings, const User &firstUser,
                        Instant now) {
    UnitOfWork unit(file, UserId(1), now); // the first user is the one who makes the file
    if (auto saved = unit.save(firstUser); !saved)
        return saved.error();
    if (auto saved = unit.save(settings); !saved)
        return saved.error();
    return unit.commit();
}

void sortByTime(std::vector<StockMovement> &movements) {
    std::stable_sort(movements.begin(), movements.end(),
                     [](const StockMovement &a, const StockMovement &b) { return a.at < b.at; });
}

Result<std::vector<StockMovement>> movements(Connection &connection, const QString &where,
                                             const QVariantList &values = {}) {
    auto found = readRecords<StockMovement>(connection, where, values, {});
    if (found)
        sortByTime(*found);
    return found;
}

} // namespace

AgencyFile::AgencyFile(std::unique_ptr<Inner> inner) : inner_(std::move(inner)) {
    if (inner_->mode == OpenMode::ReadWrite)
        inner_->disk.emplace(inner_->path);
}
AgencyFile::~AgencyFile() = default;

std::optional<Problem> AgencyFile::Inner::whatIsLost(bool isCommitted) {
    if (rescuedAs.empty() && (!disk || disk->isInPlace()))
        return std::nullopt;
    if (rescuedAs.empty()) {
        const std::string target = rescueName(path);
        if (const auto copied = copyTo(*connection, target); !copied)
            return problem(ProblemCode::Conflict, "file", {"log_gone_no_copy", debugText(copied.error())});
        rescuedAs = target;
    }
    return problem(ProblemCode::Conflict, "file", {isCommitted ? "log_gone_kept" : "log_gone", rescuedAs});
}

const std::string &AgencyFile::path() const {
    return inner_->path;
}
OpenMode AgencyFile::mode() const {
    return inner_->mode;
}
int AgencyFile::schemaVersion() const {
    return inner_->version;
}
const std::string &AgencyFile::olderKeptAs() const {
    return inner_->keptAs;
}

namespace {

// The opening steps say "file"; a person wants to know which.
Problem named(Problem problem, const std::string &path) {
    if (problem.field == "file")
        problem.field = path;
    return problem;
}

} // namespace

Result<std::unique_ptr<AgencyFile>> AgencyFile::create(const std::string &path,
                                                       const AgencySettings &settings, const User &firstUser,
                                                       Instant now) {
    auto opened = createFile(path);
    if (!opened)
        return named(opened.error(), path);
    std::unique_ptr<AgencyFile> file(new AgencyFile(std::unique_ptr<Inner>(
        new Inner{path, OpenMode::ReadWrite, opened->version, std::move(opened->connection)})));
    User user = firstUser;
    user.id = {};
    if (auto written = writeFirst(*file, settings, user, now); !written) {
        file.reset();
        removeFile(path);
        return written.error();
    }
    return file;
}

Result<std::unique_ptr<AgencyFile>> AgencyFile::open(const std::string &path, OpenMode mode) {
    auto opened = openFile(path, mode);
    if (!opened)
        return named(opened.error(), path);
    return std::unique_ptr<AgencyFile>(new AgencyFile(std::unique_ptr<Inner>(
        new Inner{path, mode, opened->version, std::move(opened->connection), opened->keptAs})));
}

Result<Snapshot> AgencyFile::load(const LoadOptions &options, std::stop_token stop,
                                  const ProgressSink &progress) {
    return loadSnapshot(*inner_->connection, options, stop, progress);
}

Result<AgencySettings> AgencyFile::settings() {
    return loadSettings(*inner_->connection);
}

Result<std::vector<User>> AgencyFile::users() {
    return readRecords<User>(*inner_->connection, {}, {}, {});
}

Result<std::vector<StockMovement>> AgencyFile::movementsOfLot(LotId lot) {
    return movements(*inner_->connection, QStringLiteral("WHERE lot_id = ?"), {Codec<LotId>::put(lot)});
}

Result<std::vector<StockMovement>> AgencyFile::movementsAt(const Place &place, ItemId item) {
    const QVariantList end = {Codec<PlaceKind>::put(place.kind), Codec<std::int64_t>::put(place.ref),
                              Codec<ItemId>::put(item)};
    return movements(*inner_->connection,
                     QStringLiteral("WHERE (from_kind = ? AND from_ref = ? AND item_id = ?) "
                                    "OR (to_kind = ? AND to_ref = ? AND item_id = ?)"),
                     end + end);
}

Result<std::vector<StockMovement>> AgencyFile::movementsOfEntry(DrainEntryId entry) {
    const QVariant id = Codec<DrainEntryId>::put(entry);
    return movements(*inner_->connection,
                     QStringLiteral("WHERE (to_kind IN ('used', 'wasted') AND to_ref = ?) "
                                    "OR (from_kind IN ('used', 'wasted') AND from_ref = ?)"),
                     {id, id});
}

Result<std::vector<StockMovement>> AgencyFile::movementsOfDelivery(DeliveryId delivery) {
    const QVariant id = Codec<DeliveryId>::put(delivery);
    return movements(*inner_->connection,
                     QStringLiteral("WHERE delivery_id = ? OR (to_kind = 'transit' AND to_ref = ?) "
                                    "OR (from_kind = 'transit' AND from_ref = ?)"),
                     {id, id, id});
}

Result<std::vector<StockMovement>> AgencyFile::movementsOfReceipt(ReceiptId receipt) {
    return movements(*inner_->connection, QStringLiteral("WHERE receipt_id = ?"),
                     {Codec<ReceiptId>::put(receipt)});
}

Result<std::vector<StockMovement>> AgencyFile::allMovements() {
    return movements(*inner_->connection, {});
}

Result<std::vector<MovementSum>> AgencyFile::movementSums(Date from, Date to) {
    std::vector<MovementSum> sums;
    bool isReadable = true;
    const auto read = inner_->connection->each(
        QStringLiteral("SELECT m.item_id, from_kind, to_kind, "
                       "coalesce(lot.expires_on < substr(at, 1, 10), 0) AS was_expired, sum(quantity) "
                       "FROM stock_movement AS m LEFT JOIN lot ON lot.id = m.lot_id "
                       "WHERE at >= ? AND at < ? GROUP BY 1, 2, 3, 4 ORDER BY 1, 2, 3, 4"),
        {QString::fromStdString(from.toIso()), QString::fromStdString(to.toIso())},
        [&](const QSqlQuery &row) {
            MovementSum &sum = sums.emplace_back();
            TakeVisitor take{row};
            take("item_id", sum.item);
            take("from_kind", sum.from);
            take("to_kind", sum.to);
            take("was_expired", sum.wasExpired);
            take("quantity", sum.quantity);
            isReadable = !take.bad;
            return isReadable;
        });
    if (!read)
        return read.error();
    if (!isReadable)
        return problem(ProblemCode::FileCorrupt, "stock_movement", {"kind"});
    return sums;
}

Result<std::vector<StockBalance>> AgencyFile::balancesAtEndOf(Date day) {
    return loadBalances(*inner_->connection, {day, Minutes::of(24 * 60 - 1)}, {});
}

Result<std::vector<Incident>> AgencyFile::incidents() {
    return readRecords<Incident>(*inner_->connection, {}, {}, {});
}

Result<std::vector<DrainEntry>> AgencyFile::wholeLog(CatheterId catheter) {
    auto log = readRecords<DrainEntry>(*inner_->connection, QStringLiteral("WHERE catheter_id = ?"),
                                       {Codec<CatheterId>::put(catheter)}, {});
    if (log)
        std::stable_sort(log->begin(), log->end(),
                         [](const DrainEntry &a, const DrainEntry &b) { return a.at < b.at; });
    return log;
}

Result<std::vector<Plan>> AgencyFile::planVersions(Date weekStart) {
    auto plans = readRecords<Plan>(*inner_->connection, QStringLiteral("WHERE week_start_on = ?"),
                                   {Codec<Date>::put(weekStart)}, {});
    if (plans)
        std::stable_sort(plans->begin(), plans->end(),
                         [](const Plan &a, const Plan &b) { return a.version < b.version; });
    return plans;
}

Result<std::vector<AuditEntry>> AgencyFile::audit(std::int64_t most, const std::string &table,
                                                  std::int64_t record) {
    AuditQuery query;
    query.most = most;
    query.table = table;
    query.record = record;
    return audit(query);
}

Result<std::vector<AuditEntry>> AgencyFile::audit(const AuditQuery &query) {
    QStringList conditions;
    QVariantList values;
    const auto demand = [&](const char *condition, const QVariant &value) {
        conditions << QLatin1String(condition);
        values.push_back(value);
    };
    if (!query.table.empty())
        demand("table_name = ?", Codec<std::string>::put(query.table));
    if (!query.table.empty() && query.record != 0)
        demand("record_id = ?", Codec<std::int64_t>::put(query.record));
    if (query.before > 0)
        demand("number < ?", Codec<std::int64_t>::put(query.before));
    if (query.user.isSet())
        demand("user_id = ?", Codec<UserId>::put(query.user));
    if (query.from)
        demand("at >= ?", Codec<Instant>::put(*query.from));
    if (query.until)
        demand("at < ?", Codec<Instant>::put(*query.until));
    QString tail = conditions.isEmpty() ? QString()
                                        : QStringLiteral("WHERE ") + conditions.join(QStringLiteral(" AND "));
    tail += QStringLiteral(" ORDER BY number DESC LIMIT ?");
    values.push_back(Codec<std::int64_t>::put(query.most));
    std::vector<AuditEntry> entries;
    const auto read = eachAuditEntry(*inner_->connection, tail, values, [&](AuditEntry entry) {
        entries.push_back(std::move(entry));
        return true;
    });
    if (!read)
        return read.error();
    return entries;
}

Result<std::vector<std::string>> AgencyFile::auditedTables() {
    std::vector<std::string> tables;
    const auto read = inner_->connection->each(
        QStringLiteral("SELECT DISTINCT table_name FROM audit_entry ORDER BY table_name"), {},
        [&](const QSqlQuery &row) {
            tables.push_back(row.value(0).toString().toStdString());
            return true;
        });
    if (!read)
        return read.error();
    return tables;
}

Result<Problems> AgencyFile::check(std::stop_token stop, const ProgressSink &progress) {
    return checkFile(*inner_->connection, stop, progress);
}

Result<void> AgencyFile::backupTo(const std::string &target, std::stop_token stop,
                                  const ProgressSink &progress) {
    std::error_code ignored;
    if (std::filesystem::equivalent(inner_->path, target, ignored))
        return problem(ProblemCode::Conflict, "target", {"same_file"});
    if (progress)
        progress({.share = -1, .stage = "backup"});
    auto done = copyTo(*inner_->connection, target, stop);
    if (done && progress)
        progress({.share = 1, .stage = "backup"});
    return done;
}

} // namespace kitround::store
