#pragma once
// The words that stand for an enumeration in the file, in the order of the enumerators. The schema's CHECKs
// list the same words; the round trip in the tests uses every one.
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

#include <QLatin1String>
#include <QStringView>

#include <optional>

namespace kitround::store {

template <class E>
inline constexpr int kWords = 0; // no words: a mistake found by the static_assert in wordOf

template <>
inline constexpr const char *kWords<Weekday>[] = {"sunday",   "monday", "tuesday", "wednesday",
                                                  "thursday", "friday", "saturday"};
template <>
inline constexpr const char *kWords<PointQuality>[] = {"exact", "street_centre", "postal_area_centre"};
template <>
inline constexpr const char *kWords<AreaKind>[] = {"urban", "suburban", "rural"};
template <>
inline constexpr const char *kWords<Material>[] = {"latex", "adhesive", "chlorhexidine", "iodine"};
template <>
inline constexpr const char *kWords<Gender>[] = {"female", "male", "other"};
template <>
inline constexpr const char *kWords<CareStatus>[] = {"referred", "active", "discharged", "transferred",
                                                     "deceased"};
template <>
inline constexpr const char *kWords<Acuity>[] = {"low", "medium", "high"};
template <>
inline constexpr const char *kWords<Competence>[] = {"none", "shown", "helped", "alone"};
template <>
inline constexpr const char *kWords<EmergencyPriority>[] = {"first", "second", "third"};
template <>
inline constexpr const char *kWords<CavitySite>[] = {"chest", "abdomen"};
template <>
inline constexpr const char *kWords<Side>[] = {"left", "right", "midline"};
template <>
inline constexpr const char *kWords<HoldKind>[] = {"hospital", "facility", "travel", "other"};
template <>
inline constexpr const char *kWords<DrainPatternKind>[] = {"every_n_days", "times_a_week", "as_needed"};
template <>
inline constexpr const char *kWords<DrainOutcome>[] = {"drained", "dry", "not_done"};
template <>
inline constexpr const char *kWords<EntrySource>[] = {"home_log", "nurse", "phone", "import"};
template <>
inline constexpr const char *kWords<Symptom>[] = {"worse_breathlessness",
                                                  "severe_pain",
                                                  "collapse",
                                                  "heavy_bleeding",
                                                  "fever",
                                                  "redness",
                                                  "swelling",
                                                  "pus_or_smell",
                                                  "cloudy_fluid",
                                                  "new_blood",
                                                  "colour_change",
                                                  "leak",
                                                  "wet_dressing",
                                                  "tube_moved",
                                                  "cuff_showing",
                                                  "tube_damaged",
                                                  "no_flow",
                                                  "sudden_fall",
                                                  "pain_on_drain",
                                                  "cough",
                                                  "light_headed",
                                                  "confusion",
                                                  "low_urine",
                                                  "fast_weight_loss"};
template <>
inline constexpr const char *kWords<ItemKind>[] = {"kit", "bottle", "dressing", "other"};
template <>
inline constexpr const char *kWords<StockClass>[] = {"a", "b", "c"};
template <>
inline constexpr const char *kWords<LotState>[] = {"usable", "quarantined", "recalled"};
template <>
inline constexpr const char *kWords<PlaceKind>[] = {"supplier", "storeroom", "quarantine", "car",
                                                    "transit",  "home",      "used",       "wasted",
                                                    "returned", "variance"};
template <>
inline constexpr const char *kWords<MovementReason>[] = {
    "opening", "receipt", "issue", "handover", "use", "waste", "count", "return", "quarantine", "correction"};
template <>
inline constexpr const char *kWords<RefillAnswer>[] = {"confirmed", "declined", "no_answer"};
template <>
inline constexpr const char *kWords<DeliveryStatus>[] = {"promised", "picked", "in_transit", "delivered",
                                                         "cancelled"};
template <>
inline constexpr const char *kWords<DeliveryWay>[] = {"courier", "with_visit"};
template <>
inline constexpr const char *kWords<RecallAnswer>[] = {"no_answer", "message_left", "set_aside", "none_left",
                                                       "declined"};
template <>
inline constexpr const char *kWords<Approver>[] = {"prescriber", "nurse"};
template <>
inline constexpr const char *kWords<Disposition>[] = {"destroyed", "donated", "kept_by_home",
                                                      "supplier_credit"};
template <>
inline constexpr const char *kWords<PurchaseStatus>[] = {"draft", "sent", "partly_received", "received",
                                                         "cancelled"};
template <>
inline constexpr const char *kWords<PriceSource>[] = {"none", "last_paid", "offer"};
template <>
inline constexpr const char *kWords<Credential>[] = {"registered_nurse", "practical_nurse", "aide"};
template <>
inline constexpr const char *kWords<Skill>[] = {"drain_chest", "drain_abdomen", "teach",
                                                "assess",      "site_care",     "draw_blood"};
template <>
inline constexpr const char *kWords<TimeOffKind>[] = {"leave", "sick", "training", "other"};
template <>
inline constexpr const char *kWords<LeaveStatus>[] = {"requested", "approved", "declined"};
template <>
inline constexpr const char *kWords<WhatIfKind>[] = {"nurse_away", "nurse_added", "referrals", "shift",
                                                     "setting"};
template <>
inline constexpr const char *kWords<DecisionKind>[] = {"rebalance", "intake_frozen", "per_diem", "hire",
                                                       "other"};
template <>
inline constexpr const char *kWords<HandOverTopic>[] = {"call", "stock", "clock", "hold", "change"};
template <>
inline constexpr const char *kWords<DistanceUnit>[] = {"miles", "kilometres"};
template <>
inline constexpr const char *kWords<VisitKind>[] = {
    "start_of_care", "resumption",     "recertification", "discharge",         "routine",   "teaching",
    "drain_only",    "dressing_check", "supply_count",    "symptom_follow_up", "as_needed", "supervisory",
    "phone"};
template <>
inline constexpr const char *kWords<VisitStatus>[] = {"due",  "drafted", "published",
                                                      "done", "missed",  "cancelled"};
template <>
inline constexpr const char *kWords<MissReason>[] = {"none",       "refused", "not_home", "hospital",
                                                     "nurse_away", "weather", "other"};
template <>
inline constexpr const char *kWords<GapUnit>[] = {"minutes", "days"};
template <>
inline constexpr const char *kWords<PlanStatus>[] = {"draft", "published", "superseded"};
template <>
inline constexpr const char *kWords<CautionKind>[] = {"over_prescribed_maximum",
                                                      "over_common_maximum",
                                                      "too_soon",
                                                      "low_output_run",
                                                      "sudden_drop",
                                                      "sharp_change",
                                                      "symptom_emergency",
                                                      "symptom_today",
                                                      "symptom_now",
                                                      "silence",
                                                      "no_maximum_on_order",
                                                      "no_order",
                                                      "recalled_lot_at_home"};
template <>
inline constexpr const char *kWords<CautionUrgency>[] = {"emergency", "now", "today", "soon"};
template <>
inline constexpr const char *kWords<CallItemStatus>[] = {"open", "closed"};
template <>
inline constexpr const char *kWords<Reached>[] = {"patient", "relative", "message_left", "nobody"};
template <>
inline constexpr const char *kWords<CallTopic>[] = {"clinical", "supply", "schedule"};
template <>
inline constexpr const char *kWords<IncidentKind>[] = {"device",   "infection", "injury",
                                                       "exposure", "privacy",   "other"};
template <>
inline constexpr const char *kWords<IncidentHarm>[] = {"not_known", "none", "slight", "serious", "death"};
template <>
inline constexpr const char *kWords<UserRole>[] = {"coordinator", "supply_clerk", "nurse_manager", "nurse"};
template <>
inline constexpr const char *kWords<AuditAction>[] = {"insert", "update", "delete",
                                                      "view",   "print",  "export"};

template <class E>
QLatin1String wordOf(E value) {
    return QLatin1String(kWords<E>[static_cast<std::size_t>(value)]);
}
template <class E>
std::optional<E> enumOf(QStringView word) {
    for (std::size_t i = 0; i < std::size(kWords<E>); ++i)
        if (word == QLatin1String(kWords<E>[i]))
            return static_cast<E>(i);
    return std::nullopt;
}

} // namespace kitround::store
