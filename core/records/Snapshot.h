#pragma once
// The agency as of a date: what the store reads and every engine computes from. Immutable once built and
// shared between threads as shared_ptr<const Snapshot>. Vectors are sorted by id; the drain log, movements,
// visits and closed records reach back only as far as the loader was asked (logFrom).
#include "core/base/Date.h"
#include "core/records/Drains.h"
#include "core/records/MonthClose.h"
#include "core/records/Nurses.h"
#include "core/records/People.h"
#include "core/records/Purchasing.h"
#include "core/records/Safety.h"
#include "core/records/Settings.h"
#include "core/records/Stock.h"
#include "core/records/SupplyRecords.h"
#include "core/records/Team.h"
#include "core/records/Users.h"
#include "core/records/Visits.h"

#include <memory>
#include <span>
#include <unordered_map>
#include <unordered_set>
#include <vector>

namespace kitround {

struct Snapshot {
    Date asOf;     // "today"
    LocalTime now; // asOf with the time of day
    Date logFrom;  // first day of the loaded log
    AgencySettings settings;

    std::vector<Payer> payers;
    std::vector<Patient> patients; // all, also discharged: recall must reach them
    std::vector<Catheter> catheters;
    std::vector<Authorisation> authorisations;
    std::vector<DrainOrder> drainOrders;  // whole history
    std::vector<DrainEntry> drainEntries; // not void, by catheter, then time; from logFrom to now
    std::vector<Hold> holds;
    std::vector<HomeCount> homeCounts; // by catheter, item, time
    std::vector<RefillContact> refillContacts;
    std::vector<Delivery> deliveries; // open, and closed since logFrom

    std::vector<Item> items;
    std::vector<Lot> lots;
    std::vector<StockBalance> balances; // of the inside places, all movements up to now; zero rows left out
    std::vector<Supplier> suppliers;
    std::vector<SupplierItem> supplierItems;
    std::vector<PurchaseOrder> purchaseOrders; // open, and closed within a year (lead times are learned)
    std::vector<Receipt> receipts;             // within a year; not those reversed
    std::vector<MonthClose> monthCloses;       // of the supply books, all

    std::vector<RecallOutcome> recallOutcomes;   // all, by id: in the order they were written
    std::vector<Substitution> substitutions;     // all
    std::vector<ShortageAction> shortageActions; // open, and closed since logFrom
    std::vector<HomeReturn> homeReturns;         // since logFrom
    std::vector<CarPar> carPars;

    std::vector<Nurse> nurses;
    std::vector<ShiftPattern> shiftPatterns;
    std::vector<ExtraShift> extraShifts;
    std::vector<TimeOff> timeOff; // requests and declined ones too
    std::vector<VisitOrder> visitOrders;
    std::vector<Visit> visits; // from logFrom on, and all future ones
    std::vector<Plan> plans;   // newest of each week from logFrom on
    // Of each week that is not over the published plan, in the order of publishing: what people were told
    // last. Where the week has a newer draft, that one stands in `plans`.
    std::vector<Plan> plansInForce;
    // What nurses know of their rounds and homes of their visits: of each week that is not over the first
    // published version, in the order of publishing; and what they were told since.
    std::vector<Plan> firstPublished;
    std::vector<PlanTold> planTold;       // days from today on, by id: in the order in which they were told
    std::vector<PatientTold> patientTold; // calls since logFrom, by id: in the order in which they were made

    std::vector<CallItem> callItems; // open, and closed since logFrom
    std::vector<PhoneCall> phoneCalls;
    std::vector<Incident> incidents; // all
    std::vector<KeptWhatIf> keptWhatIfs;
    std::vector<IntakeClosure> intakeClosures; // in force, to come, and ended since logFrom
    std::vector<DecisionNote> decisionNotes;   // all
    std::vector<HandOver> handOvers;           // with a line open, and made since logFrom
    std::vector<WatchEntry> watchEntries;      // all
    std::vector<OrderAnswer> orderAnswers;     // all
    std::vector<User> users;                   // all, without what their passwords hash to
};

// Look-ups over a snapshot, built once (n log n) and then constant time. Borrowed pointers live as long as
// the snapshot does.
class SnapshotIndex {
public:
    explicit SnapshotIndex(const Snapshot &snapshot);

    const Snapshot &snapshot() const { return *snapshot_; }
    // nullptr where there is none.
    const Patient *patient(PatientId id) const;
    const Catheter *catheter(CatheterId id) const;
    const Item *item(ItemId id) const;
    const Lot *lot(LotId id) const;
    const Supplier *supplier(SupplierId id) const;
    const Nurse *nurse(NurseId id) const;
    const Payer *payer(PayerId id) const;
    const Visit *visit(VisitId id) const;
    const Delivery *delivery(DeliveryId id) const;
    const PurchaseOrder *purchaseOrder(PurchaseOrderId id) const;
    // Where people were told last that the visit stands: a published one says so itself, of any other the
    // plan in force does, whatever a draft made of it since. Not set where nobody was told, or the week is
    // over.
    VisitPlace toldPlace(const Visit &visit) const;

    std::span<const Catheter *const> cathetersOf(PatientId id) const; // all, also removed
    std::span<const DrainOrder *const> ordersOf(CatheterId id) const; // by start
    std::span<const DrainEntry> entriesOf(CatheterId id) const;       // by time
    std::span<const HomeCount *const> countsOf(CatheterId id) const;  // by time
    std::span<const Hold *const> holdsOf(PatientId id) const;         // by from
    std::span<const Delivery *const> deliveriesOf(PatientId id) const;
    std::span<const RefillContact *const> refillContactsOf(PatientId id) const;
    std::span<const VisitOrder *const> visitOrdersOf(PatientId id) const;
    std::span<const Visit *const> visitsOf(PatientId id) const;

    // The order in force on a day; of two the later start wins; nullptr where there is none.
    const DrainOrder *orderInForce(CatheterId id, Date on) const;
    // Sum over lots; zero where the ledger knows nothing (see isHomeStockKnown).
    Eaches balance(const Place &place, ItemId item) const;
    std::span<const StockBalance> balancesAt(const Place &place) const;
    // A home's stock is known once it was counted or something was delivered.
    const HomeCount *lastCount(CatheterId id, ItemId item) const;
    // The hold that covers the day, if any. Half-open: the day of return is not on hold.
    const Hold *holdOn(PatientId id, Date on) const;
    // What stands in for an ordered item at a home on a day, or for any where the item is not set; nullptr
    // where nothing does.
    const Substitution *substitutionInForce(CatheterId id, ItemId item, Date on) const;
    // Another patient has the family name and the first letter too: a screen adds the reference.
    bool hasNamesake(PatientId id) const { return namesakes_.contains(id); }
    // In place on the day: not removed, patient not exited.
    bool isInService(const Catheter &catheter) const;

private:
    template <class K>
    using Map = std::unordered_map<K, std::uint32_t>;
    template <class K, class V>
    using Lists = std::unordered_map<K, std::vector<const V *>>;

    const Snapshot *snapshot_;
    Map<PatientId> patients_;
    Map<CatheterId> catheters_;
    Map<ItemId> items_;
    Map<LotId> lots_;
    Map<SupplierId> suppliers_;
    Map<NurseId> nurses_;
    Map<PayerId> payers_;
    Map<VisitId> visits_;
    Map<DeliveryId> deliveries_;
    Map<PurchaseOrderId> purchaseOrders_;
    std::unordered_map<VisitId, const PlannedVisit *> inForce_;
    Lists<PatientId, Catheter> cathetersOf_;
    Lists<CatheterId, DrainOrder> ordersOf_;
    std::unordered_map<CatheterId, std::pair<std::uint32_t, std::uint32_t>> entriesOf_;
    Lists<CatheterId, HomeCount> countsOf_;
    Lists<PatientId, Hold> holdsOf_;
    Lists<PatientId, Delivery> deliveriesOf_;
    Lists<PatientId, RefillContact> refillContactsOf_;
    Lists<CatheterId, Substitution> substitutionsOf_;
    Lists<PatientId, VisitOrder> visitOrdersOf_;
    Lists<PatientId, Visit> visitsOf_;
    std::vector<StockBalance> byPlace_; // sorted by place, item
    std::unordered_set<PatientId> namesakes_;
};

} // namespace kitround
