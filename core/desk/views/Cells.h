#pragma once
// How table cells are written: dates in ISO, numbers with a point and no grouping, nothing where a fact is
// unknown.
#include "core/base/Date.h"
#include "core/desk/Table.h"
#include "core/desk/words/Words.h"
#include "core/records/Snapshot.h"

#include <QString>

#include <cstdint>
#include <optional>
#include <string>

namespace kitround::desk {

inline Column textColumn(const QString &name, const char *key) {
    return {name.toStdString(), key, Align::Left, false};
}
inline Column numberColumn(const QString &name, const char *key) {
    return {name.toStdString(), key, Align::Right, true};
}
// Only in CSV and JSON, where width costs nothing.
inline Column inCopies(Column column) {
    column.shownIn = ShownIn::CopiesOnly;
    return column;
}
inline Column inText(Column column) {
    column.shownIn = ShownIn::TextOnly;
    return column;
}
inline std::string cell(const QString &text) {
    return text.toStdString();
}
inline std::string cell(std::int64_t value) {
    return std::to_string(value);
}
inline std::string cell(Date date) {
    return date.toIso();
}
inline std::string cell(const std::optional<Date> &date) {
    return date ? date->toIso() : std::string();
}
inline std::string yesNo(bool value) {
    return value ? "yes" : "no";
}
// What people read in a cell: days and moments by weekday and month, anything else as it stands.
QString readable(const std::string &cell);
// Fixed decimals; a negative zero is zero.
std::string cell(double value, int decimals);
// Code and initials: copies for other programs carry no names.
std::string codeOf(const SnapshotIndex &agency, PatientId patient);
std::string initialsOf(const SnapshotIndex &agency, PatientId patient);
// For tables that the desk reads and paper carries: the name, with the reference where a namesake is on
// record; or the mark.
std::string patientOf(const SnapshotIndex &agency, PatientId patient, PatientNamed named);
std::string nurseOf(const SnapshotIndex &agency, NurseId nurse);
std::string userOf(const SnapshotIndex &agency, UserId user);
std::string codeOf(const SnapshotIndex &agency, ItemId item);
std::string nameOf(const SnapshotIndex &agency, ItemId item);
std::string placeOf(const SnapshotIndex &agency, CatheterId catheter);

} // namespace kitround::desk
