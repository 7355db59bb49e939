#pragma once
// The public face of core: one open agency, its snapshot as of a date, and everything a person can do to it.
// Reads are pure functions over a shared snapshot (desk/views, any thread). Writes go through this class on
// the thread that owns it: one transaction each, audited; the snapshot is then reloaded, there or in the
// background.
#include "core/base/Clock.h"
#include "core/base/Progress.h"
#include "core/base/Result.h"
#include "core/desk/Parcels.h"
#include "core/records/Snapshot.h"
#include "core/records/Users.h"
#include "core/store/AgencyFile.h"
#include "core/supply/MonthEnd.h"

#include <map>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace kitround::supply {
struct RefillProposal;
struct StartUp;
} // namespace kitround::supply

namespace kitround::exchange {
enum class ListKind : std::uint8_t; // core/exchange/Lists.h
} // namespace kitround::exchange

namespace kitround::desk {

struct OfferReasons; // desk/views/RefillCallView.h

// A snapshot with its index, immutable, shared between threads.
class Agency {
public:
    explicit Agency(Snapshot snapshot);
    Agency(const Agency &) = delete;
    Agency &operator=(const Agency &) = delete;
    // What engines compute from: where the agency's own figure is known, it stands in place of an untouched
    // preset (desk/OwnFigures.h).
    const Snapshot &snapshot() const { return snapshot_; }
    const SnapshotIndex &index() const { return index_; }
    Date today() const { return snapshot_.asOf; }
    // As stored: what the settings page shows and saves.
    const AgencySettings &settings() const { return settings_; }

private:
    AgencySettings settings_;
    Snapshot snapshot_;
    SnapshotIndex index_;
};
using AgencyPtr = std::shared_ptr<const Agency>;

struct OpenOptions {
    store::OpenMode mode = store::OpenMode::ReadWrite;
    std::optional<Date> asOf; // else the sample's own day, else the clock's local day
    // false: open() only opens the connection; agency() is nullptr until adopt(). The window reads in the
    // background.
    bool loadNow = true;
};

// Opens the file on a connection of its own and loads; for background reloads. Any thread.
Result<AgencyPtr> loadAgency(const std::string &path, std::optional<Date> asOf, const Clock &clock,
                             std::stop_token stop, const ProgressSink &progress);
// Whether opening the file to write would first copy it and bring it to this program's version, which takes
// seconds. Any thread.
bool isOfOlderVersion(const std::string &path);
// Does that alone; gives where the older file is kept, empty where there was nothing to do. Any thread.
Result<std::string> bringUpToDate(const std::string &path);
// Whether this program has that agency file open: then it is neither looked into nor written over by hand.
// Any thread.
bool isOpenHere(const std::string &path);
// Desk::monthBooks for a snapshot in hand, over a connection of its own, so that any thread may ask. Problem
// Cancelled when stopped.
Result<supply::MonthBooks> readMonthBooks(const std::string &path, const Agency &agency, Date month,
                                          std::stop_token stop = {});

// What an order change does from its effective date, shown before saving (thread 1 of the trade's list).
struct OrderChangePreview {
    DrainOrder order;                    // as it would be saved
    std::optional<DrainOrder> endsOrder; // the version it ends, with its new end
    struct Figures {
        double drainsPerWeek = 0; // under the order in force on the effective date
        std::optional<Date> supplyEnds, runOutP50, refillBy;
        int visitsDueNextWeek = 0; // in the week after the one of the effective date (or of today)
        double pointsNextWeek = 0; // the load of those visits
        std::vector<Date> drains;  // 14 days from the effective date, or from today where that is later
    } before, after;
    Problems warnings; // not refusals: e.g. no maximum on the order
};

struct ExitRecord {
    PatientId patient;
    CareStatus to = CareStatus::Discharged; // Discharged, Transferred, Deceased
    Instant at;
    std::string reason;
    CameBack carParcels = CameBack::InCar; // where the parcels are that nurses' cars had for the patient
};
struct ExitEffect { // what an exit stops, the same hour
    int visitsCancelled = 0;
    int deliveriesCancelled = 0;
    int ordersEnded = 0; // drain orders and visit orders
    int callsClosed = 0;
    Eaches freed;    // promised or picked stock that is free again
    Eaches fromCars; // packed in nurses' cars and not back on the shelf: where, says CameBack
    std::vector<DeliveryId> inTransit; // out of the house already: somebody has to stop or fetch them
    Eaches leftAtHome;                 // by the ledger; never goes back to the shelf by itself
};

struct ExitUndone {         // what came back when an exit had been entered by mistake, and what did not
    int ordersReopened = 0; // drain orders and visit orders
    int callsReopened = 0;
    bool goesOnHold = false;           // a hold that the exit ended is open again
    int visitsCancelled = 0;           // stay so: what the orders owe is due again
    std::vector<DeliveryId> toPromise; // stay cancelled: their stock may be elsewhere by now
    std::vector<Date> holdsToEnter;    // first days of holds to come that were taken back
};

struct ReceiveLine {
    ItemId item;
    std::string lotNumber;
    std::optional<Date> expiresOn;
    Eaches quantity;
    Eaches damaged;
    bool acceptShortDated = false;
};
struct ReceiveRecord {
    std::optional<PurchaseOrderId> order;
    SupplierId supplier;
    std::string packingSlip;
    LocalTime at;
    std::vector<ReceiveLine> lines;
};
struct Received {
    Receipt receipt;
    // Not refusals. What beyondOrder (views/ReceiveScan.h) says of the record; Conflict at "lot_number", args
    // {"quarantined", lot number}.
    Problems flags;
};

// What was really packed, where it is not what pick() chose.
struct LotsTaken {
    DeliveryId delivery;
    std::int64_t rowVersion = 0; // of the delivery that was looked at; ChangedMeanwhile where it is another
    std::vector<DeliveryLine> lines; // all of the parcel as it is; as much of each home's item as before
    std::string why;                 // may be empty
};
struct LotsCorrected {
    Delivery delivery;
    // Not refusals; Conflict at "lot_number", args {"short_dated", lot number, last day of use} or
    // {"earlier_stays", number of a lot that expires earlier, its last day, how many stay on the shelf}. Of a
    // parcel that has left also the NotAllowed that else is a refusal: the lot is out, whether it should be
    // or not.
    Problems flags;
};

// What one step at a car moved: up to par from the storeroom, and what is short-dated back to it.
struct CarRefill {
    Eaches putIn, takenBack;
    // Not refusals: Infeasible at "quantity", args {"too_few", item code, needed, given out}.
    Problems flags;
};

enum class KitFits : std::uint8_t { AsWritten, AnyCatheter };

enum class RemovalWay : std::uint8_t { WriteOff, ToSupplier, ToStoreroom };
struct StockRemoval {
    Place from; // storeroom, quarantine or a car
    ItemId item;
    std::optional<LotId> lot;
    Eaches quantity;
    RemovalWay way = RemovalWay::WriteOff;
    SupplierId supplier; // ToSupplier
    std::string why;
};

struct LotCount {
    std::optional<LotId> lot; // none: stock whose lot nobody wrote down
    Eaches counted;
    // What the ledger had when the counting began: a count beside what moved meanwhile is no count.
    std::optional<Eaches> seen = std::nullopt;
    // Found on the shelf beside what the ledger lists: as its label has it, on record or not.
    std::string lotNumber = {};
    std::optional<Date> expiresOn = std::nullopt;
    bool isFound() const { return !lotNumber.empty(); }
};
struct StoreroomCount { // of one item
    ItemId item;
    std::vector<LotCount> lots;
    std::string why;
    std::string secondPerson;
    bool isCountedAgain = false; // a number that looks like the wrong unit was checked
};
struct StoreroomCounted {
    // Not refusals: Conflict at "lot_number", args {"found_quarantined"|"found_recalled", lot number}.
    Problems flags;
};

// What a list from a spreadsheet brought in.
struct Imported {
    exchange::ListKind kind{};
    int rows = 0;
    int patients = 0, catheters = 0, drainOrders = 0, visitOrders = 0;
    int nurses = 0, shifts = 0;
    int items = 0, offers = 0;
    int counts = 0, lots = 0;
};

class Desk {
public:
    static Result<std::unique_ptr<Desk>> open(const std::string &path, const OpenOptions &options,
                                              const Clock &clock, std::stop_token stop,
                                              const ProgressSink &progress);
    // A new, empty agency.
    static Result<std::unique_ptr<Desk>> create(const std::string &path, const AgencySettings &settings,
                                                const std::string &userName, const Clock &clock);
    ~Desk();

    const std::string &path() const;
    const std::string &olderKeptAs() const; // see AgencyFile
    bool isReadOnly() const;
    AgencyPtr agency() const; // the latest loaded
    std::optional<Date> asOf() const;
    // Who the audit names for what follows; at first the one who made the file.
    void setUser(UserId user);
    UserId user() const;
    Result<std::vector<User>> users();
    // Puts a snapshot loaded elsewhere in place (after a background loadAgency). `writesBefore` is
    // writeCount() as it was when that load began: where something was written since, the desk knows that it
    // is stale and reloads before any write that depends on what stands where.
    void adopt(AgencyPtr agency, std::optional<std::uint64_t> writesBefore = std::nullopt);
    std::uint64_t writeCount() const;
    Result<void> reload(); // here and now; small files and tests
    // While true (the default) every write reloads before it returns; the window turns it off and reloads in
    // the background.
    void setReloadAfterWrites(bool on);

    // ---- records a person enters or corrects. Insert where the id is unset.
    Result<Payer> save(const Payer &record);
    Result<Patient> save(const Patient &record);
    Result<Catheter> save(const Catheter &record);
    Result<Authorisation> save(const Authorisation &record);
    Result<Hold> save(const Hold &record); // overlapping holds are refused; ending one resumes everything
    // A new kit or bottle without a connector, or one whose connector is taken away: Missing at "connector"
    // until it is said that it fits any catheter.
    Result<Item> save(const Item &record, KitFits fits = KitFits::AsWritten);
    Result<Lot> save(const Lot &record);
    Result<Supplier> save(const Supplier &record);
    Result<SupplierItem> save(const SupplierItem &record);
    Result<Nurse> save(const Nurse &record);
    Result<ShiftPattern> save(const ShiftPattern &record);
    Result<void> save(const std::vector<ShiftPattern> &week); // all of them or none
    Result<ExtraShift> save(const ExtraShift &record);
    Result<TimeOff> save(const TimeOff &record);
    // A request is decided once, by a nurse manager: who and when are set here. A declined one may be asked
    // for anew. Problem NotAllowed at "decided_by_id", args {"manager_only", name, role}; the same at
    // "status" where anybody else writes leave down as agreed to. Sick days and training are no request:
    // {"asks_nobody"} there.
    Result<TimeOff> decideLeave(TimeOffId request, bool approve, const std::string &note);
    Result<KeptWhatIf> save(const KeptWhatIf &record);
    Result<IntakeClosure> save(const IntakeClosure &record); // two of one area may not overlap
    // Notes a decision of the week's review, changes it, or closes it with its outcome. Week, who and when
    // are set here and stay; the week may be given by any of its days. NotAllowed at "closed_on"
    // {"day_to_come", day, today}.
    Result<DecisionNote> save(const DecisionNote &record);
    // Hands the lines to the next shift; who and when are set here. A line that waits in an earlier hand-over
    // is left out, it waits there already; Missing at "items" where none is left.
    Result<HandOver> handShiftOver(const std::vector<HandOverItem> &items, const std::string &note);
    // The lines with these subjects, by hand-over, are accepted by who works at this desk, all in one change;
    // the others go on waiting, and what somebody else has taken in the meantime stays theirs. NotAllowed at
    // "accepted_by_id" {"own_hand_over"}, at "items" {"accepted_already"} where none of them waits.
    Result<std::vector<HandOver>>
    acceptHandOvers(const std::map<HandOverId, std::vector<std::string>> &subjects);
    // Inserts, decides or closes a watch. A snooze is at most the setting long, NotAllowed at "snoozed_to_on"
    // {"not_snoozed"} while a reason is urgent (safety::maySnooze). `known`: the reasons as they were shown
    // to who decides; those that are none any more are left out, and none is added.
    Result<WatchEntry> save(const WatchEntry &record);
    // The prescriber said that a questioned order holds (safety::orderQuestions); who took it is set here.
    // NotAllowed at "drain_order_id" {"not_asked"} where nothing stands against it.
    Result<OrderAnswer> recordOrderAnswer(const OrderAnswer &answer);
    // The hold ends, and the answers taken at the return are kept with it, or neither is.
    Result<Hold> returnHome(const Hold &ended, const std::vector<OrderAnswer> &answers);
    Result<VisitOrder> save(const VisitOrder &record);
    Result<PhoneCall> save(const PhoneCall &record);
    Result<Incident> save(const Incident &record);
    Result<User> save(const User &record);
    Result<AgencySettings> save(const AgencySettings &settings);
    Result<void> remove(const ShiftPattern &record);
    Result<void> remove(const ExtraShift &record);
    Result<void> remove(const TimeOff &record);
    Result<void> remove(const KeptWhatIf &record);
    Result<void> remove(const SupplierItem &record);
    Result<void> remove(const Hold &record);

    // ---- orders and care
    Result<OrderChangePreview> previewOrder(const DrainOrder &newOrder) const;
    Result<DrainOrder> acceptOrder(const OrderChangePreview &preview);
    Result<ExitEffect> exitPatient(const ExitRecord &record);
    // What exitPatient would do now, by its own rules; nothing is written.
    Result<ExitEffect> previewExit(const ExitRecord &record);
    // An exit that was entered by mistake: status, orders, calls and a running hold are as they were, as far
    // as nobody has changed them since; the record of changes keeps both steps, and why. Missing at "why";
    // NotAllowed at "status" {"already"} for who is on service, {"exit_not_on_record"} where the record of
    // changes does not know the exit.
    Result<ExitUndone> undoExit(PatientId patient, const std::string &why);
    // The catheter's own supplies and order stop; with the last catheter out, so do visits and refills.
    Result<ExitEffect> removeCatheter(CatheterId catheter, Instant at, const std::string &reason,
                                      CameBack carParcels = CameBack::InCar);

    // ---- the log
    struct Logged {
        DrainEntry entry;
        std::vector<CallItem> raised;
    };
    // Stores the entry, takes its supplies from the home line, raises what there is to call about.
    Result<Logged> logDrain(const DrainEntry &entry);
    // The old entry is kept, void; its movements are undone by contrary ones.
    Result<Logged> correctDrain(DrainEntryId old, const DrainEntry &corrected);
    Result<void> voidDrain(DrainEntryId entry, const std::string &why);
    // Where the count and what the home set aside of recalled lots come to more than the record has there,
    // Conflict {"more_with_set_aside", counted, set aside, on record} at "counted", until `whyMore` says why
    // it is so; that is kept with the count.
    Result<HomeCount> countHome(const HomeCount &count, const std::string &whyMore = {});
    // Stores a standing caution (safety::standingCautions) once somebody takes it on.
    Result<CallItem> raise(const CallItem &item);
    Result<void> closeCallItem(CallItemId item, const std::string &outcome);

    // ---- supplies
    Result<RefillContact> recordContact(const RefillContact &contact);
    Result<Delivery> promise(const Delivery &delivery); // needs a Confirmed contact
    // The yes of a refill call and what was promised on it, in one step. A yes says why it is needed
    // ("reason_for_need"). More than was offered, as supply::overOffer tells it, needs a reason of its own
    // ("why_more"), which is kept with the yes the delivery stands on; so does a day that breaks a rule, as
    // supply::dayBreaks tells it or as it was shown to whoever called ("why_day"). That reason is kept with
    // all the rules it is about; where none is broken there is nothing to keep.
    Result<Delivery> promiseOffer(const RefillContact &agreed, const Delivery &delivery,
                                  const supply::RefillProposal &offer, const OfferReasons &why);
    // The first delivery of a new catheter: who agreed to it and the promise, in one step. As with a refill,
    // more than the starter set ("why_more") and a day after the first drain ("why_day") need a reason, which
    // is kept with the yes.
    Result<Delivery> promiseFirst(const RefillContact &agreed, const Delivery &delivery,
                                  const supply::StartUp &start, const OfferReasons &why);
    Result<Delivery> pick(DeliveryId delivery); // lots, first expiring first; storeroom -> transit or car
    // Another lot was taken: contrary movements for the wrong one, and the right one takes its way, to where
    // the parcel is now (a home's own stock included). Row: the line's place from 1. Problems: at "quantity"
    // Conflict {"not_the_line", item name, eaches in the delivery, eaches entered} and Infeasible
    // {"lot_too_few", lot number, there by the ledger, how many more of it are entered}; at "lot_number"
    // Missing, Conflict {"lot_of_other_item", ...}, NotAllowed {"lot_recalled"|"lot_quarantined", number},
    // {"lot_expired", number, last day}, {"lot_left_home", number, eaches used at the home}, {"already"}.
    // ChangedMeanwhile where somebody has saved the delivery since it was looked at.
    Result<LotsCorrected> correctLots(const LotsTaken &taken);
    // A packed parcel went from car to car: to a nurse who makes its visit by now. Its lines move, and she
    // carries it. NotAllowed at "carried_by_nurse_id" {"already"} where it is in her car, {"nurse_inactive",
    // code}; at "status" where it is in nobody's car.
    Result<Delivery> passParcel(DeliveryId delivery, NurseId to);
    Result<Delivery> ship(DeliveryId delivery);
    // What came whole goes to the home; damaged ones are written off and missing ones leave the books as a
    // difference, each by a movement with the reason. Row: the line's place from 1. Problems: at "good"
    // Conflict {"arrived_not_packed", item name, packed, entered in all}; Missing at "why" where not all came
    // whole.
    Result<Delivery> deliver(DeliveryId delivery, LocalTime at, const std::string &receivedBy,
                             const std::string &relation, const Arrived &arrived = {});
    // The same put right afterwards by contrary movements, dated as the hand-over was; always with a reason.
    // `rowVersion`: of the delivery that was looked at. NotAllowed at "status" {"not_delivered"}, at "good"
    // {"already"}.
    Result<Delivery> correctArrival(DeliveryId delivery, std::int64_t rowVersion, const Arrived &arrived);
    // A parcel that stands packed in the storeroom is put back by contrary movements, as is one that
    // NeverLeft our hands. Of one that has left the storeroom (supply::hasLeftStoreroom) the stock goes on
    // with the reason: to quarantine, from where no release of its lot brings it back, or out of the books;
    // InCar it stays where it is. NotAllowed at "status" {"not_in_car"} where no car has it.
    Result<Delivery> cancelDelivery(DeliveryId delivery, const std::string &why,
                                    CameBack where = CameBack::ToQuarantine);
    // The courier's number, from shipping on; an empty one takes it away.
    Result<Delivery> setTracking(DeliveryId delivery, const std::string &number);
    // What one home of a lot said, or that nobody answered. More set aside than the record ever sent there,
    // and a home the record never sent it to, want a reason (`whyBeyond`): the record may be what is wrong.
    // Without it Conflict at "set_aside" {"more_aside_than_sent", n, sent}, at "catheter_id"
    // {"lot_never_there"}.
    Result<RecallOutcome> recordRecall(const RecallOutcome &outcome, const std::string &whyBeyond = {});
    // Without a record in force nothing that stands in for an ordered item is picked or handed over.
    Result<Substitution> save(const Substitution &record);
    Result<ShortageAction> save(const ShortageAction &record);
    // What was found at a home (`counted`, all of the item) and what of it leaves, when care has ended or on
    // demand: the ledger is set to the count, then `record.quantity` goes out, lot by lot, to Wasted or
    // Returned. With nothing found only the count is kept, and the record given back is not stored.
    Result<HomeReturn> returnFromHome(const HomeReturn &record, Eaches counted);
    // A draft from the reorder list. Where it takes the month beyond the budget (what was sent and the other
    // drafts counted), Missing at "approved_by", args {"over_budget", by how much, budget, month}, until it
    // names who approved; Conflict {"approver_is_user", name} for the user's own name unless a manager's.
    Result<PurchaseOrder> saveOrder(const PurchaseOrder &order);
    // The same against what was sent in the month; `approvedBy` is kept with the order.
    Result<PurchaseOrder> sendOrder(PurchaseOrderId order, const std::string &approvedBy = {});
    Result<PurchaseOrder> cancelOrder(PurchaseOrderId order, const std::string &why);
    Result<Received> receive(const ReceiveRecord &record); // refuses expired and recalled lots
    // Contrary movements with the reason, and the order is open again for what came. NotAllowed at
    // "quantity", args {"receipt_moved", item name, lot number, how many are gone} where less of a lot stands
    // where the receipt put it than came with it.
    Result<Receipt> reverseReceipt(ReceiptId receipt, const std::string &why);
    // Posts each lot's variance with the reason and the second person; a count that agrees posts nothing and
    // is noted. All that is missing: Missing at "why" with a difference; at "second_person" with one worth
    // more than the setting's limit (Conflict second_is_user for the user's own name); Conflict
    // looks_like_cases at "counted", row = the lot's place from 1, until it is said that it was counted
    // again. What speaks against a found lot: foundLotProblems (views/StoreroomCounts.h). One that is out of
    // use goes on to quarantine at once.
    Result<StoreroomCounted> countStoreroom(const StoreroomCount &count);
    // Stock of the agency that nobody will use: written off, given back to the supplier, or from a car back
    // to the storeroom. A home's stock is the patient's: NotAllowed at "from_place", args
    // {"home_stock_stays"}.
    Result<StockMovement> takeOut(const StockRemoval &removal);
    Result<void> topUpCar(NurseId nurse, ItemId item, Eaches quantity);
    // From the nurse's own car stock to a home, first expiring first; not what is packed for other homes.
    Result<void> handOver(NurseId nurse, CatheterId catheter, ItemId item, Eaches quantity, LocalTime at);
    Result<CarPar> save(const CarPar &record);
    // Short-dated stock back to the shelf, then what the car lacks to par, first expiring first
    // (supply::planToPar). Nothing moves where nothing has to.
    Result<CarRefill> refillCar(NurseId nurse);
    // Storeroom stock <-> quarantine; what is in a nurse's car is there until takeFromCar(). A picked parcel
    // that holds the lot is unpacked and promised again.
    Result<Lot> setLotState(LotId lot, LotState state, const std::string &why);
    // All of a lot out of use was taken out of the nurse's car, to quarantine; what is packed there for a
    // home goes with its parcel. NotAllowed at "lot_id", args {"lot_not_in_car", lot number}, {"lot_in_use",
    // lot number}.
    Result<StockMovement> takeFromCar(NurseId nurse, LotId lot);
    Result<std::vector<StockMovement>> movementsOfLot(LotId lot);
    Result<std::vector<StockMovement>> movementsAt(const Place &place, ItemId item);
    Result<std::vector<DrainEntry>> wholeLog(CatheterId catheter);

    // ---- the month's books
    // As the ledger says now; a closed month as it was closed. `untied` is empty unless the ledger is torn.
    Result<supply::MonthBooks> monthBooks(Date month);
    // Stores the figures; from then on no movement is dated into the month or before it. Problems at
    // "month_on": NotAllowed {"month_running", first day it can be closed}, {"already"}, {"close_in_order",
    // month that comes first}; Conflict at "closing", args {"not_tied", item code, books, ledger}.
    Result<MonthClose> closeMonth(Date month);
    // Only the last closed month, with a reason; NotAllowed {"reopen_last_first", month}, {"not_closed"}.
    Result<MonthClose> reopenMonth(Date month, const std::string &why);

    // ---- the week
    // Stores a draft or publishes: visits get day, start and nurses; a published plan is a new version.
    Result<Plan> acceptPlan(Date weekStart, const std::vector<Visit> &visits, std::int64_t seed, double cost,
                            bool publish);
    // Weeks planned together are stored together, or none of them.
    struct PlanRecord {
        Date weekStart;
        std::vector<Visit> visits;
        std::int64_t seed = 1;
        double cost = 0;
    };
    Result<std::vector<Plan>> acceptPlans(const std::vector<PlanRecord> &weeks, bool publish);
    // A nurse who cannot come, and the plan of the weeks mended for it, in one step: time off for a whole
    // day, a shorter shift where `until` says when she left; each week published where it was.
    struct CallOutRecord {
        NurseId nurse;
        Date on;
        std::optional<Minutes> until;
        TimeOffKind kind = TimeOffKind::Sick;
        std::string note;
        std::optional<Date> lastDay{}; // away until then, that day included; nothing: on that day only
    };
    Result<std::vector<Plan>> acceptCallOut(const CallOutRecord &out, const std::vector<PlanRecord> &weeks);
    // A visit besides those the orders owe: an as-needed visit, a trouble call. It is due on the days given
    // until a plan places it. An as-needed visit needs one left of the order in force.
    Result<Visit> addVisit(const Visit &visit);
    // A visit that an order owes (stored or still to be) is called off for good, with a reason: the order
    // owes one fewer in that week. What happened stays; NotAllowed at "status" {"closed"}. The order itself
    // is the prescriber's and does not change.
    Result<Visit> dropVisit(const Visit &visit, const std::string &why);
    // A nurse was told how her day of today or later is now (desk/views/PlanNews); who told her: Missing at
    // "told_by"; NotAllowed at "id" {"stored"} for what is on record.
    Result<PlanTold> tellPlan(const PlanTold &told);
    // That a nurse was told was written down wrongly: it counts no more and stays on record with the reason,
    // when, and who works here. Missing at "taken_back_why"; NotAllowed at "id" {"already"} where somebody
    // took it back.
    Result<PlanTold> takeBackTold(PlanToldId told, const std::string &why);
    // A home was phoned about visits that changed (desk/views/PatientCalls), now and by who works here;
    // whoever was reached, the call is kept, also where a visit began or was made meanwhile. Conflict at
    // "visits" {"visits_moved_on"} where one stands elsewhere by now than `told` says; NotAllowed at
    // "patient_id" {"not_to_phone"} where the home had heard all of it, at "id" {"stored"} for a call that is
    // on record.
    Result<PatientTold> tellPatient(const PatientTold &told);
    // A call that was written down wrongly counts no more; it stays on record with the reason, when, and who
    // works here. Missing at "taken_back_why"; NotAllowed at "id" {"already"} where somebody took it back.
    Result<PatientTold> takeBackCall(PatientToldId call, const std::string &why);
    Result<Visit> closeVisit(const Visit &visit); // Done or Missed, with what happened
    Result<std::vector<Plan>> planVersions(Date weekStart);

    // ---- lists from spreadsheets
    // All rows in one change, or with any fault (views/ImportPreview.h, readForImport) none; what is on
    // record already is told, never overwritten. The file's name is kept in the record of changes.
    Result<Imported> importList(exchange::ListKind kind, const std::string &bytes,
                                const std::string &fileName);

    // ---- the file
    Result<Problems> check(std::stop_token stop, const ProgressSink &progress);
    Result<void> backupTo(const std::string &target, std::stop_token stop, const ProgressSink &progress);
    Result<std::vector<AuditEntry>> audit(std::int64_t most, const std::string &table = {},
                                          std::int64_t record = 0);
    Result<std::vector<AuditEntry>> audit(const store::AuditQuery &query);
    Result<std::vector<std::string>> auditedTables(); // that have an entry
    Result<void> notePrinted(const std::string &paper);

private:
    struct Inner;
    explicit Desk(std::unique_ptr<Inner> inner);
    std::unique_ptr<Inner> inner_;
};

} // namespace kitround::desk
