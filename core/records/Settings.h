#pragma once
// Every default of the trade is a labelled setting with its source; nothing is hard-coded in an engine. Where
// the agency's own figures are known (LearnedFigure), they replace the default and the count behind them is
// shown.
#include "core/base/Date.h"
#include "core/base/Money.h"
#include "core/records/Ids.h"
#include "core/records/Visits.h"

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace kitround {

// Whole numbers all; the unit is in the table below (SettingInfo::unit).
enum class SettingKey : std::uint8_t {
    // visits: minutes in the home and notes after, by kind
    VisitMinutesStart,
    VisitMinutesResumption,
    VisitMinutesRecert,
    VisitMinutesDischarge,
    VisitMinutesRoutine,
    VisitMinutesTeaching,
    VisitMinutesDrainOnly,
    VisitMinutesDressing,
    VisitMinutesSupplyCount,
    VisitMinutesFollowUp,
    VisitMinutesAsNeeded,
    VisitMinutesSupervisory,
    VisitMinutesPhone,
    NotesMinutesStart,
    NotesMinutesRecert,
    NotesMinutesRoutine,
    // visits: weights of the weighted caseload, hundredths of a point
    PointsStart,
    PointsResumption,
    PointsRecert,
    PointsDischarge,
    PointsTeaching,
    PointsRoutine,
    PointsSupervisory,
    MilesPerPoint,
    PointsPerWeek,
    AmberLoadPercent,
    RedLoadPercent,
    AmberVisitsADay,
    RedVisitsADay,
    FirstVisitHours,
    AssessmentDays,
    CertificationDays,
    RecertWindowDays,
    DressingCheckDays,
    SoonestVisitMinutes, // from now to the start of a visit that is given a new place, beside the drive
    // travel
    DetourShortPercent,
    DetourMiddlePercent,
    DetourLongPercent, // below 5 miles, to 20, beyond
    SpeedUrban,
    SpeedSuburban,
    SpeedRural, // miles an hour
    StopMinutes,
    MileageRateTenthCents,
    OvertimeHourMinor, // 0: not told
    // plan: the cost of one unit in weighted minutes; see core/rounds
    CostUnplacedLow,
    CostUnplacedMiddle,
    CostUnplacedHigh,
    CostUnplacedUrgent,
    CostOvertimeMinute100,
    CostTravelMinute100,
    CostWaitMinute100,
    CostNotPrimary,
    CostNotKnown,
    CostSecondNurse,
    CostSoftWindowMinute100,
    CostUnevenPoint100,
    CostCourierRun,
    CostChanged,
    // drains and supplies
    AdherencePermille,
    AdherenceWeight, // prior mean and its weight in sessions
    WastePermille,
    WasteWeight, // prior mean and its weight in bottles
    PlanVolumeChest,
    PlanVolumeAbdomen, // mL, only where there is no log yet
    LogMemoryDays,     // half-life of old sessions in learning, days
    RemovalPerMyriadDaily,
    RemovalPerMyriadEveryOther,
    RemovalPerMyriadLess, // exits a day, ten-thousandths
    DeathPerMyriadChest,
    DeathPerMyriadAbdomen,
    BufferSessions,
    StarterDays,
    RunOutTargetPermille, // chance of run-out before the next delivery
    RefillCycleDays, // aimed at from one delivery to the next; a payer's most days held stays the ceiling
    CourierDays,     // bit set, Sunday = 1
    CourierLeadDays,
    CourierCutOffMinute,
    CourierCostMinor,
    ServicePermilleA,
    ServicePermilleB,
    ServicePermilleC,
    ReviewDays,
    LeadDays,
    LeadSpreadDays,
    OrderCostMinor,       // work of one purchase order, whatever its size
    HoldingPermilleAYear, // of its price, to keep a piece for a year
    ReferralsPerWeekHundredths,
    LowOutputMl,
    LowOutputRun,
    SilenceDaysBeyond,
    SharpChangePercent,
    OwnFigureLeastN, // how many observations before the agency's own figure is used
    ExpiryWarnDays,
    ExpiryListDaysFirst, // the bands of the list of lots that fall due, each holding those before it
    ExpiryListDaysSecond,
    ExpiryListDaysThird,
    ExpiryListDaysLast,
    ReturnLeastLifeDays, // a supplier is not asked to take back what has less left
    DayStart,
    DayEnd, // usual visiting hours, minutes after midnight
    // on call: payment units a turn, hundredths, and rest before the next day's work
    CallUnitsNight100,
    CallUnitsWeekend100,
    CallUnitsHoliday100,
    RestAfterCallHours,
    // storeroom counts: the class follows the share of the yearly use value, the class sets the interval
    ClassASharePercent,
    ClassBSharePercent, // A and B together
    CountDaysA,
    CountDaysB,
    CountDaysC,
    CountSecondPersonMinor, // a difference worth more than this needs a second person
    SupplyBudgetMinor,      // orders to suppliers a calendar month; 0: none is set
    // team: hand-over and watch list
    HandOverHours,  // a shift: what nobody has accepted for longer is chased
    WatchDwellDays, // catheter days from which a patient is looked at
    WatchCalls,     // trouble calls within WatchCallDays that put a patient on the list
    WatchCallDays,
    WatchSnoozeMostDays,
    Count_
};
inline constexpr std::size_t kSettingCount = static_cast<std::size_t>(SettingKey::Count_);

struct SettingInfo {
    SettingKey key;
    std::string_view name;  // stable, snake_case: the store's key
    std::string_view group; // "visits", "travel", "plan", "drains", "supplies", "safety", "on_call", "team"
    std::string_view unit;
    std::int64_t preset;
    std::int64_t least;
    std::int64_t most;
    std::string_view source; // "common practice", "from memory", "assumed", or the published source
};
std::span<const SettingInfo> settingTable(); // in the order of the keys
const SettingInfo &infoOf(SettingKey key);
std::optional<SettingKey> settingNamed(std::string_view name);

// In which a distance is entered and shown; stored in metres.
enum class DistanceUnit : std::uint8_t { Miles, Kilometres };

struct AgencySettings {
    std::string agencyName;
    std::string phone;                         // the agency's own, for papers that leave the house
    std::string orderContact;                  // whom a supplier asks about an order
    std::string timeZone = "America/New_York"; // IANA name
    Weekday weekStart = Weekday::Sunday;       // Sunday or Monday
    std::string currency = "USD";              // ISO 4217
    DistanceUnit distanceUnit = DistanceUnit::Miles;
    bool holidaysAreWorked = false; // plan visits on federal holidays?
    WeekdaySet visitingDays = WeekdaySet::all();
    Address storeroom;
    // Where the agency's own sheet on used bottles is, or what it says; the program gives no rules of its
    // own.
    std::string usedBottleRules;
    std::vector<Date> ownHolidays;
    bool isInvented = false;                         // demo data: every page and paper says so
    std::optional<Date> demoToday;                   // the sample agency's own day
    std::array<std::int64_t, kSettingCount> numbers; // by key

    AgencySettings(); // all presets
    std::int64_t operator[](SettingKey key) const { return numbers[static_cast<std::size_t>(key)]; }
    void set(SettingKey key, std::int64_t value) { numbers[static_cast<std::size_t>(key)] = value; }
    friend bool operator==(const AgencySettings &, const AgencySettings &) = default;
};
// Tenths of a cent a mile, rounded to the cent.
Money mileagePaid(const AgencySettings &settings, Metres driven);
Money overtimePaid(const AgencySettings &settings, Minutes overtime); // nothing where it is not told
// Minutes in the home, minutes of notes and weight in points of a kind of visit, by the settings.
Minutes visitLength(const AgencySettings &settings, VisitKind kind);
Minutes notesLength(const AgencySettings &settings, VisitKind kind);
double visitPoints(const AgencySettings &settings, VisitKind kind);

// The agency's own figure for a setting and how many observations stand behind it.
struct LearnedFigure {
    SettingKey key;
    std::int64_t value = 0;
    std::int64_t n = 0;
    bool isUsed = false; // n reached OwnFigureLeastN
};

} // namespace kitround
