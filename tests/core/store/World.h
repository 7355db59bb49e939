#pragma once
// A random valid agency: every record family, every enumerator in time, awkward text, all optional fields set
// and unset. The same seed gives the same agency.
#include "core/base/Random.h"
#include "core/store/AgencyFile.h"

#include <QTemporaryDir>

#include <string>
#include <vector>

namespace kitround::store {

struct World {
    std::vector<User> users;
    std::vector<Payer> payers;
    std::vector<Nurse> nurses;
    std::vector<ShiftPattern> shiftPatterns;
    std::vector<ExtraShift> extraShifts;
    std::vector<TimeOff> timeOff;
    std::vector<KeptWhatIf> keptWhatIfs;
    std::vector<IntakeClosure> intakeClosures;
    std::vector<DecisionNote> decisionNotes;
    std::vector<HandOver> handOvers;
    std::vector<WatchEntry> watchEntries;
    std::vector<OrderAnswer> orderAnswers;
    std::vector<Patient> patients;
    std::vector<Catheter> catheters;
    std::vector<Authorisation> authorisations;
    std::vector<Hold> holds;
    std::vector<Item> items;
    std::vector<Lot> lots;
    std::vector<Supplier> suppliers;
    std::vector<SupplierItem> supplierItems;
    std::vector<VisitOrder> visitOrders;
    std::vector<Visit> visits;
    std::vector<DrainOrder> drainOrders;
    std::vector<DrainEntry> drainEntries;
    std::vector<HomeCount> homeCounts;
    std::vector<RefillContact> refillContacts;
    std::vector<Delivery> deliveries;
    std::vector<RecallOutcome> recallOutcomes;
    std::vector<Substitution> substitutions;
    std::vector<ShortageAction> shortageActions;
    std::vector<HomeReturn> homeReturns;
    std::vector<CarPar> carPars;
    std::vector<PurchaseOrder> purchaseOrders;
    std::vector<Receipt> receipts;
    std::vector<MonthClose> monthCloses;
    std::vector<StockMovement> movements;
    std::vector<Plan> plans;
    std::vector<PlanTold> planTold;
    std::vector<PatientTold> patientTold;
    std::vector<CallItem> callItems;
    std::vector<PhoneCall> phoneCalls;
    std::vector<Incident> incidents;
};

class WorldBuilder {
public:
    explicit WorldBuilder(std::uint64_t seed) : random_(seed) {}
    // Adds `times` records of every family, in an order in which references exist.
    void grow(UnitOfWork &unit, int times);
    // Gives about half of the changeable records new contents.
    void change(UnitOfWork &unit);
    const World &world() const { return world_; }
    AgencySettings settings();
    Patient patient();
    StockMovement movement();
    // The first refusal, empty where there was none.
    const std::string &refusal() const { return refusal_; }

private:
    template <class R>
    void add(UnitOfWork &unit, std::vector<R> &records, int times);
    template <class R>
    void alter(UnitOfWork &unit, std::vector<R> &records);

    // New contents; id, row version and what a stored record may not change are kept.
    void fill(User &);
    void fill(Payer &);
    void fill(Nurse &);
    void fill(ShiftPattern &);
    void fill(ExtraShift &);
    void fill(TimeOff &);
    void fill(KeptWhatIf &);
    void fill(IntakeClosure &);
    void fill(DecisionNote &);
    void fill(HandOver &);
    void fill(WatchEntry &);
    void fill(OrderAnswer &);
    void fill(Patient &);
    void fill(Catheter &);
    void fill(Authorisation &);
    void fill(Hold &);
    void fill(Item &);
    void fill(Lot &);
    void fill(Supplier &);
    void fill(SupplierItem &);
    void fill(VisitOrder &);
    void fill(Visit &);
    void fill(DrainOrder &);
    void fill(DrainEntry &);
    void fill(HomeCount &);
    void fill(RefillContact &);
    void fill(Delivery &);
    void fill(RecallOutcome &);
    void fill(Substitution &);
    void fill(ShortageAction &);
    void fill(HomeReturn &);
    void fill(CarPar &);
    void fill(PurchaseOrder &);
    void fill(Receipt &);
    void fill(MonthClose &);
    void fill(StockMovement &);
    void fill(Plan &);
    void fill(PlanTold &);
    void fill(PatientTold &);
    void fillGap(ComesAfter &);
    void fill(CallItem &);
    void fill(PhoneCall &);
    void fill(Incident &);
    void fill(Address &);

    bool flip() { return random_.chance(0.5); }
    std::int64_t number(std::int64_t least, std::int64_t most) { return random_.between(least, most); }
    std::string text(); // may be empty
    std::string word(); // not empty
    std::string code(); // never given twice
    Date day() { return Date::of(2026, 1, 1).plusDays(number(0, 365)); }
    LocalTime moment() { return {day(), Minutes::of(number(0, 1439))}; }
    Instant instant() { return Instant::fromUnixSeconds(number(1'767'225'600, 1'798'761'599)); } // in 2026
    template <class E>
    E any(int count) {
        return static_cast<E>(number(0, count - 1));
    }
    template <class T>
    const T &pick(const std::vector<T> &from) {
        return from[random_.below(from.size())];
    }
    template <class Make>
    auto maybe(Make make) -> std::optional<decltype(make())> {
        if (flip())
            return make();
        return std::nullopt;
    }
    template <class Make>
    auto several(Make make) -> std::vector<decltype(make())> {
        std::vector<decltype(make())> made;
        for (std::int64_t i = number(0, 3); i > 0; --i)
            made.push_back(make());
        return made;
    }
    template <class E>
    std::vector<E> someOf(int count) {
        std::vector<E> all;
        for (int i = 0; i < count; ++i)
            all.push_back(static_cast<E>(i));
        random_.shuffle(all);
        all.resize(random_.below(all.size() + 1));
        return all;
    }
    std::vector<std::string> languages();
    std::pair<ItemId, std::optional<LotId>> itemAndLot();
    NurseId nurseOtherThan(NurseId nurse);
    Place place();

    Random random_;
    World world_;
    std::int64_t codes_ = 0;
    std::string refusal_;
};

// A folder of its own for a test, gone afterwards.
class TestFolder {
public:
    std::string path(const std::string &name) const {
        return folder_.filePath(QString::fromStdString(name)).toStdString();
    }
    std::string folder() const { return folder_.path().toStdString(); }

private:
    QTemporaryDir folder_;
};

inline const Instant kMoment = *Instant::fromIso("2026-11-25T09:00:00Z");
inline const UserId kFirstUser{1};
User firstUser();
AgencySettings plainSettings();
// A new file that must come to be.
std::unique_ptr<AgencyFile> makeFile(const std::string &path);
std::unique_ptr<AgencyFile> mustOpen(const std::string &path, OpenMode mode = OpenMode::ReadWrite);
// The smallest chain of records that a log and a ledger need.
struct SmallAgency {
    Payer payer;
    Patient patient;
    Catheter catheter;
    Item item;
    Lot lot;
    Nurse nurse;
};
SmallAgency addSmallAgency(AgencyFile &file);
DrainEntry plainEntry(const SmallAgency &agency, LocalTime at);
StockMovement plainMovement(const SmallAgency &agency, LocalTime at, std::int64_t quantity);
std::string wordsOf(const Problems &problems);

} // namespace kitround::store
