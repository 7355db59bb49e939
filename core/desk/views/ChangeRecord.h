#pragma once
// The record of changes as people read it: who changed which field of what, from what to what, in the words
// of the forms. The entries themselves are only ever added to (store/Audit).
#include "core/desk/Desk.h"
#include "core/desk/Table.h"
#include "core/desk/words/Words.h"

#include <QString>
#include <QStringList>

#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace kitround::desk {

QString words(AuditAction action);

struct FieldChange {
    QString field;         // as the form calls it
    QString before, after; // empty where there is no such side: an insert has no before
    bool isReason = false; // why it was done, as somebody gave it
};
struct ChangeRow {
    AuditEntry entry;
    LocalTime at;
    QString who;   // "not known" where the file does not know the user
    QString kind;  // of record: "Drain order"
    QString about; // whose or which: "Okafor, Adaeze (Q-200)", "number 12"
    std::vector<FieldChange> fields;
};
// Of the entry alone, with the names the agency has now. By initials, what tells who somebody is (name,
// phone, address, birth date, notes) is not given away either: "(in the file only)".
ChangeRow changeRow(const AuditEntry &entry, const Agency &agency, PatientNamed named);
// One line: "Volume: 500 mL → 1000 mL; Note: (empty) → asked twice".
QString summaryOf(const ChangeRow &row);
// The whole: when, who, what; then a line a field.
QStringList wholeOf(const ChangeRow &row);

// What of the record is asked for; what is not set restricts nothing.
struct ChangeFilter {
    QString words; // each of them stands somewhere in the row
    UserId user;
    std::string table;            // kind of record
    std::optional<Date> from, to; // local days, both included
};
bool holdsWords(const ChangeRow &row, const QString &words);

// Newest first, as many as are asked for; goes on below `before` (0: from the newest entry).
struct ChangePage {
    std::vector<ChangeRow> rows;
    std::int64_t before = 0; // where the next page goes on
    bool isEnd = false;      // nothing older is left
    std::optional<LocalTime> lookedBackTo;
};
// So many entries are looked through at a time: with words to find, a page may hold few rows, or none, before
// the end is reached.
inline constexpr std::int64_t kChangesLookedAt = 5000;
Result<ChangePage> changePage(Desk &desk, const ChangeFilter &filter, std::int64_t before, std::size_t most);

// The kinds of record that have an entry, by their words.
Result<std::vector<std::pair<std::string, QString>>> changeKinds(Desk &desk);

// For other eyes: made anew from the entries, patients by initials and code.
Table changeTable(std::span<const ChangeRow> rows, const Agency &agency);

} // namespace kitround::desk
