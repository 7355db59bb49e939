#include "core/exchange/Lists.h"

#include "core/exchange/ListRow.h"

#include <algorithm>

namespace kitround::exchange {
namespace {

struct ListOf {
    ListKind kind;
    std::string_view name;
    std::span<const ListColumn> (*columns)();
    void (*readRow)(ListWork &, ListRow &);
};
constexpr ListOf kLists[] = {{ListKind::Patients, "patients", patientColumns, readPatientRow},
                             {ListKind::Nurses, "nurses", nurseColumns, readNurseRow},
                             {ListKind::Items, "items", itemColumns, readItemRow},
                             {ListKind::Counts, "counts", countColumns, readCountRow}};

const ListOf &listOf(ListKind kind) {
    return kLists[static_cast<std::size_t>(kind)];
}

Problem headFault(const char *word, const std::string &name, std::size_t place) {
    Problem fault;
    fault.code = ProblemCode::Conflict;
    fault.field = "head";
    fault.args = {word, name};
    fault.row = 1;
    fault.column = static_cast<int>(place);
    return fault;
}

// A column that holds nothing at all, head included, is what a spreadsheet leaves at the right.
bool isEmptyColumn(const CsvTable &table, std::size_t place) {
    return trimmed(table.head[place]).empty() && std::ranges::all_of(table.rows, [&](const auto &row) {
               return place >= row.size() || trimmed(row[place]).empty();
           });
}

ListHeads readHeads(const ListOf &list, const CsvTable &table, Problems &faults) {
    ListHeads heads;
    const auto columns = list.columns();
    for (std::size_t i = 0; i < table.head.size(); ++i) {
        const std::string name = asChoice(table.head[i]);
        if (name.empty() && isEmptyColumn(table, i))
            continue;
        if (std::ranges::find(columns, std::string_view(name), &ListColumn::name) == columns.end())
            faults.push_back(headFault("list_column_unknown", trimmed(table.head[i]), i + 1));
        else if (!heads.emplace(name, i).second)
            faults.push_back(headFault("list_column_twice", name, i + 1));
    }
    for (const ListColumn &column : columns)
        if (column.isNeeded && !heads.contains(column.name))
            faults.push_back(headFault("list_column_missing", std::string(column.name), 0));
    return heads;
}

bool isBlank(const std::vector<std::string> &cells) {
    return std::ranges::all_of(cells, [](const std::string &cell) { return trimmed(cell).empty(); });
}

void checkLength(const CsvTable &table, std::size_t index, ListRow &row) {
    const std::vector<std::string> &cells = table.rows[index];
    // Blank cells beyond the head, and cells that end early, are a spreadsheet's way of saving space.
    for (std::size_t i = table.head.size(); i < cells.size(); ++i)
        if (!trimmed(cells[i]).empty()) {
            row.fault(ProblemCode::Conflict, "row",
                      {"list_ragged", std::to_string(cells.size()), std::to_string(table.head.size())});
            return;
        }
}

} // namespace

std::string_view nameOf(ListKind kind) {
    return listOf(kind).name;
}

std::optional<ListKind> listNamed(std::string_view name) {
    for (const ListOf &list : kLists)
        if (list.name == name)
            return list.kind;
    return std::nullopt;
}

std::span<const ListColumn> columnsOf(ListKind kind) {
    return listOf(kind).columns();
}

std::string emptyList(ListKind kind) {
    CsvTable table;
    for (const ListColumn &column : columnsOf(kind))
        table.head.emplace_back(column.name);
    return "\xEF\xBB\xBF" + writeCsv(table); // the mark tells spreadsheets that it is UTF-8
}

ReadList readList(ListKind kind, const CsvTable &table, const SnapshotIndex &agency) {
    ReadList read;
    read.kind = kind;
    const ListOf &list = listOf(kind);
    const ListHeads heads = readHeads(list, table, read.faults);
    if (!read.faults.empty())
        return read; // the rows would be told as lacking what is only named otherwise
    ListWork work{agency, ListLookups(agency), read, {}, {}};
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        if (isBlank(table.rows[i]))
            continue;
        ListRow row(table, heads, i, read.faults);
        checkLength(table, i, row);
        list.readRow(work, row);
    }
    std::ranges::stable_sort(read.faults, {}, [](const Problem &p) { return std::pair(p.row, p.column); });
    return read;
}

ReadList readListText(ListKind kind, std::string_view bytes, const SnapshotIndex &agency) {
    CsvRead how;
    how.separator.reset();
    how.keepsRagged = true;
    const Result<CsvTable> table = readCsv(bytes, how);
    if (table)
        return readList(kind, *table, agency);
    ReadList failed;
    failed.kind = kind;
    failed.faults = flattened(table.error());
    return failed;
}

} // namespace kitround::exchange
