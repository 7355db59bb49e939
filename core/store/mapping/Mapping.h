#pragma once
// One description a record: its table, its columns, its lists (child tables). Everything else - the SQL,
// reading, writing, the audit's JSON, which references to look up - is done by handing a different visitor to
// it.
//
//   columns(v, record):  v("column", record.field)...;  v.point("latitude", "longitude", optional GeoPoint)
//   lists(v, record):    v.list("table", record.vector, [](auto &v, auto &element) { v("column", element...);
//   })
//
// The id, the row version and a child's owner and position are the engine's own.
#include "core/records/Snapshot.h"
#include "core/records/Users.h"

namespace kitround::store {

template <class R>
struct Mapping;

// The row behind AgencySettings: one row, its numbers by name.
struct NamedNumber {
    std::string name;
    std::int64_t value = 0;
};
struct SettingsRow {
    Id<struct SettingsTag> id;
    AgencySettings settings;
    std::vector<NamedNumber> numbers;
    std::int64_t rowVersion = 0;
};
SettingsRow rowOf(const AgencySettings &settings, std::int64_t rowVersion);
// Numbers the file does not name keep their presets; names we do not know are left aside.
AgencySettings settingsOf(const SettingsRow &row);

// The table an id points into, for asking whether the row is there.
template <class Tag>
inline constexpr const char *kTableOf = nullptr;
template <>
inline constexpr const char *kTableOf<PatientTag> = "patient";
template <>
inline constexpr const char *kTableOf<CatheterTag> = "catheter";
template <>
inline constexpr const char *kTableOf<PayerTag> = "payer";
template <>
inline constexpr const char *kTableOf<DrainOrderTag> = "drain_order";
template <>
inline constexpr const char *kTableOf<DrainEntryTag> = "drain_entry";
template <>
inline constexpr const char *kTableOf<HoldTag> = "hold";
template <>
inline constexpr const char *kTableOf<RefillContactTag> = "refill_contact";
template <>
inline constexpr const char *kTableOf<DeliveryTag> = "delivery";
template <>
inline constexpr const char *kTableOf<ItemTag> = "item";
template <>
inline constexpr const char *kTableOf<LotTag> = "lot";
template <>
inline constexpr const char *kTableOf<MovementTag> = "stock_movement";
template <>
inline constexpr const char *kTableOf<SupplierTag> = "supplier";
template <>
inline constexpr const char *kTableOf<PurchaseOrderTag> = "purchase_order";
template <>
inline constexpr const char *kTableOf<ReceiptTag> = "receipt";
template <>
inline constexpr const char *kTableOf<MonthCloseTag> = "month_close";
template <>
inline constexpr const char *kTableOf<NurseTag> = "nurse";
template <>
inline constexpr const char *kTableOf<VisitOrderTag> = "visit_order";
template <>
inline constexpr const char *kTableOf<VisitTag> = "visit";
template <>
inline constexpr const char *kTableOf<UserTag> = "user";

template <class V, class A>
void addressColumns(V &v, A &a) {
    v("street", a.street);
    v("town", a.town);
    v("postal_code", a.postalCode);
    v("access_notes", a.accessNotes);
    v.point("latitude", "longitude", a.point);
    v("point_quality", a.quality);
    v("area", a.area);
}

} // namespace kitround::store
