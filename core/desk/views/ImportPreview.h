#pragma once
// A list from a spreadsheet before it goes in: its rows as they would be stored, every fault with row and
// remedy, and what is taken as it is written but has to be called about. Pure; any thread.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"
#include "core/exchange/Lists.h"

#include <QString>
#include <QStringList>

#include <string_view>
#include <vector>

namespace kitround::desk {

using exchange::ListKind;

// The list as read, with the faults that only the whole agency shows: a lot that is out of use or known with
// another expiry, a day in a closed month, a nurse without the skill. Desk::importList refuses with the same
// faults.
exchange::ReadList readForImport(const Agency &agency, ListKind kind, std::string_view bytes);

struct ImportRow {
    int row = 0;  // as a spreadsheet numbers it
    QString code; // the record's own, for what leaves the desk
    QString who;  // "Q-101 Alder, Ada"
    QString what; // what would be stored, in short
    QStringList faults;
    QStringList calls; // goes in as written, and is to be looked at or somebody is to be asked
};
struct ImportPreview {
    ListKind kind = ListKind::Patients;
    QStringList ofFile; // faults of the head or of the whole file
    std::vector<ImportRow> rows;
    int faulty = 0; // rows with a fault
    int toCall = 0; // rows with something to call about
    int good() const { return static_cast<int>(rows.size()) - faulty; }
    bool mayGoIn() const { return ofFile.isEmpty() && faulty == 0 && !rows.empty(); }
};
ImportPreview previewImport(const Agency &agency, ListKind kind, std::string_view bytes);

QString words(ListKind kind);             // "Patients"
QString importColumnsText(ListKind kind); // which columns have to be filled, and what they take
// The words a cell may hold, a line for columns that hold the same: "site: chest, abdomen".
QString importWordsText(ListKind kind);
QString importCountText(const ImportPreview &preview); // "12 rows: 10 good, 2 with a fault. ..."
QString importAddedText(const Imported &done);         // "Added: 12 patients, 12 catheters."
QString importDoneText(const Imported &done);          // the same, and what to do next
// Files of lists. Problems with the path: FileMissing, FileNotReadable, FileReadOnly; FileExists over an
// agency file that is open.
Result<std::string> readListFile(const std::string &path);
Result<void> saveEmptyList(ListKind kind, const std::string &path);
// Where the copy of the agency goes that is made before: beside it, under a name that is not taken.
std::string backupBeforeImport(const std::string &agencyPath, Date day);
// The faults and what to call about, one line each.
Table importTable(const ImportPreview &preview);

} // namespace kitround::desk
