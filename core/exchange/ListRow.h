#pragma once
// One row of a list: its cells by the name of their column, read as what they should be. A cell that cannot
// be read is a fault with row and column, and reading goes on. Private to core/exchange.
#include "core/exchange/ListWords.h"
#include "core/exchange/Lists.h"

#include <array>
#include <initializer_list>
#include <iterator>
#include <map>
#include <set>
#include <unordered_map>

namespace kitround::exchange {

// "kit, bottle, dressing": what a cell of that choice may hold.
template <class E>
std::string choiceWords() {
    std::string all;
    for (const std::string_view word : kListWords<E>)
        all += (all.empty() ? "" : ", ") + std::string(word);
    return all;
}

// Where each column of the list stands; made once a table.
using ListHeads = std::map<std::string, std::size_t, std::less<>>;

// Lower case, blanks as underscores, nothing around it: how a choice is compared.
std::string asChoice(std::string_view text);
std::string trimmed(std::string_view text);

// By the code or name that lists use.
struct ListLookups {
    explicit ListLookups(const SnapshotIndex &agency);
    std::unordered_map<std::string, const Patient *> patients;
    std::unordered_map<std::string, const Nurse *> nurses;
    std::unordered_map<std::string, const Item *> items;
    std::unordered_map<std::string, const Supplier *> suppliers;
    std::unordered_map<std::string, const Payer *> payers;
};

class ListRow {
public:
    ListRow(const CsvTable &table, const ListHeads &heads, std::size_t index, Problems &faults)
        : cells_(&table.rows[index]), heads_(&heads), row_(static_cast<int>(index) + 2), faults_(&faults) {}

    int row() const { return row_; }
    std::string text(std::string_view column) const; // nothing around it; empty where there is no such cell
    bool has(std::string_view column) const { return !text(column).empty(); }
    bool hasAny(std::initializer_list<std::string_view> columns) const;
    std::string needed(std::string_view column); // Missing where it is empty
    std::optional<std::int64_t> number(std::string_view column);
    int smallNumber(std::string_view column, int preset); // far beyond any bound stays beyond it
    std::optional<double> real(std::string_view column);
    std::optional<Money> money(std::string_view column); // major units with at most two decimals
    std::optional<Date> date(std::string_view column);
    Date neededDate(std::string_view column);
    std::optional<Date> pastDate(std::string_view column, Date today); // not a day to come
    std::optional<Minutes> clock(std::string_view column);
    bool yes(std::string_view column, bool preset);
    std::vector<std::string> parts(std::string_view column) const; // between semicolons
    Address address();

    template <class E>
    std::optional<E> choice(std::string_view column) {
        const std::string word = text(column);
        return word.empty() ? std::nullopt : choiceIn<E>(column, word);
    }
    template <class E>
    E neededChoice(std::string_view column, E preset) {
        if (!has(column))
            fault(ProblemCode::Missing, column, {"list_choices", choiceWords<E>()});
        return choice<E>(column).value_or(preset);
    }
    template <class E>
    std::vector<E> choices(std::string_view column) {
        std::vector<E> read;
        for (const std::string &word : parts(column))
            if (const auto value = choiceIn<E>(column, word))
                read.push_back(*value);
        return read;
    }
    template <class E>
    std::optional<E> choiceIn(std::string_view column, const std::string &word) {
        const std::string wanted = asChoice(word);
        for (std::size_t i = 0; i < std::size(kListWords<E>); ++i)
            if (kListWords<E>[i] == wanted ||
                (kShortWord<E> != 0 && kListWords<E>[i].substr(0, kShortWord<E>) == wanted))
                return static_cast<E>(i);
        fault(ProblemCode::UnknownChoice, column, {word, choiceWords<E>()});
        return std::nullopt;
    }
    // The record with that code or name; UnknownRecord {what, code} where there is none.
    template <class Record>
    const Record *record(std::string_view column, const char *what,
                         const std::unordered_map<std::string, const Record *> &known) {
        const std::string code = text(column);
        if (code.empty())
            return nullptr;
        const auto found = known.find(code);
        if (found != known.end())
            return found->second;
        fault(ProblemCode::UnknownRecord, column, {what, code});
        return nullptr;
    }

    void fault(ProblemCode code, std::string_view column, std::vector<std::string> args = {});
    // A code that has to be new: Duplicate where it is on record, "list_twice" where an earlier row has it.
    void newCode(std::string_view column, const std::string &code, bool isOnRecord,
                 std::unordered_map<std::string, int> &seen);
    // What the record's own check says, at this row; not of cells that could not be read anyhow.
    void take(Problems found, std::initializer_list<FieldColumn> names = {});

private:
    const std::vector<std::string> *cells_;
    const ListHeads *heads_;
    int row_;
    Problems *faults_;
    std::set<std::string, std::less<>> faulty_; // columns
};

// What ListRow::address reads.
inline constexpr ListColumn kAddressColumns[] = {{"street"},
                                                 {"town"},
                                                 {"postal_code"},
                                                 {"access_notes"},
                                                 {"latitude"},
                                                 {"longitude"},
                                                 {"point_quality", false, kListWords<PointQuality>},
                                                 {"area", false, kListWords<AreaKind>}};
template <std::size_t... Counts>
constexpr auto joinedColumns(const ListColumn (&...parts)[Counts]) {
    std::array<ListColumn, (Counts + ...)> all{};
    std::size_t at = 0;
    const auto add = [&](std::span<const ListColumn> part) {
        for (const ListColumn &column : part)
            all[at++] = column;
    };
    (add(parts), ...);
    return all;
}

// The lists themselves, one file each.
std::span<const ListColumn> patientColumns();
std::span<const ListColumn> nurseColumns();
std::span<const ListColumn> itemColumns();
std::span<const ListColumn> countColumns();

struct ListWork { // what every row of one list is read with
    const SnapshotIndex &agency;
    const ListLookups known;
    ReadList &list;
    std::unordered_map<std::string, int> codes, others; // of rows before, with their row
};
void readPatientRow(ListWork &work, ListRow &row);
void readNurseRow(ListWork &work, ListRow &row);
void readItemRow(ListWork &work, ListRow &row);
void readCountRow(ListWork &work, ListRow &row);

} // namespace kitround::exchange
