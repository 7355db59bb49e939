#pragma once
// The people looked after and where they live, their catheters, and who pays.
#include "core/base/Date.h"
#include "core/records/Ids.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace kitround {

struct GeoPoint {
    double latitude = 0;  // degrees north, WGS 84
    double longitude = 0; // degrees east
    friend bool operator==(const GeoPoint &, const GeoPoint &) = default;
};
enum class PointQuality : std::uint8_t { Exact, StreetCentre, PostalAreaCentre };
enum class AreaKind : std::uint8_t { Urban, Suburban, Rural };
inline constexpr std::size_t kAreas = 3;
constexpr std::size_t indexOf(AreaKind area) { // for tables by area
    return static_cast<std::size_t>(area);
}

struct Address {
    std::string street;
    std::string town;
    std::string postalCode;
    std::string accessNotes;       // never on paper that leaves the office unless the nurse needs it
    std::optional<GeoPoint> point; // unknown is not zero
    PointQuality quality = PointQuality::Exact;
    AreaKind area = AreaKind::Suburban;
    friend bool operator==(const Address &, const Address &) = default;
};

// When a person can be visited. Several a day are allowed; none at all means any time of the visiting day.
struct VisitWindow {
    Weekday weekday = Weekday::Monday;
    Minutes from;
    Minutes to;         // exclusive
    bool isHard = true; // soft windows cost, hard ones forbid
    friend bool operator==(const VisitWindow &, const VisitWindow &) = default;
};

enum class Material : std::uint8_t { Latex, Adhesive, Chlorhexidine, Iodine };
enum class Gender : std::uint8_t { Female, Male, Other };
enum class CareStatus : std::uint8_t { Referred, Active, Discharged, Transferred, Deceased };
enum class Acuity : std::uint8_t { Low, Medium, High };
// Who has been shown to drain: None, Shown (watched), Helped (with the nurse's hand), Alone (signed off).
enum class Competence : std::uint8_t { None, Shown, Helped, Alone };
// Emergency ranking, one individual plan a patient (42 CFR 484.102, from memory): First is reached first.
enum class EmergencyPriority : std::uint8_t { First, Second, Third };

struct Patient {
    PatientId id;
    std::string code; // short reference the agency uses, unique
    std::string familyName;
    std::string givenName;
    std::optional<Date> bornOn;
    std::optional<Gender> gender;
    std::string phone;
    Address address;
    std::vector<std::string> languages; // BCP 47 tags, first is preferred; empty is unknown
    std::optional<Gender> nurseGenderWish;
    PayerId payer;
    CareStatus status = CareStatus::Referred;
    std::optional<Instant> referredAt; // the 48-hour clock starts here, not at data entry
    std::optional<Instant> homeFrom;   // return home, if later than the referral
    std::optional<Date> startOfCare;   // day 1 of the 60-day period
    std::optional<Instant> exitedAt;   // set with Discharged, Transferred, Deceased
    std::string exitReason;
    std::optional<NurseId> primaryNurse;
    std::optional<NurseId> backupNurse;
    std::string assignmentReason; // why these two, in a sentence
    std::vector<NurseId> barredNurses;
    std::vector<Material> allergies;   // materials that bar an item
    std::optional<Date> noAllergiesOn; // asked that day, and none known; never beside a material
    Competence patientCompetence = Competence::None;
    Competence caregiverCompetence = Competence::None;
    std::optional<Date> competenceOn;
    std::optional<Acuity> acuity; // empty: not assessed yet, and shown so
    std::optional<EmergencyPriority> emergencyPriority;
    bool needsTwoNurses = false; // every visit, for safety; a single visit may ask for it too
    bool allowsCourier = true;
    std::vector<VisitWindow> windows;
    std::string notes;
    std::int64_t rowVersion = 0; // optimistic lock; the store counts it up
    friend bool operator==(const Patient &, const Patient &) = default;
};
constexpr bool isOnService(CareStatus s) {
    return s == CareStatus::Referred || s == CareStatus::Active;
}
constexpr bool isExit(CareStatus s) {
    return !isOnService(s);
}
inline bool isAllergyKnown(const Patient &p) {
    return !p.allergies.empty() || p.noAllergiesOn;
}
// What is reckoned with: the middle of the three until a person has judged.
inline Acuity acuityOf(const Patient &p) {
    return p.acuity.value_or(Acuity::Medium);
}
inline EmergencyPriority emergencyPriorityOf(const Patient &p) {
    return p.emergencyPriority.value_or(EmergencyPriority::Second);
}
// True where someone in the home has been signed off to drain without a nurse.
inline bool homeDrainsItself(const Patient &p) {
    return p.patientCompetence == Competence::Alone || p.caregiverCompetence == Competence::Alone;
}

enum class CavitySite : std::uint8_t { Chest, Abdomen };
enum class Side : std::uint8_t { Left, Right, Midline };

// A catheter is a record of its own: each has its order, log, side, stock line and forecast.
struct Catheter {
    CatheterId id;
    PatientId patient;
    CavitySite site = CavitySite::Chest;
    Side side = Side::Right;
    std::string connector;          // fit class of the drainage line; an item must match it ("" = not known)
    std::optional<Date> insertedOn; // unknown is not zero
    std::optional<Instant> removedAt; // set when it is out
    std::string removalReason;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Catheter &, const Catheter &) = default;
};

// Refill windows differ by who pays, so the rule is stored here and never globally.
// Defaults: confirmed need within 30 days before, delivery not earlier than 10 days before the current supply
// ends (federal DMEPOS refill rule since 2024-01-01, 88 FR 77676), at most 30 days a shipment (common
// practice).
struct Payer {
    PayerId id;
    std::string name;
    bool refillRuleApplies = true;
    Days contactAtMostBefore = Days::of(30);
    Days deliverAtMostBefore = Days::of(10);
    Days mostDaysHeld = Days::of(30);
    std::int64_t rowVersion = 0;
    friend bool operator==(const Payer &, const Payer &) = default;
};

// Authorised visits or units with dates; used and left are counted, never stored.
struct Authorisation {
    AuthorisationId id;
    PatientId patient;
    std::string reference;
    Date from;
    Date to; // exclusive
    std::int64_t visitsAllowed = 0;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Authorisation &, const Authorisation &) = default;
};

// Away from home or not to be visited. One hold pauses visits, refill calls, silence alerts and catheter-days
// together, and they resume together.
enum class HoldKind : std::uint8_t { Hospital, Facility, Travel, Other };
struct Hold {
    HoldId id;
    PatientId patient;
    HoldKind kind = HoldKind::Hospital;
    Date from;                          // first day on hold
    std::optional<Date> expectedReturn; // first day home again, a guess
    std::optional<Date> to;             // first day home again, known; empty while the hold is open
    bool stillDraining = false;         // travel with supplies: use goes on though visits stop
    std::string reason;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Hold &, const Hold &) = default;
};

} // namespace kitround
