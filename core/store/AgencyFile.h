#pragma once
// One agency's SQLite file: opening with every guard, loading a snapshot, and the unit of work that is the
// only way to write. One AgencyFile is one connection and belongs to one thread.
#include "core/base/Clock.h"
#include "core/base/Progress.h"
#include "core/base/Result.h"
#include "core/records/Snapshot.h"
#include "core/records/Users.h"

#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace kitround::store {

enum class OpenMode : std::uint8_t { ReadWrite, ReadOnly };

struct LoadOptions {
    LocalTime now;                // the snapshot's moment; its date is asOf
    Days logBack = Days::of(120); // how far back log, visits and closed records reach
};

// Which entries of the record of changes; what is not set restricts nothing.
struct AuditQuery {
    std::int64_t most = 200;
    std::int64_t before = 0; // entries with a lower number only; 0: from the newest
    std::string table = {};
    std::int64_t record = 0; // of that table
    UserId user = {};
    std::optional<Instant> from = {}, until = {}; // from that moment, before that one
};

class UnitOfWork;

class AgencyFile {
public:
    // Makes a new file with the schema, the settings and one user. Problem FileExists where the path is
    // taken; on any failure nothing is left behind. The file is private to its owner (mode 0600).
    static Result<std::unique_ptr<AgencyFile>> create(const std::string &path, const AgencySettings &settings,
                                                      const User &firstUser, Instant now);
    // Problems: FileMissing, FileNotReadable, FileReadOnly (wanted ReadWrite), FileLocked, FileCorrupt,
    // FileForeign, FileTooNew. An older file is backed up beside itself, then migrated, one transaction a
    // version. An older file wanted ReadOnly cannot be migrated: FileReadOnly, args {"older", file's version,
    // ours}.
    static Result<std::unique_ptr<AgencyFile>> open(const std::string &path, OpenMode mode);
    ~AgencyFile();
    AgencyFile(const AgencyFile &) = delete;
    AgencyFile &operator=(const AgencyFile &) = delete;

    const std::string &path() const;
    OpenMode mode() const;
    int schemaVersion() const;
    // Path of the older version where this opening brought the file up to date; else empty.
    const std::string &olderKeptAs() const;

    Result<Snapshot> load(const LoadOptions &options, std::stop_token stop, const ProgressSink &progress);
    Result<AgencySettings> settings();
    Result<std::vector<User>> users();
    // All movements of a lot, or of a place (both ends looked at), in order of time.
    Result<std::vector<StockMovement>> movementsOfLot(LotId lot);
    Result<std::vector<StockMovement>> movementsAt(const Place &place, ItemId item);
    // Movements that name this entry, delivery or receipt (for undoing).
    Result<std::vector<StockMovement>> movementsOfEntry(DrainEntryId entry);
    Result<std::vector<StockMovement>> movementsOfDelivery(DeliveryId delivery);
    Result<std::vector<StockMovement>> movementsOfReceipt(ReceiptId receipt);
    // The whole ledger, in order of time: what recall and the exports read.
    Result<std::vector<StockMovement>> allMovements();
    // The same as sums by item and direction, of [from, to): what the month's books are made of.
    Result<std::vector<MovementSum>> movementSums(Date from, Date to);
    // What stood where at the end of the day.
    Result<std::vector<StockBalance>> balancesAtEndOf(Date day);
    Result<std::vector<Incident>> incidents();
    // The whole log of one catheter, void entries too.
    Result<std::vector<DrainEntry>> wholeLog(CatheterId catheter);
    Result<std::vector<Plan>> planVersions(Date weekStart);
    // Newest first.
    Result<std::vector<AuditEntry>> audit(std::int64_t most, const std::string &table = {},
                                          std::int64_t record = 0);
    Result<std::vector<AuditEntry>> audit(const AuditQuery &query);
    Result<std::vector<std::string>> auditedTables(); // that have an entry

    // Integrity of the file, foreign keys, the audit chain, and the ledger's own rules. Every fault is
    // listed. Negative (fields stock_movement; args place word, place number, item id, sum) is a home or
    // store whose ledger says less than nothing: possible in life, so only reported.
    Result<Problems> check(std::stop_token stop, const ProgressSink &progress);
    // A consistent copy, written beside the target and renamed over it when complete and read back. Refuses
    // to write over the open file itself (Conflict, args {"same_file"}) or one that another program holds
    // open (FileLocked). Stopping is asked between its steps, not within the copying.
    Result<void> backupTo(const std::string &target, std::stop_token stop, const ProgressSink &progress);

    struct Inner;
    Inner &inner() { return *inner_; }

private:
    explicit AgencyFile(std::unique_ptr<Inner> inner);
    std::unique_ptr<Inner> inner_;
};

// Summary is for building and importing whole files: one audit entry a table, with the number of records and
// a SHA-256 digest over what EachChange would have written, in order.
enum class AuditDetail : std::uint8_t { EachChange, Summary };

// One transaction with its audit entries. Leaving without commit() rolls everything back. After the first
// problem every further call gives that problem, and commit() refuses. The writer's place is taken at once
// and held to the end, so a unit of work is short and never waits for a person. Where another program has
// taken the file's log away, no change is saved any more: see AgencyFile::Inner::whatIsLost.
class UnitOfWork {
public:
    UnitOfWork(AgencyFile &file, UserId by, Instant at, AuditDetail detail = AuditDetail::EachChange);
    ~UnitOfWork();
    UnitOfWork(const UnitOfWork &) = delete;
    UnitOfWork &operator=(const UnitOfWork &) = delete;

    // Inserts where the id is unset, else updates under the row version (Problem ChangedMeanwhile). Validates
    // first (records/Validate.h); unknown references and taken codes become Problems with the field's name.
    // Gives the stored record: id and rowVersion set. A record saved as it already stands writes nothing and
    // keeps its row version.
    Result<Payer> save(Payer record);
    Result<Patient> save(Patient record);
    Result<Catheter> save(Catheter record);
    Result<Authorisation> save(Authorisation record);
    Result<DrainOrder> save(DrainOrder record);
    Result<DrainEntry> save(DrainEntry record);
    Result<Hold> save(Hold record);
    Result<HomeCount> save(HomeCount record);
    Result<RefillContact> save(RefillContact record); // insert only
    Result<Delivery> save(Delivery record);
    Result<RecallOutcome> save(RecallOutcome record); // insert only
    Result<Substitution> save(Substitution record);
    Result<ShortageAction> save(ShortageAction record);
    Result<HomeReturn> save(HomeReturn record); // insert only
    Result<CarPar> save(CarPar record);
    Result<Item> save(Item record);
    Result<Lot> save(Lot record);
    Result<Supplier> save(Supplier record);
    Result<SupplierItem> save(SupplierItem record);
    Result<PurchaseOrder> save(PurchaseOrder record);
    Result<Receipt> save(Receipt record); // insert only
    Result<MonthClose> save(MonthClose record);
    Result<Nurse> save(Nurse record);
    Result<ShiftPattern> save(ShiftPattern record);
    Result<ExtraShift> save(ExtraShift record);
    Result<TimeOff> save(TimeOff record);
    Result<KeptWhatIf> save(KeptWhatIf record);
    Result<IntakeClosure> save(IntakeClosure record);
    Result<DecisionNote> save(DecisionNote record);
    Result<HandOver> save(HandOver record);
    Result<WatchEntry> save(WatchEntry record);
    Result<OrderAnswer> save(OrderAnswer record); // insert only
    Result<VisitOrder> save(VisitOrder record);
    Result<Visit> save(Visit record);
    Result<Plan> save(Plan record);
    Result<PlanTold> save(PlanTold record);
    Result<PatientTold> save(PatientTold record);
    Result<CallItem> save(CallItem record);
    Result<PhoneCall> save(PhoneCall record);
    Result<Incident> save(Incident record);
    Result<User> save(User record);
    Result<AgencySettings> save(AgencySettings settings);

    // Movements are only ever added. One dated into a closed month is NotAllowed at "at", args
    // {"month_closed", first open day}.
    Result<StockMovement> post(StockMovement movement);

    // Only plans for the future may be removed; what happened is voided or contradicted instead.
    Result<void> remove(ShiftPatternId id, std::int64_t rowVersion);
    Result<void> remove(ExtraShiftId id, std::int64_t rowVersion);
    Result<void> remove(TimeOffId id, std::int64_t rowVersion);
    Result<void> remove(KeptWhatIfId id, std::int64_t rowVersion);
    Result<void> remove(SupplierItemId id, std::int64_t rowVersion);
    Result<void> remove(HoldId id, std::int64_t rowVersion);

    // Viewing, printing and exporting are recorded too.
    Result<void> note(AuditAction action, const std::string &table, std::int64_t record,
                      const std::string &what);

    Result<void> commit();

private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

} // namespace kitround::store
