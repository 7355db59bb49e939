#pragma once
// Lists that an agency brings from its spreadsheets: patients, nurses, items, and the stock it begins with.
// One row of column names as the schema has them, in any order; one row a record. Reading is pure: a table
// and the agency as it is give records and every fault with its row and column; nothing is written here.
// Whoever writes looks at `faults` first: with one of them nothing of the list goes in.
#include "core/base/Result.h"
#include "core/exchange/Csv.h"
#include "core/records/Snapshot.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace kitround::exchange {

enum class ListKind : std::uint8_t { Patients, Nurses, Items, Counts };
inline constexpr ListKind kAllLists[] = {ListKind::Items, ListKind::Nurses, ListKind::Patients,
                                         ListKind::Counts}; // in the order in which one needs the other

std::string_view nameOf(ListKind kind); // "patients"
std::optional<ListKind> listNamed(std::string_view name);

struct ListColumn {
    std::string_view name;
    bool isNeeded = false;                        // has to stand in the head, with something in every row
    std::span<const std::string_view> words = {}; // all that a cell may hold, where it is a choice
};
std::span<const ListColumn> columnsOf(ListKind kind);
// A CSV with the heads alone, to be filled in.
std::string emptyList(ListKind kind);

// What belongs together of one row. Records that are not stored yet refer to each other by standing in one
// entry: the id of the patient, the catheter, the nurse or the item is set when it is written. `row` is the
// row as a spreadsheet numbers it: the head is 1.
struct PatientEntry {
    int row = 0;
    Patient patient;
    std::optional<Catheter> catheter;
    std::optional<DrainOrder> order;
    std::optional<VisitOrder> visits;
};
struct NurseEntry {
    int row = 0;
    Nurse nurse;
    std::vector<ShiftPattern> shifts;
};
struct ItemEntry {
    int row = 0;
    Item item;
    bool fitsAny = false; // said so: the connector is left empty on purpose
    std::optional<SupplierItem> offer;
};
struct CountEntry {
    int row = 0;
    std::optional<CatheterId> home; // none: the storeroom
    ItemId item;
    std::string lotNumber; // empty: nobody wrote it down
    std::optional<Date> expiresOn;
    Eaches quantity;
    Date on;
};

struct ReadList {
    ListKind kind = ListKind::Patients;
    std::vector<PatientEntry> patients;
    std::vector<NurseEntry> nurses;
    std::vector<ItemEntry> items;
    std::vector<CountEntry> counts;
    // In order of rows; of row 1 where it is about the head or the whole file. Conflict args:
    //   at "head"  {"list_column_unknown", name}, {"list_column_twice", name}, {"list_column_missing", name}
    //   at "code" and others, {"list_twice", what, row that has it first}
    //   at "referred_at" {"list_not_a_moment", text}
    //   at "site"  {"list_which_catheter", patient's code}
    //   at "item"  {"list_stock_known", item's code}
    //   at "row"   {"list_ragged", cells, cells of the head}
    // Missing, where a choice is asked for: {"list_choices", the words it may be}
    Problems faults;
};

// Rows without anything in them are passed over; they keep their numbers.
ReadList readList(ListKind kind, const CsvTable &table, const SnapshotIndex &agency);
// The same from the bytes of a file: comma or semicolon, UTF-8 with or without its mark. What cannot be read
// as a table is the one fault.
ReadList readListText(ListKind kind, std::string_view bytes, const SnapshotIndex &agency);

// What a record's check names, where the list has another name for it.
struct FieldColumn {
    std::string_view field;
    std::string_view column;
};

} // namespace kitround::exchange
