#include "core/records/Settings.h"

#include "core/base/Require.h"

#include <cmath>

namespace kitround {
namespace {

using enum SettingKey;
constexpr std::string_view kAssumed = "assumed; replace by own figures";
constexpr std::string_view kPractice = "common practice";

constexpr SettingInfo kTable[] = {
    {VisitMinutesStart, "visit_min_start", "visits", "min", 120, 5, 480, kAssumed},
    {VisitMinutesResumption, "visit_min_resumption", "visits", "min", 90, 5, 480, kAssumed},
    {VisitMinutesRecert, "visit_min_recert", "visits", "min", 75, 5, 480, kAssumed},
    {VisitMinutesDischarge, "visit_min_discharge", "visits", "min", 60, 5, 480, kAssumed},
    {VisitMinutesRoutine, "visit_min_routine", "visits", "min", 45, 5, 480, kPractice},
    {VisitMinutesTeaching, "visit_min_teaching", "visits", "min", 60, 5, 480, kAssumed},
    {VisitMinutesDrainOnly, "visit_min_drain", "visits", "min", 45, 5, 480, kAssumed},
    {VisitMinutesDressing, "visit_min_dressing", "visits", "min", 30, 5, 480, kAssumed},
    {VisitMinutesSupplyCount, "visit_min_count", "visits", "min", 20, 5, 480, kAssumed},
    {VisitMinutesFollowUp, "visit_min_follow_up", "visits", "min", 60, 5, 480, kAssumed},
    {VisitMinutesAsNeeded, "visit_min_as_needed", "visits", "min", 60, 5, 480, kAssumed},
    {VisitMinutesSupervisory, "visit_min_supervisory", "visits", "min", 30, 5, 480, kAssumed},
    {VisitMinutesPhone, "visit_min_phone", "visits", "min", 10, 5, 480, kAssumed},
    {NotesMinutesStart, "notes_min_start", "visits", "min", 60, 0, 240, kAssumed},
    {NotesMinutesRecert, "notes_min_recert", "visits", "min", 45, 0, 240, kAssumed},
    {NotesMinutesRoutine, "notes_min_routine", "visits", "min", 15, 0, 240, kAssumed},
    {PointsStart, "points_start", "visits", "1/100 point", 200, 0, 1000, kPractice},
    {PointsResumption, "points_resumption", "visits", "1/100 point", 150, 0, 1000, kPractice},
    {PointsRecert, "points_recert", "visits", "1/100 point", 150, 0, 1000, kPractice},
    {PointsDischarge, "points_discharge", "visits", "1/100 point", 125, 0, 1000, kPractice},
    {PointsTeaching, "points_teaching", "visits", "1/100 point", 125, 0, 1000, kPractice},
    {PointsRoutine, "points_routine", "visits", "1/100 point", 100, 0, 1000, kPractice},
    {PointsSupervisory, "points_supervisory", "visits", "1/100 point", 100, 0, 1000, kPractice},
    {MilesPerPoint, "miles_per_point", "visits", "miles", 60, 1, 1000, kPractice},
    {PointsPerWeek, "points_per_week", "visits", "points", 25, 1, 100, kPractice},
    {AmberLoadPercent, "load_amber_percent", "visits", "%", 90, 1, 200, kAssumed},
    {RedLoadPercent, "load_red_percent", "visits", "%", 100, 1, 200, kAssumed},
    {AmberVisitsADay, "visits_a_day_amber", "visits", "visits", 6, 1, 20, kPractice},
    {RedVisitsADay, "visits_a_day_red", "visits", "visits", 7, 1, 20, kPractice},
    {FirstVisitHours, "first_visit_hours", "visits", "h", 48, 1, 240, "42 CFR 484.55(a)"},
    {AssessmentDays, "assessment_days", "visits", "days", 5, 1, 30, "42 CFR 484.55(b)"},
    {CertificationDays, "certification_days", "visits", "days", 60, 14, 120, "42 CFR 484.60(c)"},
    {RecertWindowDays, "recert_window_days", "visits", "days", 5, 1, 30, "42 CFR 484.55(d)"},
    {DressingCheckDays, "dressing_check_days", "visits", "days", 7, 1, 30, kPractice},
    {SoonestVisitMinutes, "soonest_visit_min", "visits", "min", 15, 0, 240, kAssumed},
    {DetourShortPercent, "detour_short_percent", "travel", "%", 140, 100, 400, kAssumed},
    {DetourMiddlePercent, "detour_middle_percent", "travel", "%", 130, 100, 400, kAssumed},
    {DetourLongPercent, "detour_long_percent", "travel", "%", 120, 100, 400, kAssumed},
    {SpeedUrban, "speed_urban_mph", "travel", "mph", 18, 3, 90, kAssumed},
    {SpeedSuburban, "speed_suburban_mph", "travel", "mph", 28, 3, 90, kAssumed},
    {SpeedRural, "speed_rural_mph", "travel", "mph", 40, 3, 90, kAssumed},
    {StopMinutes, "stop_min", "travel", "min", 5, 0, 60, kAssumed},
    {MileageRateTenthCents, "mileage_rate", "travel", "1/10 cent a mile", 725, 0, 10000,
     "federal business mileage rate from 2026-01-01"},
    {OvertimeHourMinor, "overtime_hour", "travel", "cents", 0, 0, 100000,
     "the agency's own; 0: not told, and overtime stands in minutes only"},
    {CostUnplacedLow, "cost_unplaced_low", "plan", "min", 600, 0, 100000, kAssumed},
    {CostUnplacedMiddle, "cost_unplaced_middle", "plan", "min", 1200, 0, 100000, kAssumed},
    {CostUnplacedHigh, "cost_unplaced_high", "plan", "min", 2400, 0, 100000, kAssumed},
    {CostUnplacedUrgent, "cost_unplaced_urgent", "plan", "min", 6000, 0, 100000, kAssumed},
    {CostOvertimeMinute100, "cost_overtime_minute", "plan", "1/100 min", 200, 0, 10000, kAssumed},
    {CostTravelMinute100, "cost_travel_minute", "plan", "1/100 min", 100, 0, 10000, kAssumed},
    {CostWaitMinute100, "cost_wait_minute", "plan", "1/100 min", 20, 0, 10000, kAssumed},
    {CostNotPrimary, "cost_not_primary", "plan", "min", 15, 0, 10000, kAssumed},
    {CostNotKnown, "cost_not_known", "plan", "min", 20, 0, 10000, kAssumed},
    {CostSecondNurse, "cost_second_nurse", "plan", "min", 30, 0, 10000, kAssumed},
    {CostSoftWindowMinute100, "cost_soft_window_minute", "plan", "1/100 min", 50, 0, 10000, kAssumed},
    {CostUnevenPoint100, "cost_uneven", "plan", "1/100 min", 100, 0, 10000, kAssumed},
    {CostCourierRun, "cost_courier_run", "plan", "min", 45, 0, 10000, kAssumed},
    {CostChanged, "cost_changed", "plan", "min", 30, 0, 10000, kAssumed},
    {AdherencePermille, "adherence_prior", "drains", "1/1000", 900, 1, 1000, kAssumed},
    {AdherenceWeight, "adherence_weight", "drains", "sessions", 10, 1, 1000, kAssumed},
    {WastePermille, "waste_prior", "supplies", "1/1000", 30, 0, 500, kAssumed},
    {WasteWeight, "waste_weight", "supplies", "bottles", 50, 1, 10000, kAssumed},
    {PlanVolumeChest, "plan_volume_chest", "drains", "mL", 400, 1, 2000, kAssumed},
    {PlanVolumeAbdomen, "plan_volume_abdomen", "drains", "mL", 1000, 1, 4000, kAssumed},
    {LogMemoryDays, "log_memory_days", "drains", "days", 28, 3, 365, kAssumed},
    {RemovalPerMyriadDaily, "removal_daily", "drains", "1/10000 a day", 99, 0, 5000,
     "derived from Wahidi et al 2017 (ASAP), 47% by 84 days, and Clive et al 2014"},
    {RemovalPerMyriadEveryOther, "removal_every_other", "drains", "1/10000 a day", 41, 0, 5000,
     "derived from Wahidi et al 2017 (ASAP), 24% by 84 days, and Clive et al 2014"},
    {RemovalPerMyriadLess, "removal_less", "drains", "1/10000 a day", 24, 0, 5000,
     "derived from the AMPLE-2 trial, 11.4% by 60 days"},
    {DeathPerMyriadChest, "death_chest", "drains", "1/10000 a day", 53, 0, 5000,
     "Clive et al 2014 (LENT), moderate risk, median 130 days"},
    {DeathPerMyriadAbdomen, "death_abdomen", "drains", "1/10000 a day", 158, 0, 5000,
     "derived; most exits in ascites are deaths within weeks (Cardiovasc Intervent Radiol 2018;41:753-61)"},
    {BufferSessions, "home_buffer_sessions", "supplies", "sessions", 3, 0, 30, kAssumed},
    {StarterDays, "starter_days", "supplies", "days", 10, 1, 60, kPractice},
    {RunOutTargetPermille, "run_out_target", "supplies", "1/1000", 10, 1, 500, kAssumed},
    {RefillCycleDays, "refill_cycle", "supplies", "days", 21, 1, 120, kAssumed},
    {CourierDays, "courier_days", "supplies", "weekdays", 0x3e, 0, 0x7f, kAssumed},
    {CourierLeadDays, "courier_lead_days", "supplies", "days", 1, 0, 14, kAssumed},
    {CourierCutOffMinute, "courier_cut_off", "supplies", "minute of day", 14 * 60, 0, 1440, kAssumed},
    {CourierCostMinor, "courier_cost", "supplies", "cents", 2500, 0, 1000000, kAssumed},
    {ServicePermilleA, "service_a", "supplies", "1/1000", 980, 500, 999, kPractice},
    {ServicePermilleB, "service_b", "supplies", "1/1000", 950, 500, 999, kPractice},
    {ServicePermilleC, "service_c", "supplies", "1/1000", 900, 500, 999, kPractice},
    {ReviewDays, "review_days", "supplies", "days", 7, 1, 60, kPractice},
    {LeadDays, "lead_days", "supplies", "days", 5, 0, 120, kAssumed},
    {LeadSpreadDays, "lead_spread_days", "supplies", "days", 2, 0, 60, kAssumed},
    {OrderCostMinor, "order_cost", "supplies", "cents", 2000, 0, 1000000, kAssumed},
    {HoldingPermilleAYear, "holding_cost", "supplies", "1/1000 of the price a year", 200, 0, 2000, kPractice},
    {ReferralsPerWeekHundredths, "referrals_a_week", "supplies", "1/100 a week", 200, 0, 100000, kAssumed},
    {LowOutputMl, "low_output_ml", "safety", "mL", 50, 1, 500, kPractice},
    {LowOutputRun, "low_output_run", "safety", "drains", 3, 1, 10, kPractice},
    {SilenceDaysBeyond, "silence_days", "safety", "days", 2, 0, 30, kAssumed},
    {SharpChangePercent, "sharp_change_percent", "safety", "%", 60, 10, 95, kAssumed},
    {OwnFigureLeastN, "own_figure_least_n", "visits", "observations", 20, 1, 10000, kAssumed},
    {ExpiryWarnDays, "expiry_warn_days", "supplies", "days", 90, 1, 365, kPractice},
    {ExpiryListDaysFirst, "expiry_list_days_1", "supplies", "days", 30, 1, 730, kPractice},
    {ExpiryListDaysSecond, "expiry_list_days_2", "supplies", "days", 60, 1, 730, kPractice},
    {ExpiryListDaysThird, "expiry_list_days_3", "supplies", "days", 90, 1, 730, kPractice},
    {ExpiryListDaysLast, "expiry_list_days_4", "supplies", "days", 180, 1, 730, kPractice},
    {ReturnLeastLifeDays, "return_least_life_days", "supplies", "days", 90, 0, 730, kAssumed},
    {DayStart, "day_start", "visits", "minute of day", 8 * 60, 0, 1440, kPractice},
    {DayEnd, "day_end", "visits", "minute of day", 18 * 60, 0, 1440, kPractice},
    {CallUnitsNight100, "call_units_night", "on_call", "1/100 unit", 100, 0, 10000, kAssumed},
    {CallUnitsWeekend100, "call_units_weekend", "on_call", "1/100 unit", 150, 0, 10000, kAssumed},
    {CallUnitsHoliday100, "call_units_holiday", "on_call", "1/100 unit", 200, 0, 10000, kAssumed},
    {RestAfterCallHours, "rest_after_call", "on_call", "h", 10, 0, 48, kPractice},
    {ClassASharePercent, "class_a_share", "supplies", "%", 80, 1, 100, kPractice},
    {ClassBSharePercent, "class_b_share", "supplies", "%", 95, 1, 100, kPractice},
    {CountDaysA, "count_days_a", "supplies", "days", 30, 1, 730, kPractice},
    {CountDaysB, "count_days_b", "supplies", "days", 90, 1, 730, kPractice},
    {CountDaysC, "count_days_c", "supplies", "days", 180, 1, 730, kPractice},
    {CountSecondPersonMinor, "count_second_person", "supplies", "cents", 10000, 0, 10000000, kAssumed},
    {SupplyBudgetMinor, "supply_budget_month", "supplies", "cents", 0, 0, 1000000000,
     "the agency's own; 0 means none is set"},
    {HandOverHours, "hand_over_hours", "team", "h", 8, 1, 24, kPractice},
    {WatchDwellDays, "watch_dwell_days", "team", "days", 180, 7, 730, kAssumed},
    {WatchCalls, "watch_calls", "team", "calls", 2, 1, 20, kAssumed},
    {WatchCallDays, "watch_call_days", "team", "days", 14, 1, 90, kAssumed},
    {WatchSnoozeMostDays, "watch_snooze_most_days", "team", "days", 14, 1, 60, kAssumed},
};
static_assert(std::size(kTable) == kSettingCount);

} // namespace

std::span<const SettingInfo> settingTable() {
    return kTable;
}

const SettingInfo &infoOf(SettingKey key) {
    const SettingInfo &info = kTable[static_cast<std::size_t>(key)];
    KITROUND_REQUIRE(info.key == key); // the table stands in the order of the keys
    return info;
}

std::optional<SettingKey> settingNamed(std::string_view name) {
    for (const SettingInfo &info : kTable)
        if (info.name == name)
            return info.key;
    return std::nullopt;
}

AgencySettings::AgencySettings() {
    for (const SettingInfo &info : kTable)
        set(info.key, info.preset);
}

Money mileagePaid(const AgencySettings &settings, Metres driven) {
    return Money::of(std::llround(inMiles(driven) *
                                  static_cast<double>(settings[SettingKey::MileageRateTenthCents]) / 10.0));
}

Money overtimePaid(const AgencySettings &settings, Minutes overtime) {
    return Money::of(std::llround(static_cast<double>(overtime.count()) *
                                  static_cast<double>(settings[SettingKey::OvertimeHourMinor]) / 60.0));
}

Minutes visitLength(const AgencySettings &settings, VisitKind kind) {
    const auto key = [&] {
        switch (kind) {
        case VisitKind::StartOfCare:
            return VisitMinutesStart;
        case VisitKind::Resumption:
            return VisitMinutesResumption;
        case VisitKind::Recertification:
            return VisitMinutesRecert;
        case VisitKind::Discharge:
            return VisitMinutesDischarge;
        case VisitKind::Routine:
            return VisitMinutesRoutine;
        case VisitKind::Teaching:
            return VisitMinutesTeaching;
        case VisitKind::DrainOnly:
            return VisitMinutesDrainOnly;
        case VisitKind::DressingCheck:
            return VisitMinutesDressing;
        case VisitKind::SupplyCount:
            return VisitMinutesSupplyCount;
        case VisitKind::SymptomFollowUp:
            return VisitMinutesFollowUp;
        case VisitKind::AsNeeded:
            return VisitMinutesAsNeeded;
        case VisitKind::Supervisory:
            return VisitMinutesSupervisory;
        case VisitKind::Phone:
            return VisitMinutesPhone;
        }
        return VisitMinutesRoutine;
    }();
    return Minutes::of(settings[key]);
}

Minutes notesLength(const AgencySettings &settings, VisitKind kind) {
    switch (kind) {
    case VisitKind::StartOfCare:
    case VisitKind::Resumption:
        return Minutes::of(settings[NotesMinutesStart]);
    case VisitKind::Recertification:
    case VisitKind::Discharge:
        return Minutes::of(settings[NotesMinutesRecert]);
    default:
        return Minutes::of(settings[NotesMinutesRoutine]);
    }
}

double visitPoints(const AgencySettings &settings, VisitKind kind) {
    const auto key = [&] {
        switch (kind) {
        case VisitKind::StartOfCare:
            return PointsStart;
        case VisitKind::Resumption:
            return PointsResumption;
        case VisitKind::Recertification:
            return PointsRecert;
        case VisitKind::Discharge:
            return PointsDischarge;
        case VisitKind::Teaching:
            return PointsTeaching;
        case VisitKind::Supervisory:
            return PointsSupervisory;
        default:
            return PointsRoutine;
        }
    }();
    return static_cast<double>(settings[key]) / 100.0;
}

} // namespace kitround
