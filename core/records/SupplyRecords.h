#pragma once
// What the supply clerk keeps beside the ledger: what each home of a lot said, another size standing in for a
// while, who does what about a shortage, what became of stock when care ended, and how much a car should
// carry.
#include "core/base/Date.h"
#include "core/base/Money.h"
#include "core/records/Ids.h"

#include <optional>
#include <string>
#include <vector>

namespace kitround {

// One try to reach a home that received a lot; written once, the newest stands. A message is no answer: the
// home counts as reached only once somebody there has spoken.
enum class RecallAnswer : std::uint8_t { NoAnswer, MessageLeft, SetAside, NoneLeft, Declined };
constexpr bool isReached(RecallAnswer answer) {
    return answer != RecallAnswer::NoAnswer && answer != RecallAnswer::MessageLeft;
}
struct RecallOutcome {
    RecallOutcomeId id;
    LotId lot;
    CatheterId catheter; // whose stock line
    LocalTime at;
    std::string toldBy;    // of the agency
    std::string spokeWith; // in the home; needed where it was reached
    RecallAnswer answer = RecallAnswer::NoAnswer;
    Eaches setAside; // unopened, put aside at home
    Eaches replaced; // of those, already replaced
    std::string note;
    friend bool operator==(const RecallOutcome &, const RecallOutcome &) = default;
};

// Another item stands in for the ordered one at one home: who approved it, that the home was taught, and the
// day on which the ordered item goes again. Both sizes differ in connections and limits, so it is never
// silent and never without an end.
enum class Approver : std::uint8_t { Prescriber, Nurse };
struct Substitution {
    SubstitutionId id;
    CatheterId catheter;
    ItemId item;    // as ordered
    ItemId standIn; // what goes in its place
    Approver approver = Approver::Prescriber;
    std::string approvedBy;
    Date approvedOn;
    std::string taughtBy; // who showed the home
    Date taughtOn;
    Date from;
    Date revertOn;                  // first day the ordered item goes again
    std::optional<Date> revertedOn; // closed: what goes is the ordered item again
    std::string note;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Substitution &, const Substitution &) = default;
};
constexpr bool isInForce(const Substitution &s, Date on) {
    return !s.revertedOn && s.from <= on && on < s.revertOn;
}

// What is done about one home (or, without a catheter, one item) that a shortage reaches.
struct ShortageAction {
    ShortageActionId id;
    ItemId item;
    std::optional<CatheterId> catheter;
    std::string action;
    std::string owner;
    LocalTime openedAt;
    std::string outcome; // needed to close it
    std::optional<LocalTime> closedAt;
    std::int64_t rowVersion = 0;
    friend bool operator==(const ShortageAction &, const ShortageAction &) = default;
};

// What became of stock in a home once it is no longer needed there. Nothing that stood in a home goes back to
// the storeroom's usable stock (common practice): it is destroyed, donated by policy, left to the patient who
// owns it, or returned to the supplier for credit.
enum class Disposition : std::uint8_t { Destroyed, Donated, KeptByHome, SupplierCredit };
struct HomeReturn {
    HomeReturnId id;
    CatheterId catheter;
    ItemId item;
    std::optional<LotId> lot;
    LocalTime at;
    Eaches quantity;
    Eaches sealed; // of those
    Disposition disposition = Disposition::Destroyed;
    Money writeOff; // what leaves the books
    std::string decidedBy;
    std::string note;
    friend bool operator==(const HomeReturn &, const HomeReturn &) = default;
};

// How much of an item a nurse's car should carry; one a nurse and item.
struct CarPar {
    CarParId id;
    NurseId nurse;
    ItemId item;
    Eaches par;
    std::int64_t rowVersion = 0;
    friend bool operator==(const CarPar &, const CarPar &) = default;
};

} // namespace kitround
