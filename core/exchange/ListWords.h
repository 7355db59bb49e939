#pragma once
// The words that a list has for a choice: those of the schema, in the order of the enumerators. Private to
// core/exchange.
#include "core/records/Drains.h"
#include "core/records/Nurses.h"
#include "core/records/People.h"
#include "core/records/Stock.h"
#include "core/records/Visits.h"

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace kitround::exchange {

template <class E>
inline constexpr int kListWords = 0; // no words: choice() does not compile

// So many letters of a word are enough; 0: it is written whole.
template <class E>
inline constexpr std::size_t kShortWord = 0;
template <>
inline constexpr std::size_t kShortWord<Weekday> = 3;

inline constexpr std::string_view kYesNo[] = {"yes", "no"};
template <>
inline constexpr std::string_view kListWords<Weekday>[] = {"sunday",   "monday", "tuesday", "wednesday",
                                                           "thursday", "friday", "saturday"};
template <>
inline constexpr std::string_view kListWords<PointQuality>[] = {"exact", "street_centre",
                                                                "postal_area_centre"};
template <>
inline constexpr std::string_view kListWords<AreaKind>[] = {"urban", "suburban", "rural"};
template <>
inline constexpr std::string_view kListWords<Material>[] = {"latex", "adhesive", "chlorhexidine", "iodine"};
template <>
inline constexpr std::string_view kListWords<Gender>[] = {"female", "male", "other"};
// Who has left is not brought in: that is a step of its own.
template <>
inline constexpr std::string_view kListWords<CareStatus>[] = {"referred", "active"};
template <>
inline constexpr std::string_view kListWords<Acuity>[] = {"low", "medium", "high"};
template <>
inline constexpr std::string_view kListWords<Competence>[] = {"none", "shown", "helped", "alone"};
template <>
inline constexpr std::string_view kListWords<EmergencyPriority>[] = {"first", "second", "third"};
template <>
inline constexpr std::string_view kListWords<CavitySite>[] = {"chest", "abdomen"};
template <>
inline constexpr std::string_view kListWords<Side>[] = {"left", "right", "midline"};
template <>
inline constexpr std::string_view kListWords<DrainPatternKind>[] = {"every_n_days", "times_a_week",
                                                                    "as_needed"};
template <>
inline constexpr std::string_view kListWords<VisitKind>[] = {
    "start_of_care", "resumption",     "recertification", "discharge",         "routine",   "teaching",
    "drain_only",    "dressing_check", "supply_count",    "symptom_follow_up", "as_needed", "supervisory",
    "phone"};
template <>
inline constexpr std::string_view kListWords<Skill>[] = {"drain_chest", "drain_abdomen", "teach",
                                                         "assess",      "site_care",     "draw_blood"};
template <>
inline constexpr std::string_view kListWords<Credential>[] = {"registered_nurse", "practical_nurse", "aide"};
template <>
inline constexpr std::string_view kListWords<ItemKind>[] = {"kit", "bottle", "dressing", "other"};
template <>
inline constexpr std::string_view kListWords<StockClass>[] = {"a", "b", "c"};
// Of a count's place.
enum class CountPlace : std::uint8_t { Storeroom, Home };
template <>
inline constexpr std::string_view kListWords<CountPlace>[] = {"storeroom", "home"};

} // namespace kitround::exchange
