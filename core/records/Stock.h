#pragma once
// Items, lots, and stock as a ledger of movements between places: a balance is always a sum, never an edited
// number, so nothing is counted twice.
#include "core/base/Date.h"
#include "core/base/Money.h"
#include "core/records/Drains.h"
#include "core/records/Ids.h"
#include "core/records/People.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kitround {

enum class ItemKind : std::uint8_t { Kit, Bottle, Dressing, Other };
enum class StockClass : std::uint8_t { A, B, C };

struct KitContent {
    ItemId item; // what is inside, for kits that hold items also stocked alone
    Eaches count = Eaches::of(1);
    friend bool operator==(const KitContent &, const KitContent &) = default;
};
// `per` eaches of `item` stand in for one of the item that owns this; allowed only where the order says so.
struct Substitute {
    ItemId item;
    Eaches per = Eaches::of(1);
    friend bool operator==(const Substitute &, const Substitute &) = default;
};

struct Item {
    ItemId id;
    std::string code; // the agency's own, unique
    std::string name;
    ItemKind kind = ItemKind::Kit;
    std::optional<Millilitres> bottleVolume; // Kit and Bottle: 500 or 1000
    std::string gtin;                        // 14 digits or empty
    std::string connector;                   // fit class; must match the catheter's ("" = any)
    std::vector<Material> contains;          // bars it for the allergic
    std::vector<KitContent> contents;
    std::vector<Substitute> substitutes;
    PackSize casePack;             // how it is shelved and sent in whole cases
    bool sendWholeCases = false;   // to homes; otherwise by the each
    std::int64_t unitVolumeMl = 0; // outside volume of one each, for car space
    std::optional<Days> shelfLife;
    Days leastLifeOnReceipt = Days::of(180); // common practice
    Days leastLifeToHome = Days::of(60);     // common practice
    StockClass stockClass = StockClass::A;
    std::optional<std::int64_t> serviceLevelPermille; // else the agency's setting for the class
    bool isActive = true;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Item &, const Item &) = default;
};

enum class LotState : std::uint8_t { Usable, Quarantined, Recalled };
struct Lot {
    LotId id;
    ItemId item;
    std::string number;
    std::optional<Date> expiresOn; // last day of use
    LotState state = LotState::Usable;
    std::string stateReason;
    bool isPickedFirst = false; // somebody decided: given out before the others, also where its life is short
    std::int64_t rowVersion = 0;
    friend bool operator==(const Lot &, const Lot &) = default;
};

// How lot numbers are compared: a slip and a notice write blanks, hyphens and case as they like.
inline std::string asLotNumber(std::string_view number) {
    std::string kept;
    for (const char c : number) {
        const char upper = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
        if ((upper >= 'A' && upper <= 'Z') || (upper >= '0' && upper <= '9'))
            kept += upper;
    }
    return kept;
}

// Where stock can stand or go. Supplier, Used, Wasted, Returned and Variance are the outside world.
enum class PlaceKind : std::uint8_t {
    Supplier,
    Storeroom,
    Quarantine,
    Car,
    Transit,
    Home, // Car: nurse; Transit: delivery; Home: catheter
    Used,
    Wasted,
    Returned,
    Variance // Used: drain entry; Variance: a count's difference
};
struct Place {
    PlaceKind kind = PlaceKind::Storeroom;
    std::int64_t ref = 0; // nurse, delivery, catheter, supplier or entry by kind; 0 where none is meant

    static Place storeroom() { return {PlaceKind::Storeroom, 0}; }
    static Place quarantine() { return {PlaceKind::Quarantine, 0}; }
    static Place variance() { return {PlaceKind::Variance, 0}; }
    static Place wasted() { return {PlaceKind::Wasted, 0}; }
    static Place returned() { return {PlaceKind::Returned, 0}; }
    static Place supplier(SupplierId s) { return {PlaceKind::Supplier, s.value()}; }
    static Place car(NurseId n) { return {PlaceKind::Car, n.value()}; }
    static Place transit(DeliveryId d) { return {PlaceKind::Transit, d.value()}; }
    static Place home(CatheterId c) { return {PlaceKind::Home, c.value()}; }
    static Place used(DrainEntryId e) { return {PlaceKind::Used, e.value()}; }
    friend auto operator<=>(const Place &, const Place &) = default;
};
constexpr bool isInside(PlaceKind k) {
    return k == PlaceKind::Storeroom || k == PlaceKind::Quarantine || k == PlaceKind::Car ||
           k == PlaceKind::Transit || k == PlaceKind::Home;
}

enum class MovementReason : std::uint8_t {
    Opening,
    Receipt,
    Issue,
    Handover,
    Use,
    Waste,
    Count,
    Return,
    Quarantine,
    Correction
};
// `quantity` eaches of one item (and lot, where known) went from one place to another. Never edited, never
// deleted: a mistake is undone by a contrary movement that names the one it undoes.
struct StockMovement {
    MovementId id;
    LocalTime at;
    ItemId item;
    std::optional<LotId> lot;
    Eaches quantity; // > 0
    Place from;
    Place to;
    MovementReason reason = MovementReason::Issue;
    std::optional<DeliveryId> delivery;
    std::optional<ReceiptId> receipt;
    std::optional<MovementId> undoes;
    std::string note;
    friend bool operator==(const StockMovement &, const StockMovement &) = default;
};

// Somebody counted one item at one home (catheter's stock line). The difference from the ledger is posted as
// a Variance movement in the same transaction, so the ledger equals the count at that moment.
struct HomeCount {
    HomeCountId id;
    CatheterId catheter;
    ItemId item;
    LocalTime at;
    Eaches counted;
    EntrySource source = EntrySource::Phone;
    std::string note;
    std::int64_t rowVersion = 0;
    friend bool operator==(const HomeCount &, const HomeCount &) = default;
};

// A balance as of the snapshot's date: what stands where, by lot where known.
struct StockBalance {
    Place place;
    ItemId item;
    std::optional<LotId> lot;
    Eaches quantity; // may be negative where the record is wrong; shown, never clipped
    friend bool operator==(const StockBalance &, const StockBalance &) = default;
};

// A shipment is never automatic: a refill needs an affirmative answer each time (federal DMEPOS refill rule).
enum class RefillAnswer : std::uint8_t { Confirmed, Declined, NoAnswer };
struct RefillContact {
    RefillContactId id;
    PatientId patient;
    LocalTime at;
    std::string answeredBy;
    RefillAnswer answer = RefillAnswer::Confirmed;
    std::string reasonForNeed;
    std::string note;
    friend bool operator==(const RefillContact &, const RefillContact &) = default;
};

enum class DeliveryStatus : std::uint8_t { Promised, Picked, InTransit, Delivered, Cancelled };
enum class DeliveryWay : std::uint8_t { Courier, WithVisit };
struct DeliveryLine {
    CatheterId catheter; // whose stock line
    ItemId item;
    std::optional<LotId> lot; // set at picking
    Eaches quantity;          // as packed
    Eaches damaged = {};      // of quantity, once delivered: never part of the home's stock
    Eaches missing = {};      // the same
    Eaches notArrived() const { return damaged + missing; }
    Eaches arrived() const { return quantity - notArrived(); } // before it is delivered: what is to arrive
    friend bool operator==(const DeliveryLine &, const DeliveryLine &) = default;
};
// Promised is not free stock any more; InTransit stands in the Transit place; Delivered stands in the home.
struct Delivery {
    DeliveryId id;
    PatientId patient;
    DeliveryStatus status = DeliveryStatus::Promised;
    DeliveryWay way = DeliveryWay::Courier;
    std::optional<NurseId> carriedBy; // WithVisit
    std::optional<VisitId> visit;     // WithVisit, once planned
    Date promisedFor;
    std::optional<Date> deliverBy; // run-out deadline it was promised against
    std::optional<LocalTime> shippedAt;
    std::string trackingNumber; // the courier's own, once it has left
    std::optional<LocalTime> deliveredAt;
    std::string receivedBy; // staff may not sign for the patient (42 CFR 424.57(c)(12))
    std::string receiverRelation;
    std::string cancelReason;
    std::vector<DeliveryLine> lines;
    std::optional<RefillContactId> contact;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Delivery &, const Delivery &) = default;
};

} // namespace kitround
