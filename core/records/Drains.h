#pragma once
// What the prescriber ordered and what the home logged, catheter by catheter.
#include "core/base/Date.h"
#include "core/records/Ids.h"

#include <optional>
#include <string>
#include <vector>

namespace kitround {

enum class DrainPatternKind : std::uint8_t { EveryNDays, TimesAWeek, AsNeeded };

// EveryNDays is anchored to a date, not a weekday. TimesAWeek on named weekdays, or free (empty set).
// AsNeeded has a maximum; an as-needed order without one is shown as incomplete, never filled in.
struct DrainPattern {
    DrainPatternKind kind = DrainPatternKind::EveryNDays;
    int everyDays = 1;              // EveryNDays: 1..60
    Date anchor;                    // EveryNDays: a day on which a drain is due
    int timesAWeek = 0;             // TimesAWeek: 1..7
    WeekdaySet weekdays;            // TimesAWeek: named days; empty = the home chooses
    std::optional<int> mostPerDay;  // AsNeeded
    std::optional<int> mostPerWeek; // AsNeeded
    friend bool operator==(const DrainPattern &, const DrainPattern &) = default;
};

// One version of a drain order. A change is a new version from its effective date; the old one is ended the
// day before, never overwritten.
struct DrainOrder {
    DrainOrderId id;
    CatheterId catheter;
    DrainPattern pattern;
    Date start;
    std::optional<Date> end;                   // first day no longer in force
    std::optional<Millilitres> mostPerSession; // prescribed; unknown is shown, never guessed
    ItemId kit;                                // the kit of the preferred bottle size
    std::optional<ItemId> extraBottle;         // bottle used beyond the kit's own
    bool allowsSubstitute = false;             // two small bottles for a large one, and back
    std::string prescriber;
    bool isVerbal = false;
    std::optional<Date> signedOn;
    std::string callParameters; // the prescriber's own words on when to call
    std::optional<DrainOrderId> replaces;
    std::int64_t rowVersion = 0;
    // Its drains take it: as the kit, or as the bottle beyond it.
    bool uses(ItemId item) const { return kit == item || extraBottle == item; }
    friend bool operator==(const DrainOrder &, const DrainOrder &) = default;
};

// What the prescriber said when asked whether an order still holds: it does. Where it does not, a new version
// of the order is the answer.
struct OrderAnswer {
    OrderAnswerId id;
    DrainOrderId order;
    LocalTime at;
    std::string answeredBy;  // who spoke for the prescriber
    std::string words;       // what was said
    bool wasReadBack = true; // an answer that was not read back does not count
    UserId takenBy;
    std::int64_t rowVersion = 0;
    friend bool operator==(const OrderAnswer &, const OrderAnswer &) = default;
};

enum class DrainOutcome : std::uint8_t { Drained, Dry, NotDone }; // NotDone: known not to have happened
enum class EntrySource : std::uint8_t { HomeLog, Nurse, Phone, Import };
enum class Symptom : std::uint8_t {
    WorseBreathlessness,
    SeverePain,
    Collapse,
    HeavyBleeding, // emergency words
    Fever,
    Redness,
    Swelling,
    PusOrSmell,
    CloudyFluid,
    NewBlood,
    ColourChange,
    Leak,
    WetDressing,
    TubeMoved,
    CuffShowing,
    TubeDamaged,
    NoFlow,
    SuddenFall,
    PainOnDrain,
    Cough,
    LightHeaded,
    Confusion,
    LowUrine,
    FastWeightLoss,
};
inline constexpr int kSymptomCount = 24;

struct BottleUse {
    ItemId item; // kit or extra bottle
    Eaches used; // opened, drained into
    Eaches lost; // opened and wasted: no vacuum, tip contaminated
    std::optional<LotId> lot;
    friend bool operator==(const BottleUse &, const BottleUse &) = default;
};

// One session at one catheter. Two bottles in one session are one entry, not two.
struct DrainEntry {
    DrainEntryId id;
    CatheterId catheter;
    LocalTime at;
    bool timeIsKnown = true; // false: only the date was written down
    DrainOutcome outcome = DrainOutcome::Drained;
    std::optional<Millilitres> volume; // unknown is not zero
    std::vector<BottleUse> supplies;   // empty: not written down; the forecast then uses the plain rule
    std::vector<Symptom> symptoms;
    EntrySource source = EntrySource::HomeLog;
    std::optional<VisitId> visit;
    std::string note;
    std::optional<DrainEntryId> corrects; // this entry replaces that one
    bool isVoid = false;                  // replaced or struck out; kept for the record
    std::int64_t rowVersion = 0;
    friend bool operator==(const DrainEntry &, const DrainEntry &) = default;
};

} // namespace kitround
