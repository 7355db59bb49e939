// Machine names of fields, as the schema and CSV heads write them, turned into what the forms call them.
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace kitround::desk {
namespace {

struct FieldWord {
    std::string_view field;
    const char *words;
};
// Only the names that the general rule below would say badly.
constexpr FieldWord kSpecial[] = {
    {"volume_ml", QT_TRANSLATE_NOOP("kitround", "Volume")},
    {"at", QT_TRANSLATE_NOOP("kitround", "Date and time")},
    {"most_per_session_ml", QT_TRANSLATE_NOOP("kitround", "Most in one session")},
    {"most_ml", QT_TRANSLATE_NOOP("kitround", "Most in one session")},
    {"from_on", QT_TRANSLATE_NOOP("kitround", "From")},
    {"away_from_on", QT_TRANSLATE_NOOP("kitround", "First day away")},
    {"away_to_on", QT_TRANSLATE_NOOP("kitround", "Last day away")},
    {"to_on", QT_TRANSLATE_NOOP("kitround", "Until")},
    {"contact_at_most_before", QT_TRANSLATE_NOOP("kitround", "Need confirmed at most")},
    {"deliver_at_most_before", QT_TRANSLATE_NOOP("kitround", "Delivered at most")},
    {"every_days", QT_TRANSLATE_NOOP("kitround", "Every how many days")},
    {"anchor", QT_TRANSLATE_NOOP("kitround", "Counted from a drain on")},
    {"pattern", QT_TRANSLATE_NOOP("kitround", "How often")},
    {"connector", QT_TRANSLATE_NOOP("kitround", "Connector class")},
    {"quality", QT_TRANSLATE_NOOP("kitround", "The point is")},
    {"emergency_priority", QT_TRANSLATE_NOOP("kitround", "In an emergency")},
    {"no_allergies_on", QT_TRANSLATE_NOOP("kitround", "No allergies known, asked on")},
    {"times_a_week", QT_TRANSLATE_NOOP("kitround", "Times a week")},
    {"most_per_day", QT_TRANSLATE_NOOP("kitround", "Most a day")},
    {"most_per_week", QT_TRANSLATE_NOOP("kitround", "Most a week")},
    {"born_on", QT_TRANSLATE_NOOP("kitround", "Date of birth")},
    {"homeFrom", QT_TRANSLATE_NOOP("kitround", "Home from")},
    {"gtin", QT_TRANSLATE_NOOP("kitround", "Article number (GTIN)")},
    {"per_case_minor", QT_TRANSLATE_NOOP("kitround", "Price of a case")},
    {"least_order_minor", QT_TRANSLATE_NOOP("kitround", "Smallest order")},
    {"eaches_per_case", QT_TRANSLATE_NOOP("kitround", "Eaches in a case")},
    {"least_life_on_receipt_days", QT_TRANSLATE_NOOP("kitround", "Least life on receipt")},
    {"least_life_to_home_days", QT_TRANSLATE_NOOP("kitround", "Least life for homes")},
    {"scan", QT_TRANSLATE_NOOP("kitround", "Scanned label")},
    {"expires_on", QT_TRANSLATE_NOOP("kitround", "Last day of use")},
    {"least_per_week", QT_TRANSLATE_NOOP("kitround", "Least a week")},
    {"promised_lead_days", QT_TRANSLATE_NOOP("kitround", "Promised lead time")},
    {"service_level_permille", QT_TRANSLATE_NOOP("kitround", "Service level")},
    {"latitude", QT_TRANSLATE_NOOP("kitround", "Latitude")},
    {"longitude", QT_TRANSLATE_NOOP("kitround", "Longitude")},
    {"soc_on", QT_TRANSLATE_NOOP("kitround", "Start of care")},
    {"start_of_care", QT_TRANSLATE_NOOP("kitround", "Start of care")},
    {"stand_in_item_id", QT_TRANSLATE_NOOP("kitround", "What stands in")},
    {"revert_on", QT_TRANSLATE_NOOP("kitround", "Goes back on")},
    {"par", QT_TRANSLATE_NOOP("kitround", "Par in the car")},
    {"primary_nurse_id", QT_TRANSLATE_NOOP("kitround", "Main nurse")},
    {"assignment_reason", QT_TRANSLATE_NOOP("kitround", "Why these nurses")},
    {"why_day", QT_TRANSLATE_NOOP("kitround", "Why that day")},
    {"why_more", QT_TRANSLATE_NOOP("kitround", "Why more than was offered")},
    {"after_order_id", QT_TRANSLATE_NOOP("kitround", "Comes after")},
    {"after_visit_id", QT_TRANSLATE_NOOP("kitround", "Comes after")},
    {"after_unit", QT_TRANSLATE_NOOP("kitround", "Counted in")},
    {"after_by_another", QT_TRANSLATE_NOOP("kitround", "By another nurse")},
    {"cost", QT_TRANSLATE_NOOP("kitround", "Weighted minutes")},
    {"due_to_on", QT_TRANSLATE_NOOP("kitround", "Due before")},
    {"published_by_user_id", QT_TRANSLATE_NOOP("kitround", "Published by")},
    {"after_least", QT_TRANSLATE_NOOP("kitround", "At least so much after")},
    {"after_most", QT_TRANSLATE_NOOP("kitround", "At most so much after")},
    {"kept_place", QT_TRANSLATE_NOOP("kitround", "Where the piece is kept")},
    {"noted_by_id", QT_TRANSLATE_NOOP("kitround", "Noted by")},
    {"learned_on", QT_TRANSLATE_NOOP("kitround", "Learned of on")},
    {"told", QT_TRANSLATE_NOOP("kitround", "Who was told")},
    {"told_by", QT_TRANSLATE_NOOP("kitround", "Told by")},
    {"taken_back_why", QT_TRANSLATE_NOOP("kitround", "Why it is put back")},
    {"csv", QT_TRANSLATE_NOOP("kitround", "The table")},
    {"head", QT_TRANSLATE_NOOP("kitround", "The names of the columns")},
    {"row", QT_TRANSLATE_NOOP("kitround", "The row")},
    {"anchor_on", QT_TRANSLATE_NOOP("kitround", "Counted from a drain on")},
};
constexpr std::array<std::string_view, 9> kUnits = {"_ml", "_min",   "_days",     "_on", "_at",
                                                    "_id", "_minor", "_permille", "_m"};

std::string_view lastPart(std::string_view field) {
    if (const auto dot = field.rfind('.'); dot != std::string_view::npos && dot + 1 < field.size())
        field.remove_prefix(dot + 1);
    if (const auto bracket = field.find('['); bracket != std::string_view::npos && bracket > 0)
        field = field.substr(0, bracket);
    return field;
}

// "mostPerSession" and "most_per_session" both become "Most per session".
QString spokenOut(std::string_view field) {
    for (const std::string_view unit : kUnits)
        if (field.size() > unit.size() && field.ends_with(unit)) {
            field.remove_suffix(unit.size());
            break;
        }
    QString text;
    for (const char c : field) {
        if (c == '_')
            text += u' ';
        else if (c >= 'A' && c <= 'Z') {
            if (!text.isEmpty())
                text += u' ';
            text += QChar::fromLatin1(static_cast<char>(c - 'A' + 'a'));
        } else
            text += QChar::fromLatin1(c);
    }
    if (!text.isEmpty())
        text[0] = text[0].toUpper();
    return text;
}

} // namespace

QString fieldName(const std::string &field) {
    const std::string_view name = lastPart(field);
    const auto *const found = std::ranges::find(kSpecial, name, &FieldWord::field);
    return found != std::end(kSpecial) ? Text::tr(found->words) : spokenOut(name);
}

QString label(SettingKey key) {
    const SettingInfo &info = infoOf(key);
    struct LabelWord {
        SettingKey key;
        const char *words;
    };
    using enum SettingKey;
    static constexpr LabelWord kLabels[] = {
        {VisitMinutesStart, QT_TRANSLATE_NOOP("kitround", "Visit length: start of care")},
        {VisitMinutesResumption, QT_TRANSLATE_NOOP("kitround", "Visit length: resumption")},
        {VisitMinutesRecert, QT_TRANSLATE_NOOP("kitround", "Visit length: recertification")},
        {VisitMinutesDischarge, QT_TRANSLATE_NOOP("kitround", "Visit length: discharge")},
        {VisitMinutesRoutine, QT_TRANSLATE_NOOP("kitround", "Visit length: routine")},
        {VisitMinutesTeaching, QT_TRANSLATE_NOOP("kitround", "Visit length: teaching")},
        {VisitMinutesDrainOnly, QT_TRANSLATE_NOOP("kitround", "Visit length: drain only")},
        {VisitMinutesDressing, QT_TRANSLATE_NOOP("kitround", "Visit length: dressing check")},
        {VisitMinutesSupplyCount, QT_TRANSLATE_NOOP("kitround", "Visit length: supply count")},
        {VisitMinutesFollowUp, QT_TRANSLATE_NOOP("kitround", "Visit length: symptom follow-up")},
        {VisitMinutesAsNeeded, QT_TRANSLATE_NOOP("kitround", "Visit length: as needed")},
        {VisitMinutesSupervisory, QT_TRANSLATE_NOOP("kitround", "Visit length: supervisory")},
        {VisitMinutesPhone, QT_TRANSLATE_NOOP("kitround", "Visit length: phone")},
        {NotesMinutesStart, QT_TRANSLATE_NOOP("kitround", "Notes after a start or resumption")},
        {NotesMinutesRecert, QT_TRANSLATE_NOOP("kitround", "Notes after a recertification or discharge")},
        {NotesMinutesRoutine, QT_TRANSLATE_NOOP("kitround", "Notes after any other visit")},
        {PointsStart, QT_TRANSLATE_NOOP("kitround", "Weight: start of care")},
        {PointsResumption, QT_TRANSLATE_NOOP("kitround", "Weight: resumption")},
        {PointsRecert, QT_TRANSLATE_NOOP("kitround", "Weight: recertification")},
        {PointsDischarge, QT_TRANSLATE_NOOP("kitround", "Weight: discharge")},
        {PointsTeaching, QT_TRANSLATE_NOOP("kitround", "Weight: teaching")},
        {PointsRoutine, QT_TRANSLATE_NOOP("kitround", "Weight: routine and others")},
        {PointsSupervisory, QT_TRANSLATE_NOOP("kitround", "Weight: supervisory")},
        {MilesPerPoint, QT_TRANSLATE_NOOP("kitround", "Miles that weigh one point")},
        {PointsPerWeek, QT_TRANSLATE_NOOP("kitround", "Points in a full week")},
        {AmberLoadPercent, QT_TRANSLATE_NOOP("kitround", "Load that counts as nearly full")},
        {RedLoadPercent, QT_TRANSLATE_NOOP("kitround", "Load that counts as over full")},
        {AmberVisitsADay, QT_TRANSLATE_NOOP("kitround", "Visits a day above which a day is nearly full")},
        {RedVisitsADay, QT_TRANSLATE_NOOP("kitround", "Visits a day above which a day is over full")},
        {FirstVisitHours, QT_TRANSLATE_NOOP("kitround", "First visit within")},
        {AssessmentDays, QT_TRANSLATE_NOOP("kitround", "Assessment within")},
        {CertificationDays, QT_TRANSLATE_NOOP("kitround", "Certification period")},
        {RecertWindowDays, QT_TRANSLATE_NOOP("kitround", "Recertification window")},
        {DressingCheckDays, QT_TRANSLATE_NOOP("kitround", "Dressing check at least every")},
        {SoonestVisitMinutes,
         QT_TRANSLATE_NOOP("kitround", "A nurse can set out for a new visit no sooner than in")},
        {DetourShortPercent, QT_TRANSLATE_NOOP("kitround", "Road against straight line, under 5 miles")},
        {DetourMiddlePercent, QT_TRANSLATE_NOOP("kitround", "Road against straight line, 5 to 20 miles")},
        {DetourLongPercent, QT_TRANSLATE_NOOP("kitround", "Road against straight line, over 20 miles")},
        {SpeedUrban, QT_TRANSLATE_NOOP("kitround", "Driving speed, city")},
        {SpeedSuburban, QT_TRANSLATE_NOOP("kitround", "Driving speed, suburb")},
        {SpeedRural, QT_TRANSLATE_NOOP("kitround", "Driving speed, country")},
        {StopMinutes, QT_TRANSLATE_NOOP("kitround", "Minutes a stop for parking and walking")},
        {MileageRateTenthCents, QT_TRANSLATE_NOOP("kitround", "Mileage paid")},
        {OvertimeHourMinor, QT_TRANSLATE_NOOP("kitround", "Pay of an hour of overtime")},
        {CostUnplacedLow, QT_TRANSLATE_NOOP("kitround", "Cost of leaving out a visit, low priority")},
        {CostUnplacedMiddle, QT_TRANSLATE_NOOP("kitround", "Cost of leaving out a visit, middle priority")},
        {CostUnplacedHigh, QT_TRANSLATE_NOOP("kitround", "Cost of leaving out a visit, high priority")},
        {CostUnplacedUrgent, QT_TRANSLATE_NOOP("kitround", "Cost of leaving out a visit, urgent")},
        {CostOvertimeMinute100, QT_TRANSLATE_NOOP("kitround", "Cost of a minute of overtime")},
        {CostTravelMinute100, QT_TRANSLATE_NOOP("kitround", "Cost of a minute of travel")},
        {CostWaitMinute100, QT_TRANSLATE_NOOP("kitround", "Cost of a minute of waiting")},
        {CostNotPrimary, QT_TRANSLATE_NOOP("kitround", "Cost of a visit by another than the main nurse")},
        {CostNotKnown, QT_TRANSLATE_NOOP("kitround", "Cost of a visit by a nurse new to the patient")},
        {CostSecondNurse,
         QT_TRANSLATE_NOOP("kitround", "Cost of a second nurse to the same patient on one day")},
        {CostSoftWindowMinute100, QT_TRANSLATE_NOOP("kitround", "Cost of a minute outside a wished window")},
        {CostUnevenPoint100, QT_TRANSLATE_NOOP("kitround", "Cost of a point of uneven load")},
        {CostCourierRun, QT_TRANSLATE_NOOP("kitround", "Cost of a courier run")},
        {CostChanged, QT_TRANSLATE_NOOP("kitround", "Cost of moving a published visit")},
        {AdherencePermille,
         QT_TRANSLATE_NOOP("kitround", "Share of ordered drains that are done, before any log")},
        {AdherenceWeight, QT_TRANSLATE_NOOP("kitround", "Sessions that share counts as")},
        {WastePermille, QT_TRANSLATE_NOOP("kitround", "Share of bottles lost, before any log")},
        {WasteWeight, QT_TRANSLATE_NOOP("kitround", "Bottles that share counts as")},
        {PlanVolumeChest,
         QT_TRANSLATE_NOOP("kitround", "Volume assumed for planning, chest, before any log")},
        {PlanVolumeAbdomen,
         QT_TRANSLATE_NOOP("kitround", "Volume assumed for planning, abdomen, before any log")},
        {LogMemoryDays, QT_TRANSLATE_NOOP("kitround", "Days after which a logged drain weighs half")},
        {RemovalPerMyriadDaily, QT_TRANSLATE_NOOP("kitround", "Chance of removal a day, drained daily")},
        {RemovalPerMyriadEveryOther,
         QT_TRANSLATE_NOOP("kitround", "Chance of removal a day, every other day")},
        {RemovalPerMyriadLess, QT_TRANSLATE_NOOP("kitround", "Chance of removal a day, drained less often")},
        {DeathPerMyriadChest, QT_TRANSLATE_NOOP("kitround", "Chance of death a day, chest")},
        {DeathPerMyriadAbdomen, QT_TRANSLATE_NOOP("kitround", "Chance of death a day, abdomen")},
        {BufferSessions, QT_TRANSLATE_NOOP("kitround", "Sessions kept in reserve at home")},
        {StarterDays, QT_TRANSLATE_NOOP("kitround", "Days a starter set lasts")},
        {RunOutTargetPermille,
         QT_TRANSLATE_NOOP("kitround", "Accepted chance of running out before a delivery")},
        {RefillCycleDays, QT_TRANSLATE_NOOP("kitround", "Usual days from one delivery to the next")},
        {CourierDays, QT_TRANSLATE_NOOP("kitround", "Courier days")},
        {CourierLeadDays, QT_TRANSLATE_NOOP("kitround", "Courier lead time")},
        {CourierCutOffMinute, QT_TRANSLATE_NOOP("kitround", "Courier cut-off")},
        {CourierCostMinor, QT_TRANSLATE_NOOP("kitround", "Price of a courier run")},
        {ServicePermilleA, QT_TRANSLATE_NOOP("kitround", "Service level, class A")},
        {ServicePermilleB, QT_TRANSLATE_NOOP("kitround", "Service level, class B")},
        {ServicePermilleC, QT_TRANSLATE_NOOP("kitround", "Service level, class C")},
        {ReviewDays, QT_TRANSLATE_NOOP("kitround", "Days between two reorder reviews")},
        {LeadDays, QT_TRANSLATE_NOOP("kitround", "Lead time of suppliers, before any receipt")},
        {LeadSpreadDays, QT_TRANSLATE_NOOP("kitround", "Spread of that lead time")},
        {OrderCostMinor, QT_TRANSLATE_NOOP("kitround", "Cost of one purchase order")},
        {HoldingPermilleAYear, QT_TRANSLATE_NOOP("kitround", "Cost of keeping stock")},
        {ReferralsPerWeekHundredths, QT_TRANSLATE_NOOP("kitround", "New referrals expected")},
        {LowOutputMl, QT_TRANSLATE_NOOP("kitround", "Low output: a drain below")},
        {LowOutputRun, QT_TRANSLATE_NOOP("kitround", "Low output: so many drains in a row")},
        {SilenceDaysBeyond, QT_TRANSLATE_NOOP("kitround", "Silent log: days beyond the order's longest gap")},
        {SharpChangePercent, QT_TRANSLATE_NOOP("kitround", "Sharp change of volume")},
        {OwnFigureLeastN, QT_TRANSLATE_NOOP("kitround", "Observations before an own figure is used")},
        {ExpiryWarnDays, QT_TRANSLATE_NOOP("kitround", "Expiry warning")},
        {ExpiryListDaysFirst, QT_TRANSLATE_NOOP("kitround", "Lots that fall due: first band")},
        {ExpiryListDaysSecond, QT_TRANSLATE_NOOP("kitround", "Lots that fall due: second band")},
        {ExpiryListDaysThird, QT_TRANSLATE_NOOP("kitround", "Lots that fall due: third band")},
        {ExpiryListDaysLast, QT_TRANSLATE_NOOP("kitround", "Lots that fall due: last band")},
        {ReturnLeastLifeDays,
         QT_TRANSLATE_NOOP("kitround", "Least life left to ask a supplier to take back")},
        {DayStart, QT_TRANSLATE_NOOP("kitround", "Visiting day starts")},
        {DayEnd, QT_TRANSLATE_NOOP("kitround", "Visiting day ends")},
        {CallUnitsNight100, QT_TRANSLATE_NOOP("kitround", "On call: units for a weekday night")},
        {CallUnitsWeekend100, QT_TRANSLATE_NOOP("kitround", "On call: units on a weekend")},
        {CallUnitsHoliday100, QT_TRANSLATE_NOOP("kitround", "On call: units on a holiday")},
        {RestAfterCallHours,
         QT_TRANSLATE_NOOP("kitround", "On call, late shifts: rest before the next day's work")},
        {ClassASharePercent, QT_TRANSLATE_NOOP("kitround", "Class A: share of the yearly use value")},
        {ClassBSharePercent, QT_TRANSLATE_NOOP("kitround", "Classes A and B: share of that value")},
        {CountDaysA, QT_TRANSLATE_NOOP("kitround", "Days between storeroom counts, class A")},
        {CountDaysB, QT_TRANSLATE_NOOP("kitround", "Days between storeroom counts, class B")},
        {CountDaysC, QT_TRANSLATE_NOOP("kitround", "Days between storeroom counts, class C")},
        {CountSecondPersonMinor,
         QT_TRANSLATE_NOOP("kitround", "Count difference worth more needs a second person")},
        {SupplyBudgetMinor, QT_TRANSLATE_NOOP("kitround", "Budget for supplies, a month")},
        {HandOverHours, QT_TRANSLATE_NOOP("kitround", "A hand-over is chased when not accepted for")},
        {WatchDwellDays, QT_TRANSLATE_NOOP("kitround", "Watch list: catheter days that count as long")},
        {WatchCalls, QT_TRANSLATE_NOOP("kitround", "Watch list: trouble calls that count as many")},
        {WatchCallDays, QT_TRANSLATE_NOOP("kitround", "Watch list: days in which calls are counted")},
        {WatchSnoozeMostDays, QT_TRANSLATE_NOOP("kitround", "Watch list: longest snooze")},
    };
    static_assert(std::size(kLabels) == kSettingCount);
    const LabelWord &found = kLabels[static_cast<std::size_t>(key)];
    KITROUND_REQUIRE(found.key == info.key);
    return Text::tr(found.words);
}

} // namespace kitround::desk
